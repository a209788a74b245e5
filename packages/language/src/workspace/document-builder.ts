/**
 * Builds documents, and after an edit exactly those that the edit can reach: documents that refer to a changed one, through however many others,
 * and documents that mention a name which came or went.
 */

import {
  type AstNode,
  type BuildOptions,
  Cancellation,
  DefaultDocumentBuilder,
  DocumentState,
  interruptAndCheck,
  isOperationCancelled,
  type LangiumDocument,
  type LangiumSharedCoreServices,
  type MaybePromise,
  URI,
} from 'langium';
import { keyOf, LIBRARY_FOLDER, LIBRARY_SCHEME } from '../resolve/keys.ts';
import { FettleLinker } from '../resolve/linker.ts';
import type { FettleIndex } from '../resolve/name-index.ts';
import { defectMessage } from '../syntax/defects.ts';
import { asError } from '../syntax/thrown.ts';
import { LIBRARY } from './generated/library.ts';
import type { Loader } from './loader.ts';

type Needed = LangiumSharedCoreServices & {
  readonly workspace: { readonly Loader: Loader; readonly IndexManager: FettleIndex };
};

/** How many documents went through each step since the last edit (or build) began. */
export interface BuilderWork {
  readonly parsed: number;
  readonly linked: number;
  readonly validated: number;
}

export class FettleDocumentBuilder extends DefaultDocumentBuilder {
  // All checks, always: the framework's default leaves out categories when it runs again.
  override updateBuildOptions: BuildOptions = { validation: true };

  declare protected readonly indexManager: FettleIndex;
  readonly #loader: Loader;
  /** Documents that are not yet built to the end. */
  protected readonly unfinished = new Set<LangiumDocument>();
  /** Documents whose references were known at some time. */
  readonly #linkedBefore = new WeakSet<LangiumDocument>();
  /** Documents at which a step threw: reported as failures. */
  readonly #defective = new Set<LangiumDocument>();
  #counted = { parsed: 0, linked: 0, validated: 0 };
  /** What is to be continued when a build is done, such as loading the rest of the workspace. */
  readonly #followUps: ((cancelToken: Cancellation.CancellationToken) => Promise<void>)[] = [];

  constructor(services: Needed) {
    super(services);
    this.indexManager = services.workspace.IndexManager;
    this.#loader = services.workspace.Loader;
  }

  get work(): BuilderWork {
    return { ...this.#counted };
  }

  /** Nothing is left to be built. */
  get isIdle(): boolean {
    return this.unfinished.size === 0;
  }

  /** `task` runs after every update, under the same lock. */
  afterUpdate(task: (cancelToken: Cancellation.CancellationToken) => Promise<void>): void {
    this.#followUps.push(task);
  }

  override async update(
    changed: URI[],
    deleted: URI[],
    cancelToken = Cancellation.CancellationToken.None,
  ): Promise<void> {
    this.currentState = DocumentState.Changed;
    this.#counted = { parsed: 0, linked: 0, validated: 0 };
    const found = new Map(
      (await Promise.all(changed.map((uri) => this.findChangedUris(uri)))).flat().map((uri) => [keyOf(uri), uri]),
    );
    const present = [...found.values()].filter((uri) => this.#isPresent(uri));
    const vanished = [...found.values()].filter((uri) => !present.includes(uri));
    const fresh = present.filter((uri) => !this.#isUnchanged(uri));
    const gone = this.#takeAway([...deleted, ...vanished], present);
    const goneUris = gone.map((document) => document.uri);

    const touched = [...fresh, ...goneUris].map((uri) => uri.toString());
    // Other files than ours matter to whoever names them: the rows of a bench. Folders come and go with them.
    const others = [...changed, ...deleted].filter((uri) => !uri.path.endsWith('.fettle'));
    const readers = [
      ...this.indexManager.reading(others.map(keyOf)),
      // A file that is open may come or go on the disk: its text stays, what is near a mistyped path does not.
      ...(fresh.length < present.length ? this.indexManager.astray : []),
    ];
    const relinked = [...readers, ...this.#unsettled()];
    this.#relink(new Set([...relinked, ...this.indexManager.dependentsOf([...touched, ...relinked])]));
    for (const document of gone) this.cleanUpDeleted(document);
    for (const uri of fresh) this.resetToState(this.#documentFor(uri), DocumentState.Changed);

    await this.emitUpdate(fresh, goneUris);
    await interruptAndCheck(cancelToken);
    await this.buildDocuments([...this.unfinished], this.updateBuildOptions, cancelToken);
    for (const task of this.#followUps) await task(cancelToken);
  }

  /** Takes away the documents at and below these places, but for those that are there (again). */
  #takeAway(places: readonly URI[], present: readonly URI[]): LangiumDocument[] {
    const stays = new Set(present.map(keyOf));
    const gone = places
      .flatMap((place) => this.langiumDocuments.getDocuments(place))
      .filter(({ uri }) => !stays.has(keyOf(uri)));
    return [...new Set(gone)].flatMap(({ uri }) => this.langiumDocuments.deleteDocuments(uri));
  }

  override async build<T extends AstNode>(
    documents: LangiumDocument<T>[],
    options: BuildOptions = {},
    cancelToken = Cancellation.CancellationToken.None,
  ): Promise<void> {
    this.#counted = { parsed: 0, linked: 0, validated: 0 };
    await super.build(documents, options, cancelToken);
  }

  override resetToState(document: LangiumDocument, state: DocumentState): void {
    super.resetToState(document, state);
    if (this.#defective.delete(document)) this.#loader.failures.delete(keyOf(document.uri));
    if (document.state < DocumentState.Validated) this.unfinished.add(document);
  }

  /** Relinks documents that are linked already, and answers them; the others will be linked anyway. */
  #relink(files: Iterable<string>): LangiumDocument[] {
    const relinked: LangiumDocument[] = [];
    for (const file of files) {
      const document = this.indexManager.documentOf(file);
      if (!document || document.state < DocumentState.ComputedScopes) continue;
      const wasLinked = document.state > DocumentState.ComputedScopes;
      // One that is still to be linked may have been resolved already, for a document that is like it.
      this.resetToState(document, DocumentState.ComputedScopes);
      if (wasLinked) relinked.push(document);
    }
    return relinked;
  }

  #relinkWithDependents(files: Iterable<string>): LangiumDocument[] {
    const changed = [...files];
    return this.#relink(new Set([...changed, ...this.indexManager.dependentsOf(changed)]));
  }

  /**
   * Documents that an interrupted build left without their references known: what they depend on may have changed since, and those that
   * were already built upon them with it.
   */
  #unsettled(): string[] {
    return [...this.unfinished]
      .filter(({ state }) => state < DocumentState.IndexedReferences)
      .map(({ uri }) => uri.toString());
  }

  /** A document at which a step throws does not keep the others from being built. */
  protected override runCancelable(
    documents: LangiumDocument[],
    target: DocumentState,
    cancelToken: Cancellation.CancellationToken,
    callback: (document: LangiumDocument) => MaybePromise<unknown>,
  ): Promise<void> {
    return super.runCancelable(documents, target, cancelToken, async (document) => {
      try {
        await callback(document);
      } catch (error) {
        if (isOperationCancelled(error)) throw error;
        this.failed(document, asError(error));
      }
    });
  }

  /** All that was to be read has been: each document that it reaches is still to be linked. */
  protected namesAreKnown(): void {}

  protected failed(document: LangiumDocument, error: Error): void {
    this.#defective.add(document);
    this.#loader.failures.set(keyOf(document.uri), { uri: document.uri, message: defectMessage(error) });
  }

  #isPresent(uri: URI): boolean {
    return this.textDocuments?.get(uri.toString()) !== undefined || this.#loader.read(uri) !== undefined;
  }

  /** Saving a file reports a change, although its text was already known while it was typed. */
  #isUnchanged(uri: URI): boolean {
    const document = this.langiumDocuments.getDocument(uri);
    if (!document || document.state !== DocumentState.Validated) return false;
    const text = this.textDocuments?.get(uri.toString())?.getText() ?? this.#loader.read(uri);
    return text === document.parseResult.value.$cstNode?.root.fullText;
  }

  #documentFor(uri: URI): LangiumDocument {
    const known = this.langiumDocuments.getDocument(uri);
    if (known) return known;
    const document = this.langiumDocumentFactory.fromString('', uri);
    this.langiumDocuments.addDocument(document);
    return document;
  }

  protected override async buildDocuments(
    documents: LangiumDocument[],
    options: BuildOptions,
    cancelToken: Cancellation.CancellationToken,
  ): Promise<void> {
    for (const document of documents) if (document.state < DocumentState.Validated) this.unfinished.add(document);
    const all = new Set([...this.#library(), ...documents]);
    await this.#readNames(all, options, cancelToken);
    const known = new Set(this.unfinished);
    this.#relinkWithDependents(this.indexManager.takeAffected());
    this.namesAreKnown();
    for (const document of this.unfinished) if (!known.has(document)) all.add(document);

    // What a person looks at is finished before the rest is begun. Documents that were linked before come along as far as that:
    // who names a part decides about findings on it.
    const isFirst = (document: LangiumDocument) => this.#isOpen(document) || this.#linkedBefore.has(document);
    const first = await this.#link([...all].filter(isFirst), cancelToken);
    const open = first.filter((document) => this.#isOpen(document));
    if (open.length > 0) await super.buildDocuments(open, options, cancelToken);
    const others = await this.#link(
      [...all].filter((document) => !isFirst(document)),
      cancelToken,
    );
    this.currentState = DocumentState.Changed;
    await super.buildDocuments([...new Set([...first, ...others])], options, cancelToken);
  }

  /** Links documents, and those again that depend on who names their parts when that has changed; answers all of them. */
  async #link(
    documents: readonly LangiumDocument[],
    cancelToken: Cancellation.CancellationToken,
  ): Promise<LangiumDocument[]> {
    const all = new Set(documents);
    for (let next: Iterable<LangiumDocument> = documents, isLinked = false; !isLinked; ) {
      await this.runCancelable([...next], DocumentState.Linked, cancelToken, (document) =>
        this.serviceRegistry.getServices(document.uri).references.Linker.link(document, cancelToken),
      );
      await this.runCancelable([...next], DocumentState.IndexedReferences, cancelToken, (document) => {
        this.#linkedBefore.add(document);
        return this.indexManager.updateReferences(document);
      });
      next = this.#relinkWithDependents(this.indexManager.takeRenamed());
      isLinked = [...next].length === 0;
      for (const document of next) all.add(document);
    }
    return [...all];
  }

  /** Reads the documents, then what they need to be understood, until every name that could be meant is known. */
  async #readNames(
    all: Set<LangiumDocument>,
    options: BuildOptions,
    cancelToken: Cancellation.CancellationToken,
  ): Promise<void> {
    this.prepareBuild([...all], options);
    await this.runCancelable([...all], DocumentState.Parsed, cancelToken, (document) =>
      this.langiumDocumentFactory.update(document, cancelToken),
    );
    this.#loadContext(all);
    this.prepareBuild([...all], options);
    await this.runCancelable([...all], DocumentState.IndexedContent, cancelToken, (document) =>
      this.indexManager.updateContent(document),
    );
    await this.runCancelable([...all], DocumentState.ComputedScopes, cancelToken, (document) => {
      const { Linker } = this.serviceRegistry.getServices(document.uri).references;
      if (Linker instanceof FettleLinker) Linker.adopt(document);
    });
  }

  /** What the documents that were just read need, and what that needs. Documents that somebody else loaded meanwhile come along. */
  #loadContext(all: Set<LangiumDocument>): void {
    const read = [...all].filter((document) => document.state === DocumentState.Parsed);
    for (let next = [...read, ...this.#loader.takeArrived()]; next.length > 0; next = this.#loader.takeArrived()) {
      for (const document of next) {
        all.add(document);
        this.unfinished.add(document);
        this.#loader.context(document);
      }
    }
  }

  /** The parts that are shipped with the language, when they are not there yet. */
  #library(): LangiumDocument[] {
    const added: LangiumDocument[] = [];
    for (const { name, text } of LIBRARY) {
      const uri = URI.parse(`${LIBRARY_FOLDER}/${name}`);
      if (this.langiumDocuments.hasDocument(uri)) continue;
      const document = this.langiumDocumentFactory.fromString(text, uri);
      this.langiumDocuments.addDocument(document);
      this.unfinished.add(document);
      added.push(document);
    }
    return added;
  }

  #isOpen(document: LangiumDocument): boolean {
    return this.textDocuments?.get(document.uri.toString()) !== undefined;
  }

  protected override async validate(
    document: LangiumDocument,
    cancelToken: Cancellation.CancellationToken,
  ): Promise<void> {
    // Nobody can mend the library: its own test looks after it.
    if (document.uri.scheme === LIBRARY_SCHEME) document.diagnostics = [];
    else await super.validate(document, cancelToken);
  }

  /** Announced to everybody although the build was interrupted meanwhile: the document is that far, and nobody would announce it again. */
  protected override async notifyDocumentPhase(document: LangiumDocument, state: DocumentState): Promise<void> {
    if (state === DocumentState.Parsed) this.#counted.parsed += 1;
    if (state === DocumentState.Linked) this.#counted.linked += 1;
    if (state === DocumentState.Validated) {
      this.#counted.validated += 1;
      this.unfinished.delete(document);
    }
    await super.notifyDocumentPhase(document, state, Cancellation.CancellationToken.None);
  }

  protected override cleanUpDeleted(document: LangiumDocument): void {
    super.cleanUpDeleted(document);
    this.unfinished.delete(document);
    this.#defective.delete(document);
    this.#loader.failures.delete(keyOf(document.uri));
  }
}
