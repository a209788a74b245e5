/** Where the workspace of a file ends: what lies outside, or is reached through a link that leads out, is not read. */
import { type FileSystemProvider, URI, UriUtils, type WorkspaceFolder } from 'langium';
import type { AbleFileSystem } from './file-systems.ts';
import { keyOf } from './keys.ts';

export class WorkspaceRoot {
  readonly #files: AbleFileSystem;
  readonly #folders: () => readonly WorkspaceFolder[];

  /** @param folders that are open in an editor */
  constructor(files: FileSystemProvider, folders: () => readonly WorkspaceFolder[]) {
    this.#files = files;
    this.#folders = folders;
  }

  /**
   * The workspace that a file belongs to: the repository around it, else the folder that is open in the editor or in which the command
   * runs, else its own folder.
   */
  of(file: URI): URI {
    const own = UriUtils.dirname(file);
    for (let folder = own; ; folder = UriUtils.dirname(folder)) {
      if (this.#files.existsSync(UriUtils.joinPath(folder, '.git'))) return folder;
      if (folder.path === UriUtils.dirname(folder).path) break;
    }
    const { startSync } = this.#files;
    const known = [...this.#folders().map(({ uri }) => URI.parse(uri)), ...(startSync ? [startSync()] : [])];
    return known.find((folder) => isBelow(folder, file)) ?? own;
  }

  /** Files in memory have no links, and nothing is outside of them. */
  isInside(root: URI, file: URI): boolean {
    return !this.#hasLinks || (isBelow(root, file) && isBelow(this.#real(root), this.#real(file)));
  }

  /** Of what is by its path inside of the workspace of a file: the root, where a link leads out of it. */
  leftBy(from: URI, place: URI): URI | undefined {
    // Most are no links at all: the root is not even looked for.
    if (!this.#hasLinks || keyOf(this.#real(place)) === keyOf(place)) return undefined;
    const root = this.of(from);
    return isBelow(root, place) && !this.isInside(root, place) ? root : undefined;
  }

  get #hasLinks(): boolean {
    return 'realSync' in this.#files;
  }

  #real(place: URI): URI {
    return this.#files.realSync?.(place) ?? place;
  }
}

const isBelow = (folder: URI, file: URI): boolean => keyOf(file).startsWith(`${keyOf(folder)}/`);
