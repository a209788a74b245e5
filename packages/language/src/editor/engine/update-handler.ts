import { URI } from 'langium';
import { DefaultDocumentUpdateHandler, type TextDocuments } from 'langium/lsp';
import type { TextDocumentChangeEvent } from 'vscode-languageserver';
import {
  type DidChangeWatchedFilesParams,
  FileChangeType,
  type FileSystemWatcher,
  WatchKind,
} from 'vscode-languageserver-protocol';
import type { TextDocument } from 'vscode-languageserver-textdocument';
import type { DiagnosticsPublisher } from '../diagnostics/publisher.ts';
import type { IncrementalDocumentBuilder } from './incremental-builder.ts';
import type { EngineServices } from './services.ts';

/** Follows the client's texts and the files on disk; an open text always counts more than its file. */
export class UpdateHandler extends DefaultDocumentUpdateHandler {
  private readonly builder: IncrementalDocumentBuilder;
  private readonly openTexts: TextDocuments<TextDocument>;
  private readonly files: EngineServices['workspace']['FileSystemProvider'];
  private readonly publisher: () => DiagnosticsPublisher;

  constructor(services: EngineServices) {
    super(services);
    this.builder = services.workspace.DocumentBuilder;
    this.openTexts = services.workspace.TextDocuments;
    this.files = services.workspace.FileSystemProvider;
    this.publisher = () => services.lsp.DiagnosticsPublisher;
  }

  protected override getWatchers(): FileSystemWatcher[] {
    return [
      { globPattern: '**/*.fettle' },
      // A deleted folder is reported as itself, without its files.
      { globPattern: '**/*', kind: WatchKind.Delete },
    ];
  }

  override didChangeContent(change: TextDocumentChangeEvent<TextDocument>): void {
    if (this.builder.adopt(change.document)) {
      this.publisher().publish(URI.parse(change.document.uri));
    } else {
      super.didChangeContent(change);
    }
  }

  /** What was typed and not saved is gone: back to the file, or to nothing. */
  didCloseDocument(change: TextDocumentChangeEvent<TextDocument>): void {
    const uri = URI.parse(change.document.uri);
    this.exists(uri).then((exists) => {
      if (this.openTexts.get(uri) !== undefined) {
        return;
      }
      if (exists) {
        this.fireDocumentUpdate([uri], []);
      } else {
        this.fireDocumentUpdate([], [uri]);
      }
    });
  }

  override didChangeWatchedFiles(params: DidChangeWatchedFilesParams): void {
    const changes = params.changes.filter(
      (change) => this.openTexts.get(change.uri) === undefined && this.concernsUs(change.uri, change.type),
    );
    if (changes.length > 0) {
      super.didChangeWatchedFiles({ changes });
    }
  }

  private concernsUs(uri: string, type: FileChangeType): boolean {
    return type === FileChangeType.Deleted || this.serviceRegistry.hasServices(URI.parse(uri));
  }

  private async exists(uri: URI): Promise<boolean> {
    try {
      return await this.files.exists(uri);
    } catch {
      return false;
    }
  }
}
