import type { WorkspaceFolder } from 'langium';
import { CancellationToken } from 'vscode-languageserver-protocol';
import { FettleWorkspaceManager } from '../../model/references/workspace-manager.ts';
import { ClientFiles } from './client-files.ts';
import type { EngineServices } from './services.ts';

/** Starts with the files the person looks at; whatever happens at the start, requests are answered. */
export class WorkspaceStartup extends FettleWorkspaceManager {
  private readonly files: EngineServices['workspace']['FileSystemProvider'];

  constructor(services: EngineServices) {
    super(services);
    this.files = services.workspace.FileSystemProvider;
  }

  override async initializeWorkspace(folders: WorkspaceFolder[], cancellation = CancellationToken.None): Promise<void> {
    try {
      // Clients send the files they have open right after `initialized`: let those messages in first.
      await new Promise((resolve) => setTimeout(resolve, 0));
      if (this.files instanceof ClientFiles) {
        await this.files.fetchFolders(folders.map((folder) => this.getRootFolder(folder)));
      }
      await super.initializeWorkspace(folders, cancellation);
    } finally {
      this._ready.resolve();
    }
  }
}
