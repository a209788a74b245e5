import { type LangiumDocument, type LangiumDocuments, URI, UriUtils } from 'langium';
import type { CodeActionProvider } from 'langium/lsp';
import { CancellationToken, type CodeActionParams } from 'vscode-languageserver-protocol';
import {
  type CodeAction,
  CodeActionKind,
  CodeActionTriggerKind,
  type Diagnostic,
  type Range,
  type SnippetTextEdit,
  StringValue,
  type TextEdit,
} from 'vscode-languageserver-types';
import { dutyCures } from '../checks/duty-cure.ts';
import type { Finding, Fix } from '../checks/finding.ts';
import { checkDocument } from '../checks/run.ts';
import { isDutyFix } from '../checks/shared/duty.ts';
import { soundFixes } from '../checks/sound-fixes.ts';
import { readDocument } from '../checks/text/read-document.ts';
import type { Build } from '../model/build.ts';
import { writtenDay } from '../model/days.ts';
import type { FettleIndex } from '../resolve/name-index.ts';
import { fileDocument, fileOf } from '../syntax/nodes.ts';
import { CannotChoose } from '../trial/candidates.ts';
import { upperFirst } from '../vocabulary/phrasing.ts';
import { acceptingOf } from './accept-actions.ts';
import type { ClientCommands } from './client-commands.ts';
import { escapeSnippet } from './completion/offer.ts';
import type { ClientForm } from './diagnostics/client-form.ts';
import { toDiagnostic } from './diagnostics/convert.ts';
import type { FindingsValidator } from './diagnostics/validator.ts';
import type { EditorServices, EngineServices } from './engine/editor-services.ts';
import { inOtherUnits, measuredToday, missingLines } from './line-actions.ts';
import { documentOfPlace, toTextEdits } from './place-ranges.ts';
import { REFACTORING_KINDS, Refactorings } from './refactor/refactoring-offers.ts';
import type { Choices } from './requests/known-choices.ts';
import { takingOf } from './requests/take-row.ts';
import { tryActions } from './try-actions.ts';

/** More than these nobody reads in a list. */
const MOST_TAKINGS = 5;

export const CODE_ACTION_KINDS = [CodeActionKind.QuickFix, ...REFACTORING_KINDS, CodeActionKind.SourceFixAll];

/** Offers the fixes that findings bring along, one by one, for all findings of a kind, and for the whole file; duty limits; acceptances. */
export class FettleCodeActions implements CodeActionProvider {
  readonly #documents: LangiumDocuments;
  readonly #openTexts: EngineServices['workspace']['TextDocuments'];
  readonly #validator: FindingsValidator;
  readonly #index: FettleIndex;
  readonly #client: ClientCommands;
  readonly #choices: Choices;
  readonly #form: ClientForm;
  readonly #refactorings: Refactorings;
  readonly #cures = new WeakMap<Finding, Fix[]>();
  #snippets = false;
  #showsDisabled = false;

  constructor(services: EditorServices) {
    this.#documents = services.shared.workspace.LangiumDocuments;
    this.#openTexts = services.shared.workspace.TextDocuments;
    this.#validator = services.validation.DocumentValidator;
    this.#index = services.shared.workspace.IndexManager;
    this.#client = services.shared.lsp.ClientCommands;
    this.#choices = services.shared.lsp.Choices;
    this.#form = services.shared.lsp.ClientForm;
    this.#refactorings = new Refactorings(services.shared);
    services.shared.lsp.LanguageServer.onInitialize((params) => {
      this.#showsDisabled = params.capabilities.textDocument?.codeAction?.disabledSupport === true;
      this.#snippets = params.capabilities.workspace?.workspaceEdit?.snippetEditSupport === true;
    });
  }

  async getCodeActions(
    document: LangiumDocument,
    params: CodeActionParams,
    cancellation = CancellationToken.None,
  ): Promise<CodeAction[]> {
    const wanted = params.context.only ?? asked(params.context.triggerKind);
    const findings = this.#validator.findingsIn(document);
    return [
      ...(requests(wanted, CodeActionKind.QuickFix) ? this.#takings(document, params.range) : []),
      ...(requests(wanted, CodeActionKind.QuickFix) ? this.#quickFixes(document, params.range, findings) : []),
      ...(requests(wanted, CodeActionKind.RefactorRewrite) ? this.#rewritings(document, params.range) : []),
      ...(await this.#refactorings.offered(document, params.range, (kind) => requests(wanted, kind), cancellation)),
      ...(requests(wanted, CodeActionKind.SourceFixAll) ? this.#fixAll(document, findings) : []),
    ];
  }

  /** The edits of a refactoring, when it is taken. */
  resolve(action: CodeAction, cancellation = CancellationToken.None): Promise<CodeAction> {
    return this.#refactorings.resolve(action, cancellation);
  }

  /** Rows of a shortlist whose candidates were shown, as long as its text is the one they were found in. */
  #takings(document: LangiumDocument, range: Range): CodeAction[] {
    return fileOf(document).parts.flatMap((part) => {
      const lines = part.$cstNode?.range;
      if (part.kind !== 'shortlist' || part.name === undefined || !lines || !touches(lines, range)) return [];
      const chosen = this.#choices.last(document.uri.toString(), part.name);
      return (chosen?.rows ?? []).slice(0, MOST_TAKINGS).flatMap((row): CodeAction[] => {
        try {
          const taking = takingOf(part, row);
          if (!taking || taking.edits.length === 0) return [];
          const { title, home, edits } = taking;
          const documentChanges = [{ textDocument: this.#versioned(home), edits: [...edits] }];
          return [{ title, kind: CodeActionKind.QuickFix, edit: { documentChanges } }];
        } catch (error) {
          // What is in no file yet cannot be taken.
          if (error instanceof CannotChoose) return [];
          throw error;
        }
      });
    });
  }

  #rewritings(document: LangiumDocument, range: Range): CodeAction[] {
    const file = fileDocument(document);
    const offset = document.textDocument.offsetAt(range.start);
    const measured = measuredToday(file, offset, writtenDay(new Date()));
    const tries = tryActions(file, offset, this.#index, this.#client);
    const rewritten = [...missingLines(file, offset, this.#snippets), ...measured, ...inOtherUnits(file, offset)].map(
      ({ title, edits }): CodeAction => ({
        title,
        kind: CodeActionKind.RefactorRewrite,
        edit: { documentChanges: [{ textDocument: this.#versioned(document), edits: [...edits] }] },
      }),
    );
    return [...rewritten, ...tries];
  }

  #quickFixes(document: LangiumDocument, range: Range, findings: readonly Finding[]): CodeAction[] {
    const actions: CodeAction[] = [];
    for (const finding of findings) {
      const diagnostic = this.#form.of(toDiagnostic(finding, document, this.#documents));
      if (touches(diagnostic.range, range)) {
        actions.push(
          ...this.#fixesOf(document, finding).map((fix, index, fixes) =>
            // Of several ways none is the one to take without a request; of duty limits on several packs, the worst one's.
            this.#quickFix(document, fix, diagnostic, index === 0 && (fixes.length === 1 || finding.fixes.length <= 1)),
          ),
          ...this.#fixAllOfKind(document, finding, diagnostic, findings),
          ...this.#accepting(document, finding, diagnostic),
        );
      }
    }
    return actions;
  }

  /** What is written into another file, as into the build that this one is like, is named: it reaches all that use it. */
  #quickFix(document: LangiumDocument, fix: Fix, diagnostic: Diagnostic, isPreferred: boolean): CodeAction {
    const other = fix.edits.find(({ place }) => place.uri !== document.uri.toString());
    const where = other === undefined ? '' : ` (in ${UriUtils.basename(URI.parse(other.place.uri))})`;
    return {
      title: `${upperFirst(fix.title)}${where}`,
      kind: CodeActionKind.QuickFix,
      diagnostics: [diagnostic],
      ...(fix.edits.length > 0
        ? { isPreferred, edit: this.#workspaceEdit(fix.edits) }
        : { disabled: { reason: 'no change of this file resolves it without leaving too little thrust' } }),
    };
  }

  /** Those that hold when computed through; where a finding brings none, duty limits are searched for, once. */
  #fixesOf(document: LangiumDocument, finding: Finding): readonly Fix[] {
    if (finding.build === undefined) return finding.fixes;
    const { builds } = checkDocument(readDocument(fileDocument(document)));
    const build = builds.find((candidate) => candidate.build.name === finding.build)?.build;
    const sound = soundFixes(finding, build).filter(({ edits }) => edits.length > 0 || this.#showsDisabled);
    return finding.fixes.some(isDutyFix) ? sound : [...sound, ...this.#curesOf(build, finding)];
  }

  #curesOf(build: Build | undefined, finding: Finding): Fix[] {
    const known = this.#cures.get(finding);
    if (known !== undefined) return known;
    const isMeant = build !== undefined && finding.accepted === undefined && finding.severity !== 'hint';
    const cures = isMeant ? dutyCures(build, finding) : [];
    this.#cures.set(finding, cures);
    return cures;
  }

  #accepting(document: LangiumDocument, finding: Finding, diagnostic: Diagnostic): CodeAction[] {
    const accepting = acceptingOf(document, finding);
    if (accepting === undefined) return [];
    const { title, range, before, after } = accepting;
    const edit: TextEdit | SnippetTextEdit =
      this.#snippets && after !== undefined
        ? { range, snippet: StringValue.createSnippet(`${escapeSnippet(before)}$0${escapeSnippet(after)}`) }
        : { range, newText: before + (after ?? '') };
    const documentChanges = [{ textDocument: this.#versioned(document), edits: [edit] }];
    return [{ title, kind: CodeActionKind.QuickFix, diagnostics: [diagnostic], edit: { documentChanges } }];
  }

  /** Offered when the same finding is in several places of the file. */
  #fixAllOfKind(
    document: LangiumDocument,
    finding: Finding,
    diagnostic: Diagnostic,
    findings: readonly Finding[],
  ): CodeAction[] {
    const fixes = this.#fixesOf(document, finding);
    if (fixes.length !== 1 || findings.filter(({ id }) => id === finding.id).length < 2) return [];
    const alike = findings.flatMap((other) => {
      const own = other.id === finding.id ? this.#fixesOf(document, other) : [];
      return own.length === 1 && own.every(({ edits }) => edits.length > 0) ? [{ ...other, fixes: own }] : [];
    });
    if (alike.length < 2) return [];
    return [
      {
        title: `Fix all ${alike.length} of this kind in this file`,
        kind: CodeActionKind.QuickFix,
        diagnostics: [diagnostic],
        edit: this.#workspaceEdit(withoutOverlaps(document, alike)),
      },
    ];
  }

  /** What is certain, within this file. Editors run this on saving: nothing is guessed, and nothing stated is lost. */
  #fixAll(document: LangiumDocument, findings: readonly Finding[]): CodeAction[] {
    const edits = withoutOverlaps(
      document,
      findings.filter(({ fixes }) => fixes.length === 1 && fixes[0]?.isCertain),
    );
    return edits.length === 0
      ? []
      : [{ title: 'Fix all certain cases', kind: CodeActionKind.SourceFixAll, edit: this.#workspaceEdit(edits) }];
  }

  /** With the versions the edits were made for, so that a client can refuse them when the text went on. */
  #workspaceEdit(edits: Fix['edits']): NonNullable<CodeAction['edit']> {
    const byDocument = new Map<LangiumDocument, TextEdit[]>();
    for (const edit of edits) {
      const document = documentOfPlace(edit.place, this.#documents);
      if (document !== undefined) {
        byDocument.set(document, [...(byDocument.get(document) ?? []), ...toTextEdits([edit], document)]);
      }
    }
    const documentChanges = [...byDocument].map(([document, edits]) => ({
      textDocument: this.#versioned(document),
      edits,
    }));
    return { documentChanges };
  }

  #versioned(document: LangiumDocument): { uri: string; version: number | null } {
    return { uri: document.uri.toString(), version: this.#openTexts.versionOf(document) };
  }
}

function withoutOverlaps(document: LangiumDocument, findings: readonly Finding[]): Fix['edits'] {
  const uri = document.uri.toString();
  const taken: Fix['edits'][number][] = [];
  for (const { fixes } of findings) {
    const edits = fixes[0]?.edits ?? [];
    const isFree = edits.every(
      ({ place }) =>
        place.uri === uri && taken.every((other) => place.end < other.place.start || place.start > other.place.end),
    );
    if (isFree) taken.push(...edits);
  }
  return taken;
}

/** While the cursor only moves, no change is offered of what is right. */
const asked = (trigger: CodeActionTriggerKind | undefined): string[] => [
  CodeActionKind.QuickFix,
  ...(trigger === CodeActionTriggerKind.Invoked ? [CodeActionKind.Refactor] : []),
];

/** Kinds are paths: who requests `source` gets `source.fixAll` too. */
function requests(wanted: readonly string[], kind: string): boolean {
  return wanted.some((requested) => requested === '' || kind === requested || kind.startsWith(`${requested}.`));
}

function touches(left: Range, right: Range): boolean {
  return !isBefore(left.end, right.start) && !isBefore(right.end, left.start);
}

function isBefore(left: Range['start'], right: Range['start']): boolean {
  return left.line < right.line || (left.line === right.line && left.character < right.character);
}
