/** Which files of some folders came, went or changed. */

import { type FSWatcher, readdirSync, statSync, watch } from 'node:fs';
import { join } from 'node:path';
import { isRead } from '../resolve/read-files.ts';
import { errorCodeOf } from '../syntax/thrown.ts';

/** ms: an editor saves in several steps, a checkout writes many files. */
const SETTLING = 120;
/** ms: where the system does not report, one has to look. */
const LOOKING = 1000;

/** One stamp per file: another one means another content. */
export type Snapshot = ReadonlyMap<string, string>;

export function snapshotOf(folders: Iterable<string>): Snapshot {
  const stamps = new Map<string, string>();
  for (const folder of folders) {
    for (const name of namesIn(folder)) {
      if (!isRead(name)) continue;
      const path = join(folder, name);
      const stamp = stampOf(path);
      if (stamp !== undefined) stamps.set(path, stamp);
    }
  }
  return stamps;
}

export interface FileDifference {
  readonly changed: readonly string[];
  readonly gone: readonly string[];
}

export function differenceOf(before: Snapshot, now: Snapshot): FileDifference {
  return {
    changed: [...now].filter(([path, stamp]) => before.get(path) !== stamp).map(([path]) => path),
    gone: [...before.keys()].filter((path) => !now.has(path)),
  };
}

/** The folder and all below it, without hidden ones and `node_modules`; links are not followed. */
export function foldersBelow(folder: string): string[] {
  const found = [folder];
  // Grows as it is gone through.
  for (const from of found) {
    for (const entry of entriesOf(from)) {
      if (entry.isDirectory() && !entry.name.startsWith('.') && entry.name !== 'node_modules')
        found.push(join(from, entry.name));
    }
  }
  return found;
}

function entriesOf(folder: string) {
  try {
    return readdirSync(folder, { withFileTypes: true });
  } catch {
    return [];
  }
}

const namesIn = (folder: string): string[] => entriesOf(folder).map(({ name }) => name);

export const sourcesIn = (folder: string): string[] => namesIn(folder).filter((name) => name.endsWith('.fettle'));

function stampOf(path: string): string | undefined {
  try {
    const { mtimeMs, size, ino } = statSync(path);
    return `${mtimeMs} ${size} ${ino}`;
  } catch {
    return undefined;
  }
}

/** Calls back when something in the folders may have changed, once a burst of changes. */
export class FolderWatch {
  readonly #watchers = new Map<string, FSWatcher>();
  readonly #notify: () => void;
  #settling: NodeJS.Timeout | undefined;
  #looking: NodeJS.Timeout | undefined;

  constructor(notify: () => void) {
    this.#notify = notify;
  }

  /** From now on these; false where the system cannot report all of them, so that they are looked at every second. */
  follow(folders: ReadonlySet<string>): boolean {
    for (const [folder, watcher] of this.#watchers) {
      if (folders.has(folder)) continue;
      watcher.close();
      this.#watchers.delete(folder);
    }
    for (const folder of folders) if (!this.#watchers.has(folder)) this.#add(folder);
    return this.#looking === undefined;
  }

  close(): void {
    for (const watcher of this.#watchers.values()) watcher.close();
    this.#watchers.clear();
    clearTimeout(this.#settling);
    clearInterval(this.#looking);
  }

  #add(folder: string): void {
    try {
      const watcher = watch(folder, () => this.#soon());
      // A folder that goes is seen by the one above it.
      watcher.on('error', () => this.#soon());
      this.#watchers.set(folder, watcher);
    } catch (error) {
      if (errorCodeOf(error) === 'ENOENT') return;
      this.#looking ??= setInterval(this.#notify, LOOKING);
    }
  }

  #soon(): void {
    if (this.#settling !== undefined) return;
    this.#settling = setTimeout(() => {
      this.#settling = undefined;
      this.#notify();
    }, SETTLING);
  }
}
