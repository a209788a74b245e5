import { URI, UriUtils } from 'langium';
import { DefaultDocumentUpdateHandler, type TextDocuments } from 'langium/lsp';
import type { TextDocumentChangeEvent } from 'vscode-languageserver';
import {
  type DidChangeWatchedFilesParams,
  FileChangeType,
  type FileEvent,
  type FileSystemWatcher,
  WatchKind,
} from 'vscode-languageserver-protocol';
import type { TextDocument } from 'vscode-languageserver-textdocument';
import { ClientFiles } from './client-files.ts';
import type { EngineServices } from './services.ts';

/** Follows the client's texts and the files on disk; an open text always counts more than its file. */
export class UpdateHandler extends DefaultDocumentUpdateHandler {
  private readonly openTexts: TextDocuments<TextDocument>;
  private readonly files: EngineServices['workspace']['FileSystemProvider'];
  private readonly committed: () => EngineServices['lsp']['Committed'];
  /** What was told of files so far is followed. */
  private followed: Promise<void> = Promise.resolve();

  constructor(services: EngineServices) {
    super(services);
    this.openTexts = services.workspace.TextDocuments;
    this.files = services.workspace.FileSystemProvider;
    this.committed = () => services.lsp.Committed;
  }

  protected override getWatchers(): FileSystemWatcher[] {
    return [
      { globPattern: '**/*.{fettle,csv}', kind: WatchKind.Change },
      // A folder that comes or goes is reported as itself, without its files.
      { globPattern: '**/*', kind: WatchKind.Create | WatchKind.Delete },
    ];
  }

  /** A build that fails is told in the log; the next edit begins a new one. */
  protected override fireDocumentUpdate(changed: URI[], deleted: URI[]): void {
    this.workspaceManager.ready
      .then(() =>
        this.workspaceLock.write((cancellation) => this.documentBuilder.update(changed, deleted, cancellation)),
      )
      .catch((error) => console.error('Internal error while following an edit:', error));
  }

  /** What was typed and not saved is gone: back to the file, or to nothing. */
  didCloseDocument(change: TextDocumentChangeEvent<TextDocument>): void {
    const uri = URI.parse(change.document.uri);
    if (this.files.existsSync(uri)) {
      this.fireDocumentUpdate([uri], []);
    } else {
      this.fireDocumentUpdate([], [uri]);
    }
  }

  didSaveDocument(change: TextDocumentChangeEvent<TextDocument>): void {
    this.committed().saved(URI.parse(change.document.uri));
  }

  /** In the order in which it happened: a file that came and went at once must not be fetched after it has gone. */
  override didChangeWatchedFiles({ changes }: DidChangeWatchedFilesParams): void {
    this.followed = this.followed
      .then(() => this.follow(changes))
      .catch((error) => console.error('Internal error while following files:', error));
  }

  private async follow(all: readonly FileEvent[]): Promise<void> {
    const changes = all.filter(({ uri }) => this.openTexts.get(uri) === undefined && !this.isSetAside(uri));
    await this.refetch(changes);
    if (changes.length === 0) {
      return;
    }
    super.didChangeWatchedFiles({ changes });
    for (const { uri } of changes) {
      this.committed().saved(URI.parse(uri));
    }
    this.restoreOpenTextsBelow(changes);
  }

  /** Hidden folders and `node_modules` of the workspace are left alone, as they are at the start. */
  private isSetAside(uri: string): boolean {
    const folder = this.workspaceManager.workspaceFolders?.find((candidate) => uri.startsWith(`${candidate.uri}/`));
    return folder !== undefined && /\/(?:node_modules|\.[^/]*)\//.test(uri.slice(folder.uri.length));
  }

  private async refetch(changes: readonly FileEvent[]): Promise<void> {
    if (!(this.files instanceof ClientFiles)) {
      return;
    }
    for (const { uri, type } of changes) {
      const file = URI.parse(uri);
      if (type === FileChangeType.Deleted) {
        this.files.forget(file);
      } else if (this.files.wouldKnow(file)) {
        await this.files.fetch(file);
      } else if (UriUtils.extname(file) === '') {
        await this.files.fetchFolders([file]);
      }
    }
  }

  /** A deleted folder takes all its documents with it; the open ones live on. */
  private restoreOpenTextsBelow(changes: readonly FileEvent[]): void {
    const folders = changes.filter(({ type }) => type === FileChangeType.Deleted).map(({ uri }) => `${uri}/`);
    const open = this.openTexts.all().filter((text) => folders.some((folder) => text.uri.startsWith(folder)));
    if (open.length > 0) {
      this.fireDocumentUpdate(
        open.map((text) => URI.parse(text.uri)),
        [],
      );
    }
  }
}
