/**
 * A request is about the text that the client had when it sent it. Until the answer is made more letters may have come: places in it, and what
 * an edit replaces, are those of the requested text all the same, because the client applies what it typed meanwhile to them. What follows from
 * the letters before the cursor is computed from the requested text itself; an answer from a later text is refused, as the protocol provides.
 */
import { DocumentState, TextDocument, URI, UriUtils } from 'langium';
import type { Connection } from 'vscode-languageserver';
import { LSPErrorCodes, ResponseError } from 'vscode-languageserver-protocol';
import { type CodeAction, TextDocumentEdit, type WorkspaceEdit } from 'vscode-languageserver-types';
import { type AnyHandler, aroundHandlers } from './around-handlers.ts';
import type { EngineServices } from './editor-services.ts';

type Workspace = EngineServices['workspace'];

/** The text that a request which comes in now is about: a copy, because the client's own changes in place. */
export function textAsRequested(uri: string, { TextDocuments, LangiumDocuments }: Workspace): TextDocument | undefined {
  const live = TextDocuments.get(uri);
  if (live !== undefined) return TextDocument.create(live.uri, live.languageId, live.version, live.getText());
  const read = LangiumDocuments.getDocument(URI.parse(uri));
  return read && read.state >= DocumentState.Parsed ? read.textDocument : undefined;
}

/** Computed from the requested text, whatever was read since. */
const FROM_REQUESTED_TEXT: ReadonlySet<string> = new Set([
  'onCompletion',
  'onSignatureHelp',
  'onDocumentFormatting',
  'onDocumentRangeFormatting',
  'onDocumentOnTypeFormatting',
]);

/** Findings on request: the client is to request them again, where another error would clear what it shows. */
const PULLED = 'languages.diagnostics.on';

/** What reports something, and has no answer. */
const NOTIFICATION = /(?:^|\.)on(?:Did|WillSave|Initialized|Exit|Notification|Progress|UnhandledProgress)/;

/** The connection, with the requested text in the parameters of each request about a file, and its answer about no other text. */
export function withRequestedText(connection: Connection, { workspace }: EngineServices): Connection {
  return aroundHandlers(connection, {
    handler: (handler, name) => (NOTIFICATION.test(name) ? handler : answering(handler, name, workspace)),
  });
}

const answering =
  (handler: AnyHandler, name: string, workspace: Workspace): AnyHandler =>
  async (params, ...rest) => {
    const then = new TextsThen(workspace);
    const uri: unknown = params?.textDocument?.uri;
    if (typeof uri !== 'string') return then.refusing(await handler(params, ...rest));
    const isThatText = requestedOf(uri, workspace);
    const answer: unknown = await handler({ ...params, requestedText: textAsRequested(uri, workspace) }, ...rest);
    if (answer instanceof Error || FROM_REQUESTED_TEXT.has(name) || isThatText()) return then.refusing(answer);
    return name === PULLED ? pullAgain() : wentOn();
  };

/** Whether what is read later is the text that is requested now; a file that was not there is read for the first time. */
function requestedOf(uri: string, workspace: Workspace): () => boolean {
  const text = textAsRequested(uri, workspace)?.getText();
  return () => text === undefined || text === readNow(uri, workspace);
}

const readNow = (uri: string, { LangiumDocuments }: Workspace): string | undefined =>
  LangiumDocuments.getDocument(URI.parse(uri))?.textDocument.getText();

/** The answer, unless the text of this file is another one when it is there. */
export async function unlessTextWentOn<T>(uri: unknown, workspace: Workspace, answer: () => Promise<T>): Promise<T> {
  const isThatText = typeof uri === 'string' ? requestedOf(uri, workspace) : () => true;
  const answered = await answer();
  if (!isThatText()) throw wentOn();
  return answered;
}

const wentOn = (): ResponseError<void> =>
  new ResponseError(LSPErrorCodes.ContentModified, 'the text has changed since this was requested');

const pullAgain = (): ResponseError<{ retriggerRequest: boolean }> =>
  new ResponseError(LSPErrorCodes.ServerCancelled, wentOn().message, { retriggerRequest: true });

/** All that the client had open when it sent a request. */
class TextsThen {
  readonly #workspace: Workspace;
  readonly #texts: ReadonlyMap<string, string>;

  constructor(workspace: Workspace) {
    this.#workspace = workspace;
    this.#texts = new Map(
      workspace.TextDocuments.all().map((live) => [UriUtils.normalize(live.uri), live.getText()] as const),
    );
  }

  /** Edits of a file that state no version are of the text that the client had; those that state one the client compares itself. */
  refusing(answer: unknown): unknown {
    const hasGoneOn = (uri: string): boolean => {
      const then = this.#texts.get(UriUtils.normalize(uri));
      return then !== undefined && then !== readNow(uri, this.#workspace);
    };
    return editsIn(answer).flatMap(withoutVersion).some(hasGoneOn) ? wentOn() : answer;
  }
}

/** Of a request for edits, and of actions that contain them. */
function editsIn(answer: unknown): WorkspaceEdit[] {
  if (Array.isArray(answer)) return answer.flatMap(editsIn);
  const { changes, documentChanges, edit } = (answer ?? {}) as WorkspaceEdit & Pick<CodeAction, 'edit'>;
  return [{ ...(changes && { changes }), ...(documentChanges && { documentChanges }) }, ...(edit ? [edit] : [])];
}

const withoutVersion = ({ changes = {}, documentChanges = [] }: WorkspaceEdit): string[] => [
  ...Object.keys(changes),
  ...documentChanges
    .filter(TextDocumentEdit.is)
    .flatMap(({ textDocument: { uri, version } }) => (version === null ? uri : [])),
];
