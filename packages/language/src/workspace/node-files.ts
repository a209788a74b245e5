/** Files on disk; links are followed. */
import { closeSync, createReadStream, openSync, readSync, realpathSync, statSync } from 'node:fs';
import { type FileSystemNode, URI, UriUtils } from 'langium';
import { NodeFileSystemProvider } from 'langium/node';
import type { KnowingFileSystem, LongFileSystem } from '../resolve/file-systems.ts';

interface EntryWithLink extends FileSystemNode {
  readonly isLink: boolean;
}

/** What has a path is not therefore on the disk: a text that was never saved, the old side of a comparison. */
export class NodeFiles extends NodeFileSystemProvider implements KnowingFileSystem, LongFileSystem {
  override existsSync(uri: URI): boolean {
    return isOnDisk(uri) && super.existsSync(uri);
  }

  override statSync(uri: URI): FileSystemNode {
    return super.statSync(onDisk(uri));
  }

  override readFileSync(uri: URI): string {
    return super.readFileSync(regular(uri));
  }

  override readBinarySync(uri: URI): Uint8Array {
    return super.readBinarySync(regular(uri));
  }

  override async exists(uri: URI): Promise<boolean> {
    return this.existsSync(uri);
  }

  override async stat(uri: URI): Promise<FileSystemNode> {
    return this.statSync(uri);
  }

  override async readFile(uri: URI): Promise<string> {
    return this.readFileSync(uri);
  }

  override async readBinary(uri: URI): Promise<Uint8Array> {
    return this.readBinarySync(uri);
  }

  override readDirectorySync(folder: URI): EntryWithLink[] {
    onDisk(folder);
    return super
      .readDirectorySync(folder)
      .map((entry) => (entry.isFile || entry.isDirectory ? { ...entry, isLink: false } : follow(entry)));
  }

  override async readDirectory(folder: URI): Promise<EntryWithLink[]> {
    return this.readDirectorySync(folder);
  }

  sizeSync(file: URI): number {
    return statSync(onDisk(file).fsPath).size;
  }

  versionSync(file: URI): string {
    const { size, mtimeMs, ino } = statSync(onDisk(file).fsPath);
    return `${size} ${mtimeMs} ${ino}`;
  }

  *piecesSync(file: URI, bytes: number): Iterable<Uint8Array> {
    const opened = openSync(regular(file).fsPath, 'r');
    try {
      const buffer = new Uint8Array(bytes);
      for (;;) {
        const read = readSync(opened, buffer, 0, bytes, null);
        if (read === 0) return;
        yield buffer.subarray(0, read);
      }
    } finally {
      closeSync(opened);
    }
  }

  async *pieces(file: URI, bytes: number): AsyncIterable<Uint8Array> {
    for await (const piece of createReadStream(regular(file).fsPath, { highWaterMark: bytes }))
      yield piece as Uint8Array;
  }

  startSync(): URI {
    return URI.file(process.cwd());
  }

  realSync(folder: URI): URI {
    try {
      return URI.file(realpathSync(folder.fsPath));
    } catch {
      // What is not there would be where its folder leads to.
      const parent = UriUtils.dirname(folder);
      return parent.path === folder.path ? folder : UriUtils.joinPath(this.realSync(parent), UriUtils.basename(folder));
    }
  }
}

const isOnDisk = ({ scheme }: URI): boolean => scheme === 'file';

function onDisk(uri: URI): URI {
  if (isOnDisk(uri)) return uri;
  throw Object.assign(new Error(`${uri.toString(true)} is not on the disk`), { code: 'ENOENT' });
}

/** Devices and pipes have no end, or none yet. */
function regular(uri: URI): URI {
  const stat = statSync(onDisk(uri).fsPath);
  if (stat.isFile() || stat.isDirectory()) return uri;
  throw Object.assign(new Error(`${uri.fsPath} is no ordinary file`), { code: 'EINVAL' });
}

/** A link that leads nowhere counts as a file, so that reading it gives the error. Sockets and devices are neither. */
function follow({ uri }: FileSystemNode): EntryWithLink {
  try {
    const stat = statSync(uri.fsPath);
    return { uri, isFile: stat.isFile(), isDirectory: stat.isDirectory(), isLink: true };
  } catch {
    return { uri, isFile: true, isDirectory: false, isLink: true };
  }
}

/** For services that work on files of this machine. */
export const NodeFileSystem = { fileSystemProvider: () => new NodeFiles() };
