import { delayNextTick, URI, UriUtils } from 'langium';
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
import { READ_FILES } from '../../resolve/read-files.ts';
import { ClientFiles } from './client-files.ts';
import type { EngineServices } from './editor-services.ts';

interface Edits {
  readonly changed: Map<string, URI>;
  readonly deleted: Map<string, URI>;
  /** How many were taken in. */
  count: number;
}

/** Turns of the event loop without another edit after which a build begins. */
const TURNS_OF_QUIET = 2;
/** A flood that does not end is built all the same from time to time. ms */
const LONGEST_WAIT = 200;

/** Follows the client's texts and the files on disk; an open text always counts more than its file. */
export class UpdateHandler extends DefaultDocumentUpdateHandler {
  readonly #openTexts: TextDocuments<TextDocument>;
  readonly #files: EngineServices['workspace']['FileSystemProvider'];
  readonly #committed: () => EngineServices['lsp']['Committed'];
  /** What was reported of files so far is followed. */
  #followed: Promise<void> = Promise.resolve();
  /** What is still to be followed, in one build: by URI, files that changed and files or folders that went. */
  #waiting: Edits | undefined;

  constructor(services: EngineServices) {
    super(services);
    this.#openTexts = services.workspace.TextDocuments;
    this.#files = services.workspace.FileSystemProvider;
    this.#committed = () => services.lsp.Committed;
  }

  protected override getWatchers(): FileSystemWatcher[] {
    return [
      { globPattern: READ_FILES, kind: WatchKind.Change },
      // A folder that comes or goes is reported as itself, without its files.
      { globPattern: '**/*', kind: WatchKind.Create | WatchKind.Delete },
    ];
  }

  /**
   * Edits that come while a build of earlier ones has not begun are built with them: fifty keys held down are one build, not fifty. A build
   * that fails is reported in the log; the next edit begins a new one.
   */
  protected override fireDocumentUpdate(changed: URI[], deleted: URI[]): void {
    const edits = this.#waiting ?? { changed: new Map<string, URI>(), deleted: new Map<string, URI>(), count: 0 };
    for (const uri of changed) edits.changed.set(uri.toString(), uri);
    for (const uri of deleted) edits.deleted.set(uri.toString(), uri);
    edits.count++;
    if (this.#waiting !== undefined) return;
    this.#waiting = edits;
    this.workspaceManager.ready
      .then(() =>
        this.workspaceLock.write(async (cancellation) => {
          await this.#untilQuiet(edits);
          this.#waiting = undefined;
          await this.documentBuilder.update([...edits.changed.values()], [...edits.deleted.values()], cancellation);
        }),
      )
      .catch((error) => console.error('Internal error while following an edit:', error));
  }

  /** Messages that have arrived already are let in first; each takes a turn of the event loop. */
  async #untilQuiet(edits: Edits): Promise<void> {
    const deadline = performance.now() + LONGEST_WAIT;
    for (let seen = -1; seen !== edits.count && performance.now() < deadline; ) {
      seen = edits.count;
      for (let turn = 0; turn < TURNS_OF_QUIET; turn++) await delayNextTick();
    }
  }

  /** What was typed and not saved is gone: back to the file, or to nothing. */
  didCloseDocument(change: TextDocumentChangeEvent<TextDocument>): void {
    const uri = URI.parse(change.document.uri);
    if (this.#files.existsSync(uri)) {
      this.fireDocumentUpdate([uri], []);
    } else {
      this.fireDocumentUpdate([], [uri]);
    }
  }

  didSaveDocument(change: TextDocumentChangeEvent<TextDocument>): void {
    this.#committed().saved(URI.parse(change.document.uri));
  }

  /** In the order in which it happened: a file that came and went at once must not be fetched after it has gone. */
  override didChangeWatchedFiles({ changes }: DidChangeWatchedFilesParams): void {
    this.#followed = this.#followed
      .then(() => this.#follow(changes))
      .catch((error) => console.error('Internal error while following files:', error));
  }

  async #follow(all: readonly FileEvent[]): Promise<void> {
    const inSight = all.filter(({ uri }) => !this.#isSetAside(uri));
    const changes = inSight.filter(({ uri }) => this.#openTexts.get(uri) === undefined);
    await this.#refetch(changes);
    const beside = inSight.filter((change) => change.type !== FileChangeType.Changed && !changes.includes(change));
    if (beside.length > 0) {
      this.fireDocumentUpdate(
        beside.map(({ uri }) => URI.parse(uri)),
        [],
      );
    }
    if (changes.length === 0) return;
    super.didChangeWatchedFiles({ changes });
    for (const { uri } of changes) {
      this.#committed().saved(URI.parse(uri));
    }
    this.#restoreOpenTextsBelow(changes);
  }

  /** Hidden folders and `node_modules` of the workspace are left alone, as they are at the start. */
  #isSetAside(uri: string): boolean {
    const folder = this.workspaceManager.workspaceFolders?.find((candidate) => uri.startsWith(`${candidate.uri}/`));
    return folder !== undefined && /\/(?:node_modules|\.[^/]*)\//.test(uri.slice(folder.uri.length));
  }

  async #refetch(changes: readonly FileEvent[]): Promise<void> {
    if (!(this.#files instanceof ClientFiles)) return;
    for (const { uri, type } of changes) {
      const file = URI.parse(uri);
      if (type === FileChangeType.Deleted) {
        this.#files.forget(file);
      } else if (this.#files.wouldKnow(file)) {
        await this.#files.fetch(file);
      } else if (UriUtils.extname(file) === '') {
        await this.#files.fetchFolders([file]);
      }
    }
  }

  /** A deleted folder takes all its documents with it; the open ones stay. */
  #restoreOpenTextsBelow(changes: readonly FileEvent[]): void {
    const folders = changes.filter(({ type }) => type === FileChangeType.Deleted).map(({ uri }) => `${uri}/`);
    const open = this.#openTexts.all().filter((text) => folders.some((folder) => text.uri.startsWith(folder)));
    if (open.length > 0) {
      this.fireDocumentUpdate(
        open.map((text) => URI.parse(text.uri)),
        [],
      );
    }
  }
}
