/** Files that are in memory: what is requested for later is answered at once. */
import type { FileSystemNode, FileSystemProvider, URI } from 'langium';

export abstract class FilesAtHand implements FileSystemProvider {
  abstract existsSync(uri: URI): boolean;
  abstract statSync(uri: URI): FileSystemNode;
  abstract readFileSync(uri: URI): string;
  abstract readBinarySync(uri: URI): Uint8Array;
  abstract readDirectorySync(uri: URI): FileSystemNode[];

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

  async readDirectory(uri: URI): Promise<FileSystemNode[]> {
    return this.readDirectorySync(uri);
  }
}
