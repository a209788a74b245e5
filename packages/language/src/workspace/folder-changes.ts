/** Reports files that are created, deleted or changed below some folders: for a client that cannot watch itself. */
import { differenceOf, FolderWatch, foldersBelow, snapshotOf } from './file-watch.ts';

export interface FolderChanges {
  readonly created: readonly string[];
  readonly changed: readonly string[];
  readonly gone: readonly string[];
}

/** The system does not report more folders: then a client has to watch. */
const MOST_FOLDERS = 5000;

/** @returns false where there are too many folders to watch */
export function reportChanges(roots: readonly string[], notify: (changes: FolderChanges) => void): boolean {
  const below = (): string[] => roots.flatMap(foldersBelow);
  let folders = below();
  if (folders.length > MOST_FOLDERS) return false;
  let known = snapshotOf(folders);
  const watch = new FolderWatch(() => {
    folders = below();
    watch.follow(new Set(folders));
    const now = snapshotOf(folders);
    const { changed, gone } = differenceOf(known, now);
    const created = changed.filter((path) => !known.has(path));
    known = now;
    if (changed.length + gone.length > 0)
      notify({ created, changed: changed.filter((path) => !created.includes(path)), gone });
  });
  watch.follow(new Set(folders));
  return true;
}
