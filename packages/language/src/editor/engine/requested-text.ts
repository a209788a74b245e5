import type { LangiumDocument, TextDocument } from 'langium';

/** What the parameters of a request have besides. */
interface Requested {
  /** Undefined where neither the client nor the server has read the file. */
  readonly requestedText?: TextDocument | undefined;
}

export const requestedText = (document: LangiumDocument, params: object & Requested): TextDocument =>
  params.requestedText ?? document.textDocument;
