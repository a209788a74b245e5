import { DefaultWorkspaceManager, type LangiumDocument, type URI, URI as Uri, type WorkspaceFolder } from 'langium';
import type { LangiumSharedServices } from 'langium/lsp';
import { CancellationToken } from 'vscode-languageserver-protocol';
import type { IncrementalDocumentBuilder } from './incremental-builder.ts';
import type { EngineServices } from './services.ts';

/** Starts with the files the person looks at; the rest of the workspace follows and can be interrupted at any time. */
export class WorkspaceStartup extends DefaultWorkspaceManager {
  private readonly builder: IncrementalDocumentBuilder;
  private readonly openTexts: LangiumSharedServices['workspace']['TextDocuments'];

  constructor(services: EngineServices) {
    super(services);
    this.builder = services.workspace.DocumentBuilder;
    this.openTexts = services.workspace.TextDocuments;
  }

  override async initializeWorkspace(folders: WorkspaceFolder[], cancellation = CancellationToken.None): Promise<void> {
    try {
      // Clients send the files they have open right after `initialized`: let those messages in first.
      await new Promise((resolve) => setTimeout(resolve, 0));
      await this.loadAdditionalDocuments(folders, (document: LangiumDocument) =>
        this.langiumDocuments.addDocument(document),
      );
      for (const text of this.openTexts.all()) {
        this.builder.announce(Uri.parse(text.uri));
      }
      for (const uri of await this.listFiles(folders)) {
        this.builder.announce(uri);
      }
    } finally {
      // Whatever happened: requests wait for this and must be answered.
      this._ready.resolve();
    }
    await this.builder.buildPending(cancellation);
  }

  private async listFiles(folders: WorkspaceFolder[]): Promise<URI[]> {
    const uris: URI[] = [];
    for (const folder of folders) {
      await this.traverseFolder(this.getRootFolder(folder), uris);
    }
    return uris;
  }
}
