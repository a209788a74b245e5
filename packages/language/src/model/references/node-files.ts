/** Files on disk; links are followed. */
import { realpathSync, statSync } from 'node:fs';
import { type FileSystemNode, URI } from 'langium';
import { NodeFileSystemProvider } from 'langium/node';
import type { KnowingFileSystem } from './loader.ts';

interface EntryWithLink extends FileSystemNode {
  readonly isLink: boolean;
}

export class NodeFiles extends NodeFileSystemProvider implements KnowingFileSystem {
  override readDirectorySync(folder: URI): EntryWithLink[] {
    return super
      .readDirectorySync(folder)
      .map((entry) => (entry.isFile || entry.isDirectory ? { ...entry, isLink: false } : follow(entry)));
  }

  override async readDirectory(folder: URI): Promise<EntryWithLink[]> {
    return this.readDirectorySync(folder);
  }

  sizeSync(file: URI): number {
    return statSync(file.fsPath).size;
  }

  realSync(folder: URI): URI {
    try {
      return URI.file(realpathSync(folder.fsPath));
    } catch {
      return folder;
    }
  }
}

/** A link that leads nowhere counts as a file, so that reading it says so. Sockets and devices are neither. */
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
