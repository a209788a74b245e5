import { GrammarUtils, type LangiumDocument, URI } from 'langium';
import type { CodeLensProvider } from 'langium/lsp';
import type { CodeLens, Range } from 'vscode-languageserver-types';
import type { Finding } from '../checks/finding.ts';
import type { PartNode } from '../grammar/generated/ast.ts';
import { isPartWord } from '../grammar/reserved-words.ts';
import type { Chosen } from '../report/decide/choice.ts';
import { severityWord } from '../report/present/report-words.ts';
import { buildsUsing } from '../resolve/builds-using.ts';
import type { FettleIndex } from '../resolve/name-index.ts';
import { fileOf } from '../syntax/nodes.ts';
import { partOfKindNamed } from '../trial/trial.ts';
import { membersOf } from '../units/lookup-table.ts';
import { plural } from '../vocabulary/phrasing.ts';
import type { Kind } from '../vocabulary/schema.ts';
import { ABOVE_HINTS, atLeast } from '../vocabulary/severities.ts';
import type { ClientCommands } from './client-commands.ts';
import type { Committed } from './committed/committed.ts';
import { sortedBySetting } from './diagnostics/shown-findings.ts';
import type { FindingsValidator } from './diagnostics/validator.ts';
import type { EditorServices, EngineServices } from './engine/editor-services.ts';
import type { Choices } from './requests/known-choices.ts';
import {
  ADD_MEASURED,
  COMPARE_COMMITTED,
  COMPARE_PACKS,
  OPEN_SHEET,
  SHOW_CHOICE,
  SHOW_STEPS,
  SHOW_USES,
  TRY_LINES,
} from './requests/protocol.ts';

/** The data of a lens of a part until it is resolved. */
interface UsedPart {
  readonly uri: string;
  readonly kind: Kind;
  readonly part: string;
}

/**
 * Above each build what was found, its sheet and its packs side by side where the client can show them, and what changed since the last
 * commit; above each part how many builds use it, counted when it comes into sight.
 */
export class FettleLenses implements CodeLensProvider {
  readonly #index: FettleIndex;
  readonly #documents: EngineServices['workspace']['LangiumDocuments'];
  readonly #client: ClientCommands;
  readonly #committed: Committed;
  readonly #choices: Choices;
  readonly #validator: FindingsValidator;
  readonly #configuration: EngineServices['workspace']['ConfigurationProvider'];

  constructor(services: EditorServices) {
    this.#index = services.shared.workspace.IndexManager;
    this.#documents = services.shared.workspace.LangiumDocuments;
    this.#client = services.shared.lsp.ClientCommands;
    this.#committed = services.shared.lsp.Committed;
    this.#choices = services.shared.lsp.Choices;
    this.#validator = services.validation.DocumentValidator;
    this.#configuration = services.shared.workspace.ConfigurationProvider;
  }

  provideCodeLens(document: LangiumDocument): CodeLens[] {
    return fileOf(document).parts.flatMap((part) => {
      const range = GrammarUtils.findNodeForProperty(part.$cstNode, 'name')?.range;
      if (range === undefined || part.name === undefined || part.kind === 'bench') return [];
      const data: UsedPart = { uri: document.uri.toString(), kind: part.kind, part: part.name };
      if (part.kind === 'shortlist') return this.#ofShortlist(document, part, range);
      return part.kind === 'build' ? this.#ofBuild(document, part, range) : [{ range, data }];
    });
  }

  /** Where the client has no view of uses the line only reports. */
  resolve(lens: CodeLens): CodeLens {
    // Complete as it was given; some clients request all.
    if (lens.command !== undefined) return lens;
    const { uri, kind, part: name }: { readonly [Member in keyof UsedPart]?: unknown } = membersOf(lens.data);
    const document = typeof uri === 'string' ? this.#documents.getDocument(URI.parse(uri)) : undefined;
    const isPart = typeof kind === 'string' && isPartWord(kind) && typeof name === 'string';
    const part = document && isPart ? partOfKindNamed(document, kind, name) : undefined;
    // The part may have gone meanwhile; the client then requests new lenses anyway.
    const builds = part === undefined ? 0 : buildsUsing(part, this.#index).length;
    const title = builds === 0 ? 'used by no build' : `used by ${plural(builds, 'build')}`;
    const requested = { uri, position: lens.range.start };
    const command = builds === 0 ? undefined : this.#client.command(SHOW_USES, title, requested);
    return { ...lens, command: command ?? { title, command: '' } };
  }

  #ofShortlist(document: LangiumDocument, { name = '' }: PartNode, range: Range): CodeLens[] {
    const asked = { uri: document.uri.toString(), shortlist: name };
    const chosen = this.#choices.last(asked.uri, name);
    const command = this.#client.command(SHOW_CHOICE, chosen ? passWords(chosen) : 'show candidates', asked);
    const better = chosen && betterWords(chosen);
    return [
      ...(command === undefined ? [] : [{ range, command }]),
      ...(better === undefined ? [] : [{ range, command: { title: better, command: '' } }]),
    ];
  }

  #ofBuild(document: LangiumDocument, build: PartNode, range: Range): CodeLens[] {
    const requested = { uri: document.uri.toString(), build: build.name };
    const sheet = this.#client.command(OPEN_SHEET, 'open build sheet', requested);
    const packCount = this.#validator.packCount(document, build.name ?? '');
    const packs = packCount > 1 ? this.#client.command(COMPARE_PACKS, 'compare packs', requested) : undefined;
    const measured = this.#client.command(ADD_MEASURED, 'add what I measured', requested);
    const tried = packCount > 0 ? this.#client.command(TRY_LINES, 'try…', requested) : undefined;
    const steps = packCount > 0 ? this.#client.command(SHOW_STEPS, 'what a step does', requested) : undefined;
    const change = build.name === undefined ? undefined : this.#committed.lineOf(document, build.name);
    const title = `since the last commit: ${change}`;
    const settings = this.#configuration.settingsOf(document.uri.toString());
    const about = sortedBySetting(findingsWithin(build, this.#validator.findingsIn(document)), settings);
    return [
      { range, command: { title: summaryOf(about.shown, about.off), command: '' } },
      ...(sheet === undefined ? [] : [{ range, command: sheet }]),
      ...(packs === undefined ? [] : [{ range, command: packs }]),
      ...(measured === undefined ? [] : [{ range, command: measured }]),
      ...(tried === undefined ? [] : [{ range, command: tried }]),
      ...(steps === undefined ? [] : [{ range, command: steps }]),
      ...(change === undefined
        ? []
        : [{ range, command: this.#client.command(COMPARE_COMMITTED, title, requested) ?? { title, command: '' } }]),
    ];
  }
}

const passWords = ({ passing, count }: Chosen): string => `${passing} of ${plural(count, 'candidate')} pass: show them`;

/** Where another choice is better in all that is preferred, beyond the ± of the differences. */
function betterWords({ surely, rows, build }: Chosen): string | undefined {
  const better = surely === undefined ? undefined : rows.find(({ rank }) => rank === surely);
  return better && `surely better than ${build} today: ${better.label}`;
}

/** About the build, or about the text between its braces. */
export function findingsWithin({ name, $cstNode }: PartNode, findings: readonly Finding[]): Finding[] {
  const [start, end] = [$cstNode?.offset ?? 0, $cstNode?.end ?? 0];
  return findings.filter(
    ({ build, place }) => build === name || (build === undefined && place.start >= start && place.start < end),
  );
}

/** What is off in the settings is no error here, and not hidden either. */
function summaryOf(findings: readonly Finding[], allOff: readonly Finding[]): string {
  const off = allOff.filter(({ severity }) => atLeast(severity, 'information')).length;
  const open = findings.filter(({ accepted }) => accepted === undefined);
  const counts = ABOVE_HINTS.flatMap((severity) => {
    const count = open.filter((finding) => finding.severity === severity).length;
    return count > 0 ? [plural(count, severityWord(severity))] : [];
  });
  const accepted = findings.length - open.length;
  return [
    ...(counts.length > 0 ? counts : [off > 0 ? 'no error, no warning shown' : 'no error, no warning']),
    ...(accepted > 0 ? [`${accepted} accepted`] : []),
    ...(off > 0 ? [`${off} off in the settings`] : []),
  ].join(', ');
}
