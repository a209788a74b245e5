import { Deferred, type FileSystemProvider, isOperationCancelled, type WorkspaceFolder } from 'langium';
import { CancellationToken } from 'vscode-languageserver-protocol';
import { FettleWorkspaceManager } from '../../workspace/workspace-manager.ts';
import type { FettleSharedServices } from '../../workspace/workspace-module.ts';
import { ClientFiles } from './client-files.ts';

/** Starts with the files the person looks at; whatever happens at the start, requests are answered. */
export class WorkspaceStartup extends FettleWorkspaceManager {
  readonly #files: FileSystemProvider;
  #isLoaded = false;
  readonly #everythingLoaded = new Deferred<void>();

  constructor(services: FettleSharedServices) {
    super(services);
    this.#files = services.workspace.FileSystemProvider;
  }

  /** Resolves when every file of the workspace has been read and checked once. */
  get complete(): Promise<void> {
    return this.#everythingLoaded.promise;
  }

  /** Whether that is so: until then nobody knows of every part who names it. */
  get isComplete(): boolean {
    return this.#isLoaded;
  }

  /** Files that are still to be read. */
  get remaining(): number {
    return this.waiting.length;
  }

  override async initializeWorkspace(folders: WorkspaceFolder[], cancellation = CancellationToken.None): Promise<void> {
    try {
      // Clients send the files they have open right after `initialized`: let those messages in first.
      await new Promise((resolve) => setTimeout(resolve, 0));
      if (this.#files instanceof ClientFiles) {
        await this.#files.fetchFolders(folders.map((folder) => this.getRootFolder(folder)));
      }
      await super.initializeWorkspace(folders, cancellation);
    } catch (error) {
      // An edit interrupts loading and goes on with it afterwards; anything else ends it.
      if (!isOperationCancelled(error)) this.#everythingLoaded.resolve();
      throw error;
    } finally {
      this._ready.resolve();
    }
  }

  protected override async loadRest(cancellation: CancellationToken): Promise<void> {
    await super.loadRest(cancellation);
    this.#isLoaded = true;
    this.#everythingLoaded.resolve();
  }
}
