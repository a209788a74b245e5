import { type FileSystemNode, type FileSystemProvider, type URI, URI as Uri, UriUtils } from 'langium';
import type { Connection } from 'vscode-languageserver';
import { RequestType } from 'vscode-languageserver-protocol';

/** All `.fettle` files below a folder; URIs as text. Answered by the client. */
export const listFiles = new RequestType<{ folder: string }, { uris: string[] }, void>('fettle/listFiles');
/** The text of one file. Answered by the client. */
export const readFile = new RequestType<{ uri: string }, { text: string }, void>('fettle/readFile');

/** Files as the client sees them: a server in a browser has no disk of its own. */
export class ClientFiles implements FileSystemProvider {
  private readonly connection: Connection;

  constructor(connection: Connection) {
    this.connection = connection;
  }

  async readDirectory(folder: URI): Promise<FileSystemNode[]> {
    const { uris } = await this.connection.sendRequest(listFiles, { folder: folder.toString() });
    return uris.map((uri) => ({ uri: Uri.parse(uri), isFile: true, isDirectory: false }));
  }

  async readFile(uri: URI): Promise<string> {
    return (await this.connection.sendRequest(readFile, { uri: uri.toString() })).text;
  }

  async readBinary(uri: URI): Promise<Uint8Array> {
    return new TextEncoder().encode(await this.readFile(uri));
  }

  async exists(uri: URI): Promise<boolean> {
    const siblings = await this.readDirectory(UriUtils.dirname(uri));
    return siblings.some((sibling) => UriUtils.equals(sibling.uri, uri));
  }

  async stat(uri: URI): Promise<FileSystemNode> {
    const isFile = UriUtils.extname(uri) === '.fettle';
    return { uri, isFile, isDirectory: !isFile };
  }

  // Asking the client takes time: nothing here can be had at once.
  existsSync(): boolean {
    return false;
  }

  statSync(uri: URI): FileSystemNode {
    throw new Error(`Only the client can look at ${uri.toString(true)}.`);
  }

  readFileSync(uri: URI): string {
    throw new Error(`Only the client can read ${uri.toString(true)}.`);
  }

  readBinarySync(uri: URI): Uint8Array {
    throw new Error(`Only the client can read ${uri.toString(true)}.`);
  }

  readDirectorySync(): FileSystemNode[] {
    return [];
  }
}
