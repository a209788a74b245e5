/** Which files a change may reach, and which others are needed to understand those. */
import { URI } from 'langium';
import { placesOf } from '../../model/references/openings.ts';
import { type Outline, outlineOf, stepWord } from './outline.ts';
import type { Files } from './tree.ts';

export interface Reach {
  /** Files whose text differs. */
  readonly changed: readonly string[];
  /** Files with something that says a changed name, directly or through others: their builds and text findings are compared. */
  readonly reached: ReadonlySet<string>;
  /** These and all that they need. */
  readonly needed: ReadonlySet<string>;
}

/** Outlines of one version's Fettle files; a file that is no text has none. */
export type Outlines = ReadonlyMap<string, Outline | undefined>;

export function outlinesOf(files: Files, known: Outlines = new Map(), same: ReadonlySet<string> = new Set()): Outlines {
  const outlines = new Map<string, Outline | undefined>();
  for (const [path, bytes] of files) {
    if (!path.endsWith('.fettle')) continue;
    outlines.set(path, same.has(path) ? known.get(path) : outlineOfBytes(bytes));
  }
  return outlines;
}

function outlineOfBytes(bytes: Uint8Array): Outline | undefined {
  return bytes.includes(0) ? undefined : outlineOf(new TextDecoder().decode(bytes));
}

/** Paths of Fettle and data files with the same bytes in both versions. */
export function samePaths(before: Files, after: Files): Set<string> {
  const same = new Set<string>();
  for (const [path, bytes] of before) {
    const other = after.get(path);
    if (other && (other === bytes || (other.length === bytes.length && Buffer.compare(bytes, other) === 0)))
      same.add(path);
  }
  return same;
}

export function reachOf(before: Outlines, after: Outlines, same: ReadonlySet<string>): Reach {
  const paths = [...new Set([...before.keys(), ...after.keys()])].sort();
  const changed = paths.filter((path) => !same.has(path));
  const versionsOf = (path: string): Outline[] => [
    ...new Set([before.get(path), after.get(path)].filter((outline) => outline !== undefined)),
  ];
  const names = [
    ...changed.flatMap((path) => changedNames(before.get(path), after.get(path))),
    ...pathWords(before, after),
    ...pathWords(after, before),
  ];
  const reached = new Set([...changed, ...reachedBy(names, paths, versionsOf)]);
  return { changed, reached, needed: neededBy(reached, paths, versionsOf) };
}

/** Names whose declaration came, went or reads otherwise; all of a file whose `use` lines do. */
function changedNames(before: Outline | undefined, after: Outline | undefined): string[] {
  const old = textsOf(before);
  const now = textsOf(after);
  const isOther = (key: string) => old.get(key) !== now.get(key);
  if (isOther('')) return [...(before?.chunks ?? []), ...(after?.chunks ?? [])].flatMap(({ names }) => names);
  return [...new Set([...old.keys(), ...now.keys()])].filter(isOther).flatMap((key) => key.split(' '));
}

function textsOf(outline: Outline | undefined): Map<string, string> {
  const texts = new Map<string, string>();
  for (const { names, text } of outline?.chunks ?? []) {
    const key = names.join(' ');
    texts.set(key, `${texts.get(key) ?? ''}\n${text}`);
  }
  return texts;
}

/** Files and folders that only one version has, as `use` lines say them. */
function pathWords(of: Outlines, other: Outlines): string[] {
  const folders = new Set([...other.keys()].map(folderOf));
  return [...of.keys()]
    .filter((path) => !other.has(path))
    .flatMap((path) => [stepWord(path), ...(folders.has(folderOf(path)) ? [] : [stepWord(folderOf(path))])]);
}

const folderOf = (path: string): string => path.slice(0, Math.max(0, path.lastIndexOf('/')));

function reachedBy(
  names: readonly string[],
  paths: readonly string[],
  versionsOf: (path: string) => Outline[],
): Set<string> {
  const saying = new Map<string, { path: string; declared: readonly string[] }[]>();
  for (const path of paths) {
    for (const { chunks } of versionsOf(path)) {
      const all = chunks.flatMap((chunk) => chunk.names);
      for (const chunk of chunks) {
        // What stands before the declarations is said for all of them.
        const declared = chunk === chunks[0] ? all : chunk.names;
        for (const word of chunk.words) {
          const entry = { path, declared };
          const known = saying.get(word);
          if (known) known.push(entry);
          else saying.set(word, [entry]);
        }
      }
    }
  }
  const reached = new Set<string>();
  const seen = new Set(names);
  for (const name of seen) {
    for (const { path, declared } of saying.get(name) ?? []) {
      reached.add(path);
      for (const other of declared) seen.add(other);
    }
  }
  return reached;
}

function neededBy(
  reached: ReadonlySet<string>,
  paths: readonly string[],
  versionsOf: (path: string) => Outline[],
): Set<string> {
  const declaring = new Map<string, Set<string>>();
  const known = new Set(paths);
  const firstOfFolder = new Map<string, string>();
  for (const path of paths) {
    if (!firstOfFolder.has(folderOf(path))) firstOfFolder.set(folderOf(path), path);
    for (const { chunks } of versionsOf(path)) {
      for (const name of chunks.flatMap((chunk) => chunk.names)) {
        const files = declaring.get(name) ?? new Set();
        declaring.set(name, files.add(path));
      }
    }
  }
  const needed = new Set(reached);
  for (const path of needed) {
    for (const { chunks, uses } of versionsOf(path)) {
      for (const { words } of chunks)
        for (const word of words) for (const file of declaring.get(word) ?? []) needed.add(file);
      // A folder that is opened is not empty, whether or not anything of it is used.
      for (const use of uses) {
        for (const place of placesOf(URI.file(`/${path}`), use)) {
          const opened = place.path.slice(1);
          const file = known.has(opened) ? opened : firstOfFolder.get(opened);
          if (file !== undefined) needed.add(file);
        }
      }
    }
  }
  return needed;
}
