/** What a file system may offer in addition to what the framework requires. */
import type { FileSystemProvider, URI } from 'langium';

/** A file system with more than the framework requires. */
export interface KnowingFileSystem extends FileSystemProvider {
  /** Bytes in a file. */
  sizeSync(uri: URI): number;
  /** The file or folder itself when it was reached through links. */
  realSync(uri: URI): URI;
  /** The folder in which the program runs. */
  startSync(): URI;
}

/** A file system whose files may be long. */
export interface LongFileSystem extends FileSystemProvider {
  /** Changes whenever the file does. */
  versionSync(uri: URI): string;
  /** The file piece by piece, … */
  piecesSync(uri: URI, bytes: number): Iterable<Uint8Array>;
  /** … and letting others have their turn in between. */
  pieces(uri: URI, bytes: number): AsyncIterable<Uint8Array>;
}

/** A file system that does not know every file that is there. */
export interface PartialFileSystem extends FileSystemProvider {
  /** Whether a file would be known if it were there. */
  wouldKnow(uri: URI): boolean;
}

/** A file system with whatever else it is able to do. */
export type AbleFileSystem = FileSystemProvider & Partial<KnowingFileSystem & LongFileSystem & PartialFileSystem>;

/** Of what is not there: false. */
export function isFolderAt(files: Pick<FileSystemProvider, 'statSync'>, place: URI): boolean {
  try {
    return files.statSync(place).isDirectory;
  } catch {
    return false;
  }
}
