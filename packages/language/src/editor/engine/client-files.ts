import { type FileSystemNode, type URI, URI as Uri, UriUtils } from 'langium';
import type { Connection } from 'vscode-languageserver';
import type { PartialFileSystem } from '../../resolve/file-systems.ts';
import { FilesAtHand } from '../../resolve/files-at-hand.ts';
import { isRead } from '../../resolve/read-files.ts';
import { listFilesRequest, readFileRequest } from '../requests/protocol.ts';

/**
 * Files as the client sees them: a server in a browser has no disk of its own. Asking takes time, and reading is needed at once;
 * so this is a copy of the workspace's files, fetched at the start and whenever the client reports a change.
 */
export class ClientFiles extends FilesAtHand implements PartialFileSystem {
  readonly #connection: Connection;
  readonly #texts = new Map<string, string>();

  constructor(connection: Connection) {
    super();
    this.#connection = connection;
  }

  async fetchFolders(folders: readonly URI[]): Promise<void> {
    for (const folder of folders) {
      try {
        const { uris } = await this.#connection.sendRequest(listFilesRequest, { folder: folder.toString() });
        await Promise.all(uris.map((uri) => this.fetch(Uri.parse(uri))));
      } catch (error) {
        console.warn(`The client could not list ${folder.toString(true)}:`, error);
      }
    }
  }

  /** Reads one file again; forgets it when it is gone. */
  async fetch(uri: URI): Promise<void> {
    const key = uri.toString();
    try {
      this.#texts.set(key, (await this.#connection.sendRequest(readFileRequest, { uri: key })).text);
    } catch {
      this.#texts.delete(key);
    }
  }

  wouldKnow(uri: URI): boolean {
    return isRead(uri.path);
  }

  /** Forgets a file, or the files of a folder. */
  forget(uri: URI): void {
    const key = uri.toString();
    for (const known of this.#texts.keys()) {
      if (known === key || known.startsWith(`${key}/`)) this.#texts.delete(known);
    }
  }

  override existsSync(uri: URI): boolean {
    return this.#texts.has(uri.toString()) || this.#isFolder(uri);
  }

  override statSync(uri: URI): FileSystemNode {
    const isFile = this.#texts.has(uri.toString());
    return { uri, isFile, isDirectory: !isFile && this.#isFolder(uri) };
  }

  override readFileSync(uri: URI): string {
    const text = this.#texts.get(uri.toString());
    if (text === undefined) throw Object.assign(new Error('no such file'), { code: 'ENOENT' });
    return text;
  }

  override readBinarySync(uri: URI): Uint8Array {
    return new TextEncoder().encode(this.readFileSync(uri));
  }

  override readDirectorySync(folder: URI): FileSystemNode[] {
    const names = new Map<string, boolean>();
    const prefix = prefixOf(folder);
    for (const key of this.#texts.keys()) {
      if (key.startsWith(prefix)) {
        const [name, below] = key.slice(prefix.length).split('/');
        if (name !== undefined) names.set(name, below === undefined);
      }
    }
    return [...names].map(([name, isFile]) => ({
      uri: UriUtils.joinPath(folder, decodeURIComponent(name)),
      isFile,
      isDirectory: !isFile,
    }));
  }

  #isFolder(uri: URI): boolean {
    const prefix = prefixOf(uri);
    return [...this.#texts.keys()].some((key) => key.startsWith(prefix));
  }
}

function prefixOf(folder: URI): string {
  const key = folder.toString();
  return key.endsWith('/') ? key : `${key}/`;
}
