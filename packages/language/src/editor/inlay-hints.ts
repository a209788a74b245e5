import type { LangiumDocument, LangiumDocuments } from 'langium';
import type { InlayHintProvider } from 'langium/lsp';
import type { InlayHintParams } from 'vscode-languageserver-protocol';
import type { InlayHint, InlayHintLabelPart, Location } from 'vscode-languageserver-types';
import type { Assessment, Result } from '../analysis/assessment.ts';
import { verdictOn } from '../analysis/decide/pack-grams.ts';
import { expanded } from '../analysis/uncertainty/estimate.ts';
import { formatEstimate } from '../analysis/uncertainty/print-estimate.ts';
import { leading } from '../analysis/uncertainty/sensitivity.ts';
import { type CheckedBuild, checkDocument } from '../checks/run.ts';
import { readDocument } from '../checks/text/read-document.ts';
import { isPropertyNode, isRequire, type PartNode, type Require } from '../grammar/generated/ast.ts';
import { verdictText, wordsOfVerdict } from '../report/present/requirement-verdicts.ts';
import { LIBRARY_SCHEME } from '../resolve/keys.ts';
import { aliasOf } from '../syntax/clauses.ts';
import { nameOf } from '../syntax/entries.ts';
import { fileDocument, fileOf } from '../syntax/nodes.ts';
import type { Place } from '../syntax/place.ts';
import { formatShare, formatWithin } from '../units/print.ts';
import { HEADLINES } from '../vocabulary/headlines.ts';
import type { ClientConfiguration } from './engine/configuration.ts';
import type { EditorServices } from './engine/editor-services.ts';
import { type FolderSettings, preferredUnit } from './engine/folder-settings.ts';
import { requirementAt } from './hover/requirement-hover.ts';
import { documentOfPlace, rangeOf } from './place-ranges.ts';

const BETWEEN_RESULTS = ' · ';
const BETWEEN_VERDICTS = ' / ';

/**
 * Behind each `pack:` line how the craft flies on it, behind each `require` whether it holds. Each piece leads to the pack that it is about,
 * and states at the pointer how far it is known and on what that rests.
 */
export class FettleInlayHints implements InlayHintProvider {
  readonly #documents: LangiumDocuments;
  readonly #configuration: ClientConfiguration;

  constructor(services: EditorServices) {
    this.#documents = services.shared.workspace.LangiumDocuments;
    this.#configuration = services.shared.workspace.ConfigurationProvider;
  }

  getInlayHints(document: LangiumDocument, { range }: InlayHintParams): InlayHint[] {
    const settings = this.#configuration.settingsOf(document.uri.toString());
    const shown = settings.hints;
    if (!shown.packs && !shown.requirements) return [];
    const { builds } = checkDocument(readDocument(fileDocument(document)));
    return fileOf(document)
      .parts.flatMap((part) => {
        const checked = builds.find(({ build }) => build.name === part.name);
        return part.kind === 'build' && checked !== undefined ? this.#hintsOf(part, checked, settings) : [];
      })
      .filter(({ position }) => position.line >= range.start.line && position.line <= range.end.line);
  }

  #hintsOf(part: PartNode, checked: CheckedBuild, settings: FolderSettings): InlayHint[] {
    const shown = settings.hints;
    return part.lines.flatMap((line): InlayHint[] => {
      const position = line.$cstNode?.range.end;
      const isPack = shown.packs && isPropertyNode(line) && line.key === 'pack';
      const label = isPack
        ? this.#packLabel(aliasOf(line) ?? nameOf(line), checked, settings)
        : shown.requirements && isRequire(line)
          ? this.#requirementLabel(line, checked)
          : [];
      return position === undefined || label.length === 0 ? [] : [{ position, label, paddingLeft: true }];
    });
  }

  /** Each result leads to the pack as it is declared. */
  #packLabel(name: string, { assessments }: CheckedBuild, settings: FolderSettings): InlayHintLabelPart[] {
    const assessment = assessments.find(({ option }) => option.name === name);
    if (assessment === undefined) return [];
    const location = this.#locationOf(assessment.option.part.place);
    const results = HEADLINES.inlay.flatMap((name) => {
      const result = assessment.results.get(name);
      return result ? [{ ...result, unit: preferredUnit(result.unit, settings) }] : [];
    });
    const parts = results.map((result) => ({
      value: short(result),
      tooltip: basisOf(result, assessment),
      ...(location && { location }),
    }));
    return between(parts, BETWEEN_RESULTS);
  }

  /** The verdict, once when all packs agree; it leads to the first pack that it is about. */
  #requirementLabel(node: Require, checked: CheckedBuild): InlayHintLabelPart[] {
    const requirement = requirementAt(node, checked);
    if (requirement === undefined) return [];
    const verdicts = checked.assessments
      .filter(({ option }) => (requirement.pack ?? option.name) === option.name)
      .map((assessment) => ({ option: assessment.option, verdict: verdictOn(requirement, assessment) }));
    const words = [...new Set(verdicts.map(({ verdict }) => verdictText(verdict)))];
    const parts = words.map((value): InlayHintLabelPart => {
      const about = verdicts.filter(({ verdict }) => verdictText(verdict) === value);
      const location = about[0] && this.#locationOf(about[0].option.place);
      const lines = about.map(({ option, verdict }) => `on ${option.name}: ${wordsOfVerdict(verdict).join('; ')}`);
      return { value, tooltip: lines.join('\n'), ...(location && { location }) };
    });
    return between(parts, BETWEEN_VERDICTS);
  }

  /** The shipped parts are in no file that a client could open. */
  #locationOf(place: Place): Location | undefined {
    const document = place.uri.startsWith(`${LIBRARY_SCHEME}:`) ? undefined : documentOfPlace(place, this.#documents);
    return document && { uri: place.uri, range: rangeOf(document, place.start, place.end) };
  }
}

/** A hint is read at a glance; the ± is in its tooltip. */
function short({ name, estimate, unit }: Result): string {
  return formatWithin(estimate.value, expanded(estimate), unit) + (name === 'thrust_to_weight' ? ' x weight' : '');
}

/** How far it is known, and which figure that rests on most. */
function basisOf({ label, estimate, unit }: Result, assessment: Assessment): string {
  const [most] = leading(estimate, assessment.inputs, 1);
  const basis = most && `\n± mostly from: ${most.input.label} (${formatShare(most.share)})`;
  return `${label} with ${assessment.option.name}: ${formatEstimate(estimate, unit)}${basis ?? ''}`;
}

const between = (parts: readonly InlayHintLabelPart[], value: string): InlayHintLabelPart[] =>
  parts.flatMap((part, index) => (index === 0 ? [part] : [{ value }, part]));
