/** Files as they are, one of them with another text: what is tried is never written. */
import type { FileSystemProvider, URI } from 'langium';
import type { KnowingFileSystem } from '../resolve/file-systems.ts';

/** @param textOf of files whose text is not that of the file system */
export function withTexts(files: FileSystemProvider, textOf: (uri: URI) => string | undefined): FileSystemProvider {
  const bytesOf = (uri: URI): Uint8Array | undefined => {
    const text = textOf(uri);
    return text === undefined ? undefined : new TextEncoder().encode(text);
  };
  const isThere = (uri: URI): boolean => textOf(uri) !== undefined;
  const node = (uri: URI) => ({ uri, isFile: true, isDirectory: false });
  const own: Partial<KnowingFileSystem> = {
    readBinarySync: (uri) => bytesOf(uri) ?? files.readBinarySync(uri),
    readBinary: async (uri) => bytesOf(uri) ?? files.readBinary(uri),
    readFileSync: (uri) => textOf(uri) ?? files.readFileSync(uri),
    readFile: async (uri) => textOf(uri) ?? files.readFile(uri),
    existsSync: (uri) => isThere(uri) || files.existsSync(uri),
    exists: async (uri) => isThere(uri) || files.exists(uri),
    statSync: (uri) => (isThere(uri) ? node(uri) : files.statSync(uri)),
    stat: async (uri) => (isThere(uri) ? node(uri) : files.stat(uri)),
    sizeSync: (uri) => bytesOf(uri)?.length ?? (files as KnowingFileSystem).sizeSync(uri),
  };
  // What else a file system knows (links, where the program runs) stays its own.
  return new Proxy(files, {
    get(target, key) {
      const value = key in target ? (Reflect.get(own, key) ?? Reflect.get(target, key)) : undefined;
      return typeof value === 'function' ? value.bind(target) : value;
    },
  });
}
