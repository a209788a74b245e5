/**
 * A request is about the text that the client had when it sent it. Until the answer is made more letters may have come: places in it, and what
 * an edit replaces, are those of the requested text all the same, because the client applies what it typed meanwhile to them.
 */
import { type LangiumDocument, TextDocument } from 'langium';
import type { Connection } from 'vscode-languageserver';
import type { TextDocumentIdentifier } from 'vscode-languageserver-types';
import type { OpenTexts } from './open-texts.ts';

/** What the parameters of such a request have besides. */
interface Requested {
  /** Undefined where the client has not opened the file. */
  readonly requestedText?: TextDocument | undefined;
}

export const requestedText = (document: LangiumDocument, params: object & Requested): TextDocument =>
  params.requestedText ?? document.textDocument;

/** The connection, with the text in the parameters of each request that is answered with edits of the open file. */
export function withRequestedText(connection: Connection, texts: OpenTexts): Connection {
  const requested = <Params extends { textDocument: TextDocumentIdentifier }>(params: Params): Params & Requested => {
    const live = texts.get(params.textDocument.uri);
    const requestedText = live && TextDocument.create(live.uri, live.languageId, live.version, live.getText());
    return { ...params, requestedText };
  };
  const onCompletion: Connection['onCompletion'] = (handler) =>
    connection.onCompletion((params, ...rest) => handler(requested(params), ...rest));
  const onDocumentFormatting: Connection['onDocumentFormatting'] = (handler) =>
    connection.onDocumentFormatting((params, ...rest) => handler(requested(params), ...rest));
  const onDocumentRangeFormatting: Connection['onDocumentRangeFormatting'] = (handler) =>
    connection.onDocumentRangeFormatting((params, ...rest) => handler(requested(params), ...rest));
  const onDocumentOnTypeFormatting: Connection['onDocumentOnTypeFormatting'] = (handler) =>
    connection.onDocumentOnTypeFormatting((params, ...rest) => handler(requested(params), ...rest));
  return Object.create(connection, {
    onCompletion: { value: onCompletion },
    onDocumentFormatting: { value: onDocumentFormatting },
    onDocumentRangeFormatting: { value: onDocumentRangeFormatting },
    onDocumentOnTypeFormatting: { value: onDocumentOnTypeFormatting },
  });
}
