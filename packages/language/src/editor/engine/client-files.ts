import { type FileSystemNode, type URI, URI as Uri, UriUtils } from 'langium';
import type { Connection } from 'vscode-languageserver';
import { RequestType } from 'vscode-languageserver-protocol';
import type { PartialFileSystem } from '../../resolve/file-systems.ts';

/** All `.fettle` and `.csv` files below a folder; URIs as text. Answered by the client. */
const listFiles = new RequestType<{ folder: string }, { uris: string[] }, void>('fettle/listFiles');
/** The text of one file. Answered by the client. */
const readFile = new RequestType<{ uri: string }, { text: string }, void>('fettle/readFile');

/** Texts of the language, and rows of test stands. */
const FETCHED: ReadonlySet<string> = new Set(['.fettle', '.csv']);

/**
 * Files as the client sees them: a server in a browser has no disk of its own. Asking takes time, and reading is needed at once;
 * so this is a copy of the workspace's files, fetched at the start and whenever the client reports a change.
 */
export class ClientFiles implements PartialFileSystem {
  readonly #connection: Connection;
  readonly #texts = new Map<string, string>();

  constructor(connection: Connection) {
    this.#connection = connection;
  }

  async fetchFolders(folders: readonly URI[]): Promise<void> {
    for (const folder of folders) {
      try {
        const { uris } = await this.#connection.sendRequest(listFiles, { folder: folder.toString() });
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
      this.#texts.set(key, (await this.#connection.sendRequest(readFile, { uri: key })).text);
    } catch {
      this.#texts.delete(key);
    }
  }

  wouldKnow(uri: URI): boolean {
    return FETCHED.has(UriUtils.extname(uri));
  }

  /** Forgets a file, or the files of a folder. */
  forget(uri: URI): void {
    const key = uri.toString();
    for (const known of this.#texts.keys()) {
      if (known === key || known.startsWith(`${key}/`)) {
        this.#texts.delete(known);
      }
    }
  }

  existsSync(uri: URI): boolean {
    return this.#texts.has(uri.toString()) || this.#isFolder(uri);
  }

  statSync(uri: URI): FileSystemNode {
    const isFile = this.#texts.has(uri.toString());
    return { uri, isFile, isDirectory: !isFile && this.#isFolder(uri) };
  }

  readFileSync(uri: URI): string {
    const text = this.#texts.get(uri.toString());
    if (text === undefined) {
      throw Object.assign(new Error('no such file'), { code: 'ENOENT' });
    }
    return text;
  }

  readBinarySync(uri: URI): Uint8Array {
    return new TextEncoder().encode(this.readFileSync(uri));
  }

  readDirectorySync(folder: URI): FileSystemNode[] {
    const names = new Map<string, boolean>();
    const prefix = prefixOf(folder);
    for (const key of this.#texts.keys()) {
      if (key.startsWith(prefix)) {
        const [name, below] = key.slice(prefix.length).split('/');
        if (name !== undefined) {
          names.set(name, below === undefined);
        }
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

  async exists(uri: URI): Promise<boolean> {
    return this.existsSync(uri);
  }

  async stat(uri: URI): Promise<FileSystemNode> {
    return this.statSync(uri);
  }

  async readFile(uri: URI): Promise<string> {
    return this.readFileSync(uri);
  }

  async readBinary(uri: URI): Promise<Uint8Array> {
    return this.readBinarySync(uri);
  }

  async readDirectory(folder: URI): Promise<FileSystemNode[]> {
    return this.readDirectorySync(folder);
  }
}

function prefixOf(folder: URI): string {
  const key = folder.toString();
  return key.endsWith('/') ? key : `${key}/`;
}
