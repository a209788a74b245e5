import {
  type AstNode,
  DefaultDocumentBuilder,
  DocumentState,
  interruptAndCheck,
  isOperationCancelled,
  type LangiumDocument,
  type MaybePromise,
  OperationCancelled,
  TextDocument,
  URI,
  UriUtils,
} from 'langium';
import type { LangiumSharedServices } from 'langium/lsp';
import { CancellationToken, LSPErrorCodes, ResponseError } from 'vscode-languageserver-protocol';
import type { FettleIndex } from '../../model/references/index.ts';
import type { EngineServices } from './services.ts';
import { visibleDocuments } from './visible-documents.ts';

/**
 * Rebuilds what an edit touches and nothing else. Invariants:
 * - a document is in `pending` as long as its findings are not those of the present texts;
 * - when a document is pending, so is everything that depends on it, however far away;
 * - open documents, and what they need, come before all others.
 */
export class IncrementalDocumentBuilder extends DefaultDocumentBuilder {
  private readonly pending = new Set<LangiumDocument>();
  private readonly index: FettleIndex;

  private readonly openTexts: LangiumSharedServices['workspace']['TextDocuments'];

  constructor(services: EngineServices) {
    super(services);
    this.index = services.workspace.IndexManager;
    this.openTexts = services.workspace.TextDocuments;
    this.updateBuildOptions = { validation: true };
  }

  /** Makes a document known without reading it; it is read when its turn comes. */
  announce(uri: URI): void {
    if (this.langiumDocuments.hasDocument(uri)) {
      return;
    }
    const document = this.langiumDocumentFactory.fromModel<AstNode>({ $type: 'INVALID' }, uri);
    document.state = DocumentState.Changed;
    this.langiumDocuments.addDocument(document);
    this.pending.add(document);
  }

  override async update(changed: URI[], deleted: URI[], cancellation = CancellationToken.None): Promise<void> {
    this.currentState = DocumentState.Changed;
    const deletedUris = deleted.flatMap((uri) => this.forget(uri));
    const changedUris = (await Promise.all(changed.map((uri) => this.findChangedUris(uri)))).flat();
    for (const uri of changedUris) {
      this.announce(uri);
      const document = this.langiumDocuments.getDocument(uri);
      if (document !== undefined) {
        this.resetToState(document, DocumentState.Changed);
      }
    }
    this.resetAll(this.index.dependentsOf([...changedUris, ...deletedUris].map((uri) => uri.toString())));
    await this.emitUpdate(changedUris, deletedUris);
    await interruptAndCheck(cancellation);
    await this.buildPending(cancellation);
  }

  /**
   * An opened file whose text is the one already built needs no new build, only the client's version number.
   * Answers whether that was so.
   */
  adopt(text: TextDocument): boolean {
    const document = this.langiumDocuments.getDocument(URI.parse(text.uri));
    if (document?.state !== DocumentState.Validated || document.textDocument.getText() !== text.getText()) {
      return false;
    }
    Object.defineProperty(document, 'textDocument', {
      value: TextDocument.create(text.uri, text.languageId, text.version, text.getText()),
      configurable: true,
    });
    return true;
  }

  /** Builds everything that waits: first what open documents need, then the rest. */
  async buildPending(cancellation: CancellationToken): Promise<void> {
    const first = this.neededByOpenDocuments();
    if (first.length < this.pending.size) {
      await this.buildGroup(first, cancellation);
    }
    await this.buildGroup([...this.pending], cancellation);
  }

  private async buildGroup(group: LangiumDocument[], cancellation: CancellationToken): Promise<void> {
    this.currentState = DocumentState.Changed;
    await this.runCancelable(group, DocumentState.Parsed, cancellation, (document) =>
      this.langiumDocumentFactory.update(document, cancellation),
    );
    await this.runCancelable(group, DocumentState.IndexedContent, cancellation, (document) =>
      this.indexManager.updateContent(document, cancellation),
    );
    const all = new Set([...group, ...this.resetMentionsOfChangedNames()]);
    await this.buildDocuments(this.sortDocuments([...all]), this.updateBuildOptions, cancellation);
  }

  override resetToState<T extends AstNode>(document: LangiumDocument<T>, state: DocumentState): void {
    super.resetToState(document, state);
    if (state < DocumentState.Validated) {
      this.pending.add(document);
    }
  }

  /** Removes a file, or every file of a folder; what the client has open stays. */
  private forget(uri: URI): URI[] {
    return this.langiumDocuments.deleteDocuments(uri).flatMap((document) => {
      if (this.isOpen(document)) {
        this.langiumDocuments.addDocument(document);
        this.resetToState(document, DocumentState.Changed);
        return [];
      }
      this.cleanUpDeleted(document);
      this.pending.delete(document);
      return [document.uri];
    });
  }

  /** A name that came or went can resolve, break or make ambiguous what is written elsewhere. */
  private resetMentionsOfChangedNames(): LangiumDocument[] {
    const mentioning = this.index.mentioning(this.index.takeChangedNames());
    return this.resetAll(new Set([...mentioning, ...this.index.dependentsOf(mentioning)]));
  }

  private resetAll(uris: ReadonlySet<string>): LangiumDocument[] {
    const documents = [...uris].flatMap((uri) => this.langiumDocuments.getDocument(URI.parse(uri)) ?? []);
    for (const document of documents) {
      this.resetToState(document, DocumentState.ComputedScopes);
    }
    return documents;
  }

  private neededByOpenDocuments(): LangiumDocument[] {
    const needed = new Set<LangiumDocument>();
    const queue = [...this.pending].filter((document) => this.isOpen(document));
    for (let document = queue.pop(); document !== undefined; document = queue.pop()) {
      if (!needed.has(document)) {
        needed.add(document);
        queue.push(...visibleDocuments(document, this.langiumDocuments).filter((other) => this.pending.has(other)));
      }
    }
    return [...needed];
  }

  private isOpen(document: LangiumDocument): boolean {
    return this.textDocuments?.get(document.uri) !== undefined;
  }

  // ---- phases: one document that throws must not stop the others ----

  protected override runCancelable(
    documents: LangiumDocument[],
    target: DocumentState,
    cancellation: CancellationToken,
    callback: (document: LangiumDocument) => MaybePromise<unknown>,
  ): Promise<void> {
    return super.runCancelable(documents, target, cancellation, async (document) => {
      try {
        await callback(document);
      } catch (error) {
        if (isOperationCancelled(error)) {
          throw error;
        }
        console.error(`Internal error in ${document.uri.toString(true)}:`, error);
      }
    });
  }

  protected override shouldValidate(): boolean {
    return true;
  }

  protected override async validate(document: LangiumDocument, cancellation: CancellationToken): Promise<void> {
    const validator = this.serviceRegistry.getServices(document.uri).validation.DocumentValidator;
    document.diagnostics = await validator.validateDocument(document, {}, cancellation);
  }

  protected override markAsCompleted(document: LangiumDocument): void {
    super.markAsCompleted(document);
    this.pending.delete(document);
  }

  // ---- waiting: a request must never be answered from an older text than the client has ----

  protected override awaitDocumentState(state: DocumentState, uri: URI, cancellation: CancellationToken): Promise<URI> {
    const reached = (): boolean => {
      const document = this.langiumDocuments.getDocument(uri);
      return document !== undefined && document.state >= state && this.isCurrent(document);
    };
    if (reached()) {
      return Promise.resolve(uri);
    }
    if (!this.langiumDocuments.hasDocument(uri) && this.textDocuments?.get(uri) === undefined) {
      return Promise.reject(new ResponseError(LSPErrorCodes.RequestFailed, `No such document: ${uri.toString(true)}`));
    }
    return this.untilPhase(
      state,
      cancellation,
      (document) => UriUtils.equals(document.uri, uri) && reached(),
      (deleted) => deleted.some((other) => UriUtils.equals(other, uri)),
    ).then(() => uri);
  }

  protected override awaitBuilderState(state: DocumentState, cancellation: CancellationToken): Promise<void> {
    const reached = (): boolean =>
      [...this.pending].every((document) => document.state >= state) &&
      this.openTexts.all().every((text) => {
        const document = this.langiumDocuments.getDocument(URI.parse(text.uri));
        return document !== undefined && this.isCurrent(document);
      });
    return reached() ? Promise.resolve() : this.untilPhase(state, cancellation, reached, () => false);
  }

  private isCurrent(document: LangiumDocument): boolean {
    const live = this.textDocuments?.get(document.uri);
    return live === undefined || live.version === document.textDocument.version;
  }

  private untilPhase(
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
          if (reached(document)) {
            stop(resolve);
          }
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
