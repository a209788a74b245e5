import { DocumentState, type LangiumDocument, OperationCancelled, TextDocument, URI, UriUtils } from 'langium';
import type { TextDocuments } from 'langium/lsp';
import { CancellationToken, LSPErrorCodes, ResponseError } from 'vscode-languageserver-protocol';
import { FettleDocumentBuilder } from '../../workspace/document-builder.ts';
import type { EngineServices } from './editor-services.ts';
import type { WorkspaceStartup } from './workspace-startup.ts';

/**
 * Builds for a client that goes on typing: a request is never answered from an older text than the client has.
 */
export class EditorDocumentBuilder extends FettleDocumentBuilder {
  readonly #openTexts: TextDocuments<TextDocument>;
  readonly #startup: () => WorkspaceStartup;

  constructor(services: EngineServices) {
    super(services);
    this.#openTexts = services.workspace.TextDocuments;
    this.#startup = () => services.workspace.WorkspaceManager;
  }

  override async update(changed: URI[], deleted: URI[], cancellation = CancellationToken.None): Promise<void> {
    const readopted = changed.filter((uri) => this.#adopt(uri));
    try {
      await super.update(changed, deleted, cancellation);
    } finally {
      // Although another edit came in the way: nobody else would report this version, and requests wait for it.
      for (const uri of readopted) {
        const document = this.langiumDocuments.getDocument(uri);
        if (document?.state === DocumentState.Validated) {
          await this.notifyDocumentPhase(document, DocumentState.Validated);
        }
      }
    }
  }

  /**
   * A file whose text is the one already built needs no new build, only the client's version number. Answers whether that was so.
   */
  #adopt(uri: URI): boolean {
    const live = this.#openTexts.get(uri);
    const document = this.langiumDocuments.getDocument(uri);
    if (live === undefined || document?.state !== DocumentState.Validated) return false;
    if (document.textDocument.getText() !== live.getText() || document.textDocument.version === live.version) {
      return false;
    }
    Object.defineProperty(document, 'textDocument', {
      value: TextDocument.create(live.uri, live.languageId, live.version, live.getText()),
      configurable: true,
    });
    return true;
  }

  protected override failed(document: LangiumDocument, error: Error): void {
    super.failed(document, error);
    console.error(`Internal error in ${document.uri.toString(true)}:`, error);
  }

  // ---- waiting until a document, or all of them, are as far as a request needs ----

  protected override awaitDocumentState(state: DocumentState, uri: URI, cancellation: CancellationToken): Promise<URI> {
    const reached = (): boolean => {
      const document = this.langiumDocuments.getDocument(uri);
      return document !== undefined && document.state >= state && this.#isCurrent(document);
    };
    if (reached()) return Promise.resolve(uri);
    if (!this.langiumDocuments.hasDocument(uri) && this.#openTexts.get(uri) === undefined) {
      return Promise.reject(new ResponseError(LSPErrorCodes.RequestFailed, `No such document: ${uri.toString(true)}`));
    }
    return this.#untilPhase(
      state,
      cancellation,
      (document) => UriUtils.equals(document.uri, uri) && reached(),
      (deleted) => deleted.some((other) => UriUtils.equals(other, uri)),
    ).then(() => uri);
  }

  protected override async awaitBuilderState(state: DocumentState, cancellation: CancellationToken): Promise<void> {
    await this.#startup().complete;
    if (cancellation.isCancellationRequested) throw OperationCancelled;
    const reached = (): boolean =>
      [...this.unfinished].every((document) => document.state >= state) &&
      this.#openTexts.all().every((text) => {
        const document = this.langiumDocuments.getDocument(URI.parse(text.uri));
        return document !== undefined && this.#isCurrent(document);
      });
    if (!reached()) await this.#untilPhase(state, cancellation, reached, () => false);
  }

  #isCurrent(document: LangiumDocument): boolean {
    const live = this.#openTexts.get(document.uri);
    return live === undefined || live.version === document.textDocument.version;
  }

  #untilPhase(
    state: DocumentState,
    cancellation: CancellationToken,
    reached: (document: LangiumDocument) => boolean,
    vanished: (deleted: readonly URI[]) => boolean,
  ): Promise<void> {
    return new Promise((resolve, reject) => {
      const stop = (settle: () => void): void => {
        for (const listener of listeners) {
          listener.dispose();
        }
        settle();
      };
      const listeners = [
        this.onDocumentPhase(state, (document) => {
          if (reached(document)) stop(resolve);
        }),
        this.onUpdate((_changed, deleted) => {
          if (vanished(deleted)) {
            stop(() => reject(new ResponseError(LSPErrorCodes.ContentModified, 'The document was deleted.')));
          }
        }),
        cancellation.onCancellationRequested(() => stop(() => reject(OperationCancelled))),
      ];
    });
  }
}
