/**
 * Refactorings as code actions: offered where every build stays what it is, and turned into edits when one is taken. One that reaches many
 * builds is judged only then, and refused with the reason where something would change.
 */
import { isOperationCancelled, type LangiumDocument, TextDocument, URI } from 'langium';
import type { CancellationToken } from 'vscode-languageserver';
import {
  type InitializeParams,
  LSPErrorCodes,
  ResourceOperationKind,
  ResponseError,
} from 'vscode-languageserver-protocol';
import {
  type CodeAction,
  CodeActionKind,
  type Command,
  type CreateFile,
  type Range,
  type TextDocumentEdit,
  TextEdit,
  type WorkspaceEdit,
} from 'vscode-languageserver-types';
import { fileDocument, fileOf } from '../../syntax/nodes.ts';
import type { EngineServices } from '../engine/editor-services.ts';
import { editsBetween } from '../formatting.ts';
import { rangeOf } from '../place-ranges.ts';
import { RENAME_AT } from '../requests/protocol.ts';
import { extractions } from './extract.ts';
import { inlinings } from './inlinings.ts';
import { whyJudgedOtherwise } from './judged-alike.ts';
import { moves } from './move.ts';
import { packOrders } from './pack-order.ts';
import type { Refactoring, RefactoringRequest, Rewriting } from './rewriting.ts';

/** What an offered action contains until it is taken. */
interface Offered {
  readonly uri: string;
  readonly version: number;
  readonly range: Range;
}

export const REFACTORING_KINDS = [
  CodeActionKind.RefactorExtract,
  CodeActionKind.RefactorInline,
  CodeActionKind.RefactorMove,
  CodeActionKind.RefactorRewrite,
];

/** A refactoring that more documents depend on is judged only when it is chosen. */
const MOST_JUDGED = 60;

export class Refactorings {
  readonly #shared: EngineServices;
  #resolves = false;
  #creates = false;

  constructor(shared: EngineServices) {
    this.#shared = shared;
    shared.lsp.LanguageServer.onInitialize(({ capabilities }: InitializeParams) => {
      const { codeAction } = capabilities.textDocument ?? {};
      const { workspaceEdit } = capabilities.workspace ?? {};
      this.#resolves =
        codeAction?.dataSupport === true && codeAction.resolveSupport?.properties.includes('edit') === true;
      this.#creates =
        workspaceEdit?.documentChanges === true &&
        workspaceEdit.resourceOperations?.includes(ResourceOperationKind.Create) === true;
    });
  }

  async offered(
    document: LangiumDocument,
    range: Range,
    isWanted: (kind: string) => boolean,
    cancellation: CancellationToken,
  ): Promise<CodeAction[]> {
    const actions: CodeAction[] = [];
    for (const refactoring of this.#at(document, range)) {
      if (!isWanted(refactoring.kind) || cancellation.isCancellationRequested) continue;
      if (this.#resolves && refactoring.isJudgedWhenTaken) {
        actions.push(this.#offer(refactoring, document, range));
        continue;
      }
      const rewriting = refactoring.make();
      if (!rewriting) continue;
      const isLong = this.#shared.workspace.IndexManager.dependentsOf(rewriting.texts.keys()).size > MOST_JUDGED;
      // A client that cannot resolve an action later gets only those that are judged now.
      if (isLong && !this.#resolves) continue;
      const isJudged = !this.#resolves || !isLong;
      if (isJudged && (await this.#problem(rewriting, cancellation)) !== undefined) continue;
      const { title, kind } = refactoring;
      actions.push(
        this.#resolves ? this.#offer(refactoring, document, range) : { title, kind, edit: this.#editOf(rewriting) },
      );
    }
    return actions;
  }

  /** To be turned into edits when it is taken. */
  #offer({ title, kind }: Refactoring, { uri, textDocument }: LangiumDocument, range: Range): CodeAction {
    const data: Offered = { uri: uri.toString(), version: textDocument.version, range };
    return { title, kind, data };
  }

  /** No edit is read while it is judged. */
  resolve(action: CodeAction, cancellation: CancellationToken): Promise<CodeAction> {
    return this.#shared.workspace.WorkspaceLock.read(() => this.#resolved(action, cancellation));
  }

  async #resolved(action: CodeAction, cancellation: CancellationToken): Promise<CodeAction> {
    if (action.edit !== undefined || !isOffered(action.data)) return action;
    const { uri, version, range } = action.data;
    const document = this.#shared.workspace.LangiumDocuments.getDocument(URI.parse(uri));
    if (document?.textDocument.version !== version)
      throw new ResponseError(
        LSPErrorCodes.ContentModified,
        'the text has changed since this was offered: request it again',
      );
    const refactoring = this.#at(document, range).find(
      ({ title, kind }) => title === action.title && kind === action.kind,
    );
    const rewriting = refactoring?.make();
    const problem = rewriting ? await this.#problem(rewriting, cancellation) : 'its text can no longer be taken apart';
    if (!rewriting || problem !== undefined)
      throw new ResponseError(
        LSPErrorCodes.RequestFailed,
        `${action.title}: not possible without a change of meaning; ${problem}`,
      );
    const naming = this.#namingOf(rewriting, document);
    return { ...action, edit: this.#editOf(rewriting), ...(naming && { command: naming }) };
  }

  #at(document: LangiumDocument, range: Range): Refactoring[] {
    const { lexerErrors, parserErrors } = document.parseResult;
    const isRead = lexerErrors.length + parserErrors.length + fileOf(document).strays.length === 0;
    if (!isRead || !this.#shared.workspace.WorkspaceManager.isComplete) return [];
    const asked: RefactoringRequest = {
      document: fileDocument(document),
      index: this.#shared.workspace.IndexManager,
      start: document.textDocument.offsetAt(range.start),
      end: document.textDocument.offsetAt(range.end),
    };
    return [...extractions(asked), ...inlinings(asked), ...moves(asked, this.#creates), ...packOrders(asked)];
  }

  async #problem(
    { texts, names, isComputed, judged }: Rewriting,
    cancellation: CancellationToken,
  ): Promise<string | undefined> {
    try {
      const judging = { names, ...(isComputed && { isComputed }), ...(judged && { judged }) };
      return await whyJudgedOtherwise({ shared: this.#shared }, texts, judging, cancellation);
    } catch (error) {
      if (isOperationCancelled(error)) throw new ResponseError(LSPErrorCodes.RequestCancelled, 'cancelled');
      throw error;
    }
  }

  /** Prompts for a name at the declaration, which is where the name is first written. */
  #namingOf({ named, texts }: Rewriting, { uri }: LangiumDocument): Command | undefined {
    const text = texts.get(uri.toString());
    const at = named === undefined ? -1 : (text?.indexOf(named) ?? -1);
    if (text === undefined || at < 0) return undefined;
    const position = TextDocument.create(uri.toString(), 'fettle', 0, text).positionAt(at);
    const place = { uri: this.#shared.workspace.TextDocuments.spellingOf(uri), position };
    return this.#shared.lsp.ClientCommands.command(RENAME_AT, `Name ${named}`, place);
  }

  #editOf({ texts, pieces, created }: Rewriting): WorkspaceEdit {
    const documentChanges = [...texts].flatMap(([file, after]): (CreateFile | TextDocumentEdit)[] => {
      if (file === created) return newFile(file, after);
      const { LangiumDocuments, TextDocuments } = this.#shared.workspace;
      const uri = URI.parse(file);
      const document = LangiumDocuments.getDocument(uri);
      const edits = document
        ? (pieces?.get(file)?.map(({ from, to, text }) => ({ range: rangeOf(document, from, to), newText: text })) ??
          editsBetween(document.textDocument.getText(), after))
        : [];
      const version = document ? TextDocuments.versionOf(document) : null;
      return edits.length === 0 ? [] : [{ textDocument: { uri: TextDocuments.spellingOf(uri), version }, edits }];
    });
    return { documentChanges };
  }
}

const newFile = (uri: string, text: string): (CreateFile | TextDocumentEdit)[] => [
  { kind: 'create', uri },
  { textDocument: { uri, version: null }, edits: [TextEdit.insert({ line: 0, character: 0 }, text)] },
];

const isOffered = (data: unknown): data is Offered =>
  typeof data === 'object' && data !== null && 'uri' in data && 'version' in data && 'range' in data;
