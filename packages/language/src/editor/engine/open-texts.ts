import { type LangiumDocument, TextDocument, type URI, UriUtils } from 'langium';
import { NormalizedTextDocuments } from 'langium/lsp';
import type { Connection, Disposable } from 'vscode-languageserver';
import { FettleLanguageMetaData as LANGUAGE } from '../../grammar/generated/module.ts';

/** The client's open texts; those of other languages are files like any, read from the disk. They are kept under one spelling of their URI; the client is answered in its own. */
export class OpenTexts extends NormalizedTextDocuments<TextDocument> {
  readonly #spellings = new Map<string, string>();

  constructor() {
    super(TextDocument);
  }

  /** The URI as the client wrote it when it opened the file, or in the normal form. */
  spellingOf(uri: URI): string {
    const normal = UriUtils.normalize(uri);
    return this.#spellings.get(normal) ?? uri.toString();
  }

  /** Of an open file the version of the text that was read, to which places in it belong: the client may be further by now. */
  versionOf({ uri, textDocument }: LangiumDocument): number | null {
    return this.get(uri) === undefined ? null : textDocument.version;
  }

  override listen(connection: Connection): Disposable {
    const noting: Pick<Connection, 'onDidOpenTextDocument'> = {
      onDidOpenTextDocument: (handler) =>
        connection.onDidOpenTextDocument((params) => {
          const { uri, languageId } = params.textDocument;
          if (languageId !== LANGUAGE.languageId && !LANGUAGE.fileExtensions.some((end) => uri.endsWith(end))) return;
          this.#spellings.set(UriUtils.normalize(uri), uri);
          handler(params);
        }),
    };
    return super.listen(Object.assign(Object.create(connection), noting));
  }
}
