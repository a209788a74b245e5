/** Which files a change may reach, and which others are needed to understand those. */
import { posix } from 'node:path';
import { URI } from 'langium';
import { placesOf } from '../../resolve/keys.ts';
import type { Files } from './file-tree.ts';
import { type Chunk, type Outline, outlineOf, stepWord } from './outline.ts';

export interface ChangeReach {
  /** Files whose text differs, or the rows that they read. */
  readonly changed: readonly string[];
  /** Files with something that rests on what was changed, directly or through others: their builds and text findings are compared. */
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

/** Of these folders those that some file opens, or something in them. */
export function openedAmong(folders: readonly string[], versions: readonly Outlines[]): string[] {
  if (folders.length === 0) return [];
  const places = new Set(versions.flatMap((version) => [...version].flatMap(([path, one]) => placesOpened(path, one))));
  const isOpened = (folder: string) => [...places].some((place) => place === folder || place.startsWith(`${folder}/`));
  return folders.filter(isOpened).sort();
}

/** From the root, each place that the `use` lines of a file may mean. */
const placesOpened = (path: string, outline: Outline | undefined): string[] =>
  outline?.uses.flatMap((use) => [...placesOf(URI.file(`/${path}`), use)].map((place) => place.path.slice(1))) ?? [];

/** From the root; a slash behind it means nothing. */
const placeOfRows = (path: string, file: string): string => posix.join(folderOf(path), file).replace(/\/$/, '');

/** @param differs whether a file, Fettle or data, is another one in the two versions */
export function changeReachOf(before: Outlines, after: Outlines, differs: (path: string) => boolean): ChangeReach {
  const names = new Names(before, after);
  const withOtherRows = (path: string): Chunk[] =>
    names.chunksOf(path).filter(({ rows }) => rows.some((file) => differs(placeOfRows(path, file))));
  const changed = names.paths.filter((path) => differs(path) || withOtherRows(path).length > 0);
  const namesChanged = (path: string): string[] => [
    ...changedNames(before.get(path), after.get(path)),
    ...withOtherRows(path).flatMap((chunk) => chunk.names),
  ];
  const starts = [
    ...changed.flatMap((path) => namesChanged(path).map((name) => ({ name, in: path }))),
    ...[...pathWords(before, after), ...pathWords(after, before)].map((name) => ({ name })),
  ];
  const reached = new Set([...changed, ...reachedFrom(starts, names)]);
  return { changed, reached, needed: neededBy(reached, names) };
}

/** Names whose declaration came, went or reads otherwise; all of a file whose `use` lines do. */
function changedNames(before: Outline | undefined, after: Outline | undefined): string[] {
  const old = declaredIn(before);
  const now = declaredIn(after);
  const isOther = (key: string) => old.get(key)?.text !== now.get(key)?.text;
  if (isOther(BEFORE_ALL)) return [...(before?.chunks ?? []), ...(after?.chunks ?? [])].flatMap(({ names }) => names);
  return [...new Map([...old, ...now])].flatMap(([key, { names }]) => (isOther(key) ? names : []));
}

/** The key of what is before the first declaration: it has no names. */
const BEFORE_ALL = '';

/** By their names, with all that is declared under them. */
function declaredIn(outline: Outline | undefined): Map<string, Pick<Chunk, 'names' | 'text'>> {
  const declared = new Map<string, Pick<Chunk, 'names' | 'text'>>();
  for (const { names, text } of outline?.chunks ?? []) {
    const key = names.join(' ');
    declared.set(key, { names, text: `${declared.get(key)?.text ?? ''}\n${text}` });
  }
  return declared;
}

/** Files and folders that only one version has, as `use` lines name them. */
function pathWords(of: Outlines, other: Outlines): string[] {
  const folders = new Set([...other.keys()].map(folderOf));
  return [...of.keys()]
    .filter((path) => !other.has(path))
    .flatMap((path) => [stepWord(path), ...(folders.has(folderOf(path)) ? [] : [stepWord(folderOf(path))])]);
}

const folderOf = (path: string): string => path.slice(0, Math.max(0, path.lastIndexOf('/')));

/** Something declared in a file; without the file, a word wherever it occurs. */
interface Start {
  readonly name: string;
  readonly in?: string;
}

interface NameUse {
  readonly path: string;
  readonly chunk: Chunk;
  /** What rests on the declarations here. */
  readonly declared: readonly string[];
}

/** Who declares what, who uses it, and which files see which, in either version. */
class Names {
  readonly paths: readonly string[];
  readonly #versions: readonly Outlines[];
  readonly #declaring = new Map<string, Set<string>>();
  readonly #saying = new Map<string, NameUse[]>();
  /** By folder: its files. */
  readonly #folders = new Map<string, string[]>();
  readonly #opened = new Map<string, ReadonlySet<string>>();

  constructor(before: Outlines, after: Outlines) {
    this.#versions = [before, after];
    this.paths = [...new Set([...before.keys(), ...after.keys()])].sort();
    for (const path of this.paths) {
      listIn(this.#folders, folderOf(path)).push(path);
      for (const { chunks } of this.versionsOf(path)) this.#enter(path, chunks);
    }
  }

  versionsOf(path: string): Outline[] {
    const outlines = this.#versions.map((version) => version.get(path));
    return [...new Set(outlines.filter((outline) => outline !== undefined))];
  }

  chunksOf(path: string): Chunk[] {
    return this.versionsOf(path).flatMap(({ chunks }) => chunks);
  }

  usesOf(name: string): readonly NameUse[] {
    return this.#saying.get(name) ?? [];
  }

  declaring(name: string): ReadonlySet<string> {
    return this.#declaring.get(name) ?? NONE;
  }

  /** As names are looked up: in a file's own folder and in what its `use` lines open. */
  sees(from: string, to: string): boolean {
    const folder = folderOf(to);
    if (folder === folderOf(from)) return true;
    const opened = this.opened(from);
    return opened.has(to) || opened.has(folder);
  }

  /** Files and folders that a file's `use` lines open. */
  opened(path: string): ReadonlySet<string> {
    const known = this.#opened.get(path);
    if (known) return known;
    const places = this.versionsOf(path).flatMap((outline) => placesOpened(path, outline));
    const isThere = (place: string) => this.#folders.has(place) || this.#versions.some((version) => version.has(place));
    const opened = new Set(places.filter(isThere));
    this.#opened.set(path, opened);
    return opened;
  }

  /** Files that may learn from what was observed on a build: any that see it. */
  learningFrom({ name, in: file }: Start): readonly string[] {
    const isObserved = (one: Chunk) => one.isObserved && one.names.includes(name);
    if (file === undefined || !this.chunksOf(file).some(isObserved)) return [];
    return this.paths.filter((path) => this.sees(path, file));
  }

  /** Files of a folder, or the file itself. */
  filesAt(place: string): readonly string[] {
    return this.#folders.get(place) ?? [place];
  }

  #enter(path: string, chunks: readonly Chunk[]): void {
    const all = chunks.flatMap(({ names }) => names);
    for (const name of all) this.#declaring.set(name, (this.#declaring.get(name) ?? new Set()).add(path));
    for (const chunk of chunks) {
      // What is before the declarations applies to all of them.
      const declared = chunk === chunks[0] ? all : chunk.names;
      for (const word of chunk.words) listIn(this.#saying, word).push({ path, chunk, declared });
    }
  }
}

const NONE: ReadonlySet<string> = new Set();

function listIn<T>(lists: Map<string, T[]>, key: string): T[] {
  const list = lists.get(key) ?? [];
  lists.set(key, list);
  return list;
}

function reachedFrom(starts: readonly Start[], names: Names): Set<string> {
  const reached = new Set<string>();
  const seen = new Map(starts.map((start) => [keyOf(start), start]));
  const add = (start: Start) => seen.set(keyOf(start), seen.get(keyOf(start)) ?? start);
  for (const start of seen.values()) {
    for (const path of names.learningFrom(start)) reached.add(path);
    for (const { path, chunk, declared } of names.usesOf(start.name)) {
      if (start.in !== undefined && !names.sees(path, start.in)) continue;
      reached.add(path);
      for (const name of declared) add({ name, in: path });
      // A test stand describes its propeller: whoever names that propeller depends on the stand.
      for (const name of chunk.measured)
        for (const home of names.declaring(name)) if (names.sees(path, home)) add({ name, in: home });
    }
  }
  return reached;
}

const keyOf = ({ name, in: file = '' }: Start): string => `${name} ${file}`;

function neededBy(reached: ReadonlySet<string>, names: Names): Set<string> {
  const stands = names.paths.filter((path) => names.chunksOf(path).some(({ measured }) => measured.length > 0));
  const observed = names.paths.filter((path) => names.chunksOf(path).some(({ isObserved }) => isObserved));
  const needed = new Set(reached);
  for (const path of needed) {
    for (const { words } of names.chunksOf(path)) {
      for (const word of words) {
        const declaring = [...names.declaring(word)];
        const inScope = declaring.filter((file) => names.sees(path, file));
        // A finding on a name that is not in scope names its place.
        for (const file of inScope.length === 0 && reached.has(path) ? declaring : inScope) needed.add(file);
      }
    }
    for (const file of stands) if (names.sees(path, file)) needed.add(file);
    const places = [...names.opened(path)];
    // A folder that is opened is not empty, whether or not anything of it is used.
    for (const [first] of places.map((place) => names.filesAt(place))) if (first !== undefined) needed.add(first);
    if (!reached.has(path)) continue;
    for (const file of observed) if (names.sees(path, file)) needed.add(file);
    // For a name that is like one in scope.
    for (const place of [folderOf(path), ...places])
      for (const file of names.filesAt(place)) if (declaresParts(names.versionsOf(file))) needed.add(file);
  }
  return needed;
}

const declaresParts = (versions: readonly Outline[]): boolean =>
  versions.some(({ chunks, builds }) => chunks.flatMap(({ names }) => names).length > builds);
