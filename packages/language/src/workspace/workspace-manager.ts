/**
 * Loads the folders of an editor's workspace in slices: a file that is opened meanwhile is finished first, with what it needs, and then the rest
 * goes on.
 */
import {
  type BuildOptions,
  Cancellation,
  DefaultWorkspaceManager,
  type FileSystemNode,
  interruptAndCheck,
  type LangiumSharedCoreServices,
  type URI,
  UriUtils,
  type WorkspaceFolder,
} from 'langium';
import type { FettleDocumentBuilder } from './document-builder.ts';
import type { Loader } from './loader.ts';

type Needed = LangiumSharedCoreServices & {
  readonly workspace: { readonly Loader: Loader; readonly DocumentBuilder: FettleDocumentBuilder };
};

export class FettleWorkspaceManager extends DefaultWorkspaceManager {
  override initialBuildOptions: BuildOptions = { validation: true };

  declare protected readonly documentBuilder: FettleDocumentBuilder;
  readonly #loader: Loader;
  protected readonly waiting: URI[] = [];

  constructor(services: Needed) {
    super(services);
    this.#loader = services.workspace.Loader;
    this.documentBuilder.afterUpdate((cancelToken) => this.loadRest(cancelToken));
  }

  override async initializeWorkspace(
    folders: WorkspaceFolder[],
    cancelToken = Cancellation.CancellationToken.None,
  ): Promise<void> {
    this.waiting.push(...folders.flatMap((folder) => this.filesBelow(this.getRootFolder(folder))));
    this._ready.resolve();
    // Without any file there is still the library.
    if (this.waiting.length === 0) await this.documentBuilder.build([], this.initialBuildOptions, cancelToken);
    await this.loadRest(cancelToken);
  }

  /** Loads and builds what is still waiting; an edit interrupts it, and it goes on behind the edit. */
  protected async loadRest(cancelToken: Cancellation.CancellationToken): Promise<void> {
    if (this.waiting.length === 0) return;
    for (let next = this.waiting.pop(); next; next = this.waiting.pop()) {
      this.#loader.file(next);
      await interruptAndCheck(cancelToken);
    }
    await this.documentBuilder.build([], this.initialBuildOptions, cancelToken);
  }

  override async searchFolder(folder: URI): Promise<URI[]> {
    return this.filesBelow(folder);
  }

  filesBelow(folder: URI): URI[] {
    return [...this.#loader.filesBelow(folder, (entry) => this.shouldIncludeEntry(entry))];
  }

  override shouldIncludeEntry({ uri, isDirectory }: FileSystemNode): boolean {
    const name = UriUtils.basename(uri);
    if (name.startsWith('.')) return false;
    return isDirectory ? name !== 'node_modules' : this.serviceRegistry.hasServices(uri);
  }
}
