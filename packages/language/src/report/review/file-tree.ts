/** One version of a repository's files, in memory. */

import { posix } from 'node:path';
import { type FileSystemNode, URI } from 'langium';
import type { LongFileSystem } from '../../resolve/file-systems.ts';
import { FilesAtHand } from '../../resolve/files-at-hand.ts';
import { withoutSlash } from '../../resolve/keys.ts';
import { NodeFiles } from '../../workspace/node-files.ts';

/** Paths from the repository's root, with `/`; file contents as bytes. */
export type Files = ReadonlyMap<string, Uint8Array>;

export interface Tree {
  readonly files: Files;
  /** Why a file is not among them, by path: too large, missing from a partial clone. */
  readonly unread: ReadonlyMap<string, string>;
  /** Folders that are other repositories: what is in them is not among the files. */
  readonly submodules: readonly string[];
  /** Files under a path through a link to their folder: their builds are judged where they are. */
  readonly linked?: ReadonlySet<string>;
  /** Links that lead to no file of it. */
  readonly broken?: readonly string[];
  /** Fettle files on the disk that are no part of it, where those are to be named. */
  readonly leftOut?: readonly string[];
}

/** Before the first commit. */
export const EMPTY_TREE: Tree = { files: new Map(), unread: new Map(), submodules: [] };

/**
 * The part of a tree that is looked at, as the language's services read files. Packages in `node_modules` that no version has come from the
 * disk.
 */
export class TreeFiles extends FilesAtHand implements LongFileSystem {
  readonly #root: URI;
  readonly #files = new Map<string, Uint8Array>();
  readonly #folders = new Map<string, Map<string, 'file' | 'folder'>>();
  readonly #packages = new NodeFiles();

  constructor(root: URI, files: Files) {
    super();
    this.#root = root;
    for (const [path, bytes] of files) this.#files.set(this.uriOf(path).path, bytes);
    for (const path of this.#files.keys()) this.#enterFolders(path);
  }

  uriOf(path: string): URI {
    return this.#root.with({ path: `${withoutSlash(this.#root.path)}/${path}` });
  }

  write(uri: URI, bytes: Uint8Array): void {
    this.#files.set(uri.path, bytes);
    this.#enterFolders(uri.path);
  }

  #enterFolders(path: string): void {
    let kind: 'file' | 'folder' = 'file';
    for (let rest = path; rest.length > 0; kind = 'folder') {
      const slash = rest.lastIndexOf('/');
      const folder = rest.slice(0, slash);
      const entries = this.#folders.get(folder);
      if (entries) {
        entries.set(rest.slice(slash + 1), kind);
        return;
      }
      this.#folders.set(folder, new Map([[rest.slice(slash + 1), kind]]));
      rest = folder;
    }
  }

  /** Below the root: a path that leads out of it leads nowhere. */
  #isPackage({ path }: URI): boolean {
    const root = withoutSlash(this.#root.path);
    if (this.#files.has(path) || this.#folders.has(withoutSlash(path))) return false;
    return path.startsWith(`${root}/`) && /\/node_modules(\/|$)/.test(path.slice(root.length));
  }

  override existsSync(uri: URI): boolean {
    if (this.#isPackage(uri)) return this.#packages.existsSync(uri);
    return this.#files.has(uri.path) || this.#folders.has(withoutSlash(uri.path));
  }

  override statSync(uri: URI): FileSystemNode {
    if (this.#isPackage(uri)) return this.#packages.statSync(uri);
    const isFile = this.#files.has(uri.path);
    if (!isFile && !this.#folders.has(withoutSlash(uri.path))) throw absent(uri);
    return { uri, isFile, isDirectory: !isFile };
  }

  override readBinarySync(uri: URI): Uint8Array {
    if (this.#isPackage(uri)) return this.#packages.readBinarySync(uri);
    const bytes = this.#files.get(uri.path);
    if (!bytes) throw absent(uri);
    return bytes;
  }

  override readFileSync(uri: URI): string {
    return new TextDecoder().decode(this.readBinarySync(uri));
  }

  override readDirectorySync(uri: URI): FileSystemNode[] {
    if (this.#isPackage(uri)) return this.#packages.readDirectorySync(uri);
    const folder = withoutSlash(uri.path);
    const entries = this.#folders.get(folder);
    if (!entries) throw absent(uri);
    return [...entries].map(([name, kind]) => ({
      uri: uri.with({ path: `${folder}/${name}` }),
      isFile: kind === 'file',
      isDirectory: kind === 'folder',
    }));
  }

  sizeSync(uri: URI): number {
    return this.#isPackage(uri) ? this.#packages.sizeSync(uri) : this.readBinarySync(uri).length;
  }

  /** What is written anew is another array. */
  versionSync(uri: URI): string {
    if (this.#isPackage(uri)) return this.#packages.versionSync(uri);
    const bytes = this.readBinarySync(uri);
    const version = versions.get(bytes) ?? String(++count);
    versions.set(bytes, version);
    return version;
  }

  *piecesSync(uri: URI, length: number): Iterable<Uint8Array> {
    const bytes = this.readBinarySync(uri);
    for (let at = 0; at < bytes.length; at += length) yield bytes.subarray(at, at + length);
  }

  async *pieces(uri: URI, length: number): AsyncIterable<Uint8Array> {
    yield* this.piecesSync(uri, length);
  }
}

const versions = new WeakMap<Uint8Array, string>();
let count = 0;

/** Of a path as it is written: the name of what it leads to. */
export const lastStep = (path: string): string => withoutSlash(posix.normalize(path)).split('/').at(-1) ?? '';

const absent = (uri: URI): Error => Object.assign(new Error(`${uri.path} is not there`), { code: 'ENOENT' });

/** The path of a file in a tree, from the root. */
export function pathBelow(root: URI, uri: string): string {
  const { path } = URI.parse(uri);
  const above = `${withoutSlash(root.path)}/`;
  return path.startsWith(above) ? path.slice(above.length) : uri;
}
