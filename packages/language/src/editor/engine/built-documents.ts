import { DefaultLangiumDocuments, type LangiumDocument, type URI } from 'langium';
import { LSPErrorCodes, ResponseError } from 'vscode-languageserver-protocol';

/**
 * Documents come into being when they are built, and a request makes none: of a file that went while it waited, one that nobody builds would
 * be left, or reading it would fail.
 */
export class BuiltDocuments extends DefaultLangiumDocuments {
  override async getOrCreateDocument(uri: URI): Promise<LangiumDocument> {
    const document = this.getDocument(uri);
    if (document === undefined) throw noSuchDocument(uri);
    return document;
  }
}

export const noSuchDocument = (uri: URI): ResponseError<void> =>
  new ResponseError(LSPErrorCodes.RequestFailed, `No such document: ${uri.toString(true)}`);
