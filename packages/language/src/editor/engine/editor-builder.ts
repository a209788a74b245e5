import {
  DocumentState,
  Emitter,
  isOperationCancelled,
  type LangiumDocument,
  OperationCancelled,
  TextDocument,
  URI,
  UriUtils,
} from 'langium';
import type { TextDocuments } from 'langium/lsp';
import { CancellationToken, LSPErrorCodes, ResponseError } from 'vscode-languageserver-protocol';
import { FettleDocumentBuilder } from '../../workspace/document-builder.ts';
import { noSuchDocument } from './built-documents.ts';
import type { EngineServices } from './editor-services.ts';
import type { WorkspaceStartup } from './workspace-startup.ts';

/**
 * Builds for a client that goes on typing: a request is never answered from an older text than the client has, of whatever open file.
 */
export class EditorDocumentBuilder extends FettleDocumentBuilder {
  readonly #openTexts: TextDocuments<TextDocument>;
  readonly #startup: () => WorkspaceStartup;
  /** Open files, and files that were open, whose text is to be read: no build of it has begun. */
  readonly #unread = new Set<string>();
  /** What a build has begun to read is followed as far as to who is reached by it. */
  #areNamesKnown = true;
  readonly #namesKnown = new Emitter<void>();

  constructor(services: EngineServices) {
    super(services);
    this.#openTexts = services.workspace.TextDocuments;
    this.#startup = () => services.workspace.WorkspaceManager;
    const isToBeRead = ({ document }: { readonly document: TextDocument }) => {
      this.#unread.add(UriUtils.normalize(document.uri));
    };
    this.#openTexts.onDidChangeContent(isToBeRead);
    this.#openTexts.onDidClose(isToBeRead);
  }

  override async update(changed: URI[], deleted: URI[], cancellation = CancellationToken.None): Promise<void> {
    const readopted = changed.filter((uri) => this.#adopt(uri));
    this.#areNamesKnown = false;
    for (const uri of [...changed, ...deleted]) this.#unread.delete(UriUtils.normalize(uri));
    try {
      await super.update(changed, deleted, cancellation);
    } catch (error) {
      // The edit that came in the way goes on with it; nobody does after a defect.
      if (!isOperationCancelled(error)) this.namesAreKnown();
      throw error;
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

  protected override namesAreKnown(): void {
    this.#areNamesKnown = true;
    this.#namesKnown.fire();
  }

  protected override failed(document: LangiumDocument, error: Error): void {
    super.failed(document, error);
    console.error(`Internal error in ${document.uri.toString(true)}:`, error);
  }

  /** Who has waited for it leaves the list meanwhile: the framework would leave out the next. */
  protected override async emitUpdate(changed: URI[], deleted: URI[]): Promise<void> {
    await Promise.all([...this.updateListeners].map((listener) => listener(changed, deleted)));
  }

  // ---- waiting until a document, or all of them, are as far as a request needs ----

  protected override awaitDocumentState(state: DocumentState, uri: URI, cancellation: CancellationToken): Promise<URI> {
    const reached = (): boolean => {
      const document = this.langiumDocuments.getDocument(uri);
      if (document === undefined || document.state < state || !this.#isCurrent(document)) return false;
      // What is parsed rests on its own text; what its names represent on other files as well.
      return state < DocumentState.Linked || this.#isCaughtUp;
    };
    if (reached()) return Promise.resolve(uri);
    if (!this.#isExpected(uri)) return Promise.reject(noSuchDocument(uri));
    return this.#untilPhase(
      state,
      cancellation,
      (document) => (document === undefined || UriUtils.equals(document.uri, uri)) && reached(),
      (deleted) => deleted.some((other) => UriUtils.equals(other, uri)) || !this.#isExpected(uri),
    ).then(() => uri);
  }

  protected override async awaitBuilderState(state: DocumentState, cancellation: CancellationToken): Promise<void> {
    await this.#startup().complete;
    if (cancellation.isCancellationRequested) throw OperationCancelled;
    const reached = (): boolean =>
      this.#isCaughtUp &&
      [...this.unfinished].every((document) => document.state >= state) &&
      this.#openTexts.all().every((text) => {
        const document = this.langiumDocuments.getDocument(URI.parse(text.uri));
        return document !== undefined && this.#isCurrent(document);
      });
    if (!reached()) await this.#untilPhase(state, cancellation, reached, () => false);
  }

  /** One that was opened and closed before it was built never comes. */
  #isExpected(uri: URI): boolean {
    return this.langiumDocuments.hasDocument(uri) || this.#openTexts.get(uri) !== undefined;
  }

  #isCurrent(document: LangiumDocument): boolean {
    const live = this.#openTexts.get(document.uri);
    if (live === undefined) return true;
    // A file that is opened again may have its first version again.
    const { textDocument } = document;
    return live.version === textDocument.version && live.getText() === textDocument.getText();
  }

  /** No build has still to find out whom an edit reaches. */
  get #isCaughtUp(): boolean {
    return this.#areNamesKnown && this.#unread.size === 0;
  }

  #untilPhase(
    state: DocumentState,
    cancellation: CancellationToken,
    reached: (document?: LangiumDocument) => boolean,
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
        this.#namesKnown.event(() => {
          if (reached()) stop(resolve);
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
