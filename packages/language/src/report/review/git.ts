/**
 * Reads versions of a repository from git: no checkout is touched, no shell is involved, nothing is fetched. What a caller names (a
 * revision, a path) never reaches git as an option.
 */

import { existsSync, lstatSync, readFileSync, readlinkSync, realpathSync } from 'node:fs';
import { join, posix } from 'node:path';
import { LONGEST_LOG } from '../../model/log/log-files.ts';
import { MAX_BYTES } from '../../resolve/openings.ts';
import { errorCodeOf } from '../../syntax/thrown.ts';
import { lastStep, type Tree } from './file-tree.ts';
import { MOST_LINKS, maybeLinks, pathsThrough } from './folder-links.ts';
import { CannotReview, GitObjects, git } from './git-run.ts';

export interface Repository {
  /** The folder of its files; of a bare one, its own. */
  readonly root: string;
  readonly isBare: boolean;
  readonly isShallow: boolean;
  /** To be closed in the end. */
  readonly objects: GitObjects;
}

/** The repository around a folder. */
export async function openRepository(folder: string): Promise<Repository> {
  // Git would be blamed for it.
  if (!existsSync(folder)) throw new CannotReview(`there is no folder ${folder}`);
  const { code, text, errors } = await git(folder, [
    'rev-parse',
    '--is-bare-repository',
    '--is-shallow-repository',
    '--show-toplevel',
  ]);
  // The folder of the files comes last, and is an error where there is none; its name may have line breaks.
  const [bare, shallow, ...top] = text.replace(/\n$/, '').split('\n');
  if (shallow === undefined) {
    const isForeign = /dubious ownership/.test(errors);
    throw new CannotReview(
      isForeign
        ? 'this repository belongs to another user, so git does not open it; `git config --global --add safe.directory` permits it'
        : 'this is not a git repository: a review needs one to compare with',
    );
  }
  const isBare = bare === 'true';
  if (!isBare && code !== 0)
    throw new CannotReview('this is inside the folder of git itself: run the review from the files');
  const root = isBare
    ? (await git(folder, ['rev-parse', '--absolute-git-dir'])).text.replace(/\n$/, '')
    : top.join('\n');
  const here = realpathSync(root);
  return { root: here, isBare, isShallow: shallow === 'true', objects: new GitObjects(here) };
}

/** The commit that a revision is. */
export async function resolveRevision(repository: Repository, name: string): Promise<string> {
  if (name.startsWith('-')) throw new CannotReview(`${quoted(name)} cannot be a revision: it begins with a dash`);
  // biome-ignore lint/suspicious/noControlCharactersInRegex: this is what is looked for.
  if (name === '' || /[\0-\x1f\x7f]/.test(name)) throw new CannotReview(`${quoted(name)} cannot be a revision`);
  const commit = await commitOf(repository, name);
  if (commit === undefined) throw new CannotReview(`there is no revision ${quoted(name)} here${advice(repository)}`);
  return commit;
}

async function commitOf({ objects }: Repository, name: string): Promise<string | undefined> {
  const [found] = await objects.read([`${name}^{commit}`]);
  return found?.name;
}

/** A local or remote branch: its tip goes on while a change waits. */
export async function isBranch({ root }: Repository, name: string): Promise<boolean> {
  const named = ['rev-parse', '--symbolic-full-name', '--verify', '--quiet', '--end-of-options'];
  const { text } = await git(root, [...named, name]);
  return /^refs\/(heads|remotes)\//m.test(text);
}

/** The commit that is checked out; none where nothing is committed yet on the branch that is. */
export async function headCommit(repository: Repository): Promise<string | undefined> {
  const commit = await commitOf(repository, 'HEAD');
  if (commit !== undefined) return commit;
  const { root } = repository;
  const isUnborn =
    (await git(root, ['rev-parse', '--verify', '--quiet', 'HEAD'])).code !== 0 &&
    (await git(root, ['symbolic-ref', '--quiet', 'HEAD'])).code === 0;
  return isUnborn ? undefined : resolveRevision(repository, 'HEAD');
}

/** Where two lines of work parted. */
export async function mergeBase(repository: Repository, one: string, other: string, name: string): Promise<string> {
  const { code, text } = await git(repository.root, ['merge-base', one, other]);
  const [base] = text.split('\n');
  if (code === 0 && base) return base;
  throw new CannotReview(
    repository.isShallow
      ? `the commit at which ${quoted(name)} and this work parted is not here${advice(repository)}`
      : `${quoted(name)} and this work have no commit in common; --direct compares the two as they are`,
  );
}

function advice({ isShallow }: Repository): string {
  return isShallow
    ? '; this clone is shallow: fetch more of its history first (`git fetch --unshallow`, or `fetch-depth: 0` in a workflow)'
    : '';
}

interface Entry {
  readonly blob: string;
  readonly isLink: boolean;
}

/** The Fettle files of a commit, and the files whose rows they read. */
export async function readCommit(repository: Repository, commit: string): Promise<Tree> {
  const entries = new Map<string, Entry>();
  const submodules: string[] = [];
  // Folders of one depth at once.
  for (let folders = [{ path: '', tree: `${commit}^{tree}` }]; folders.length > 0; ) {
    const found = await repository.objects.read(folders.map(({ tree }) => tree));
    const below: typeof folders = [];
    for (const [i, { path: folder }] of folders.entries()) {
      const tree = found[i];
      if (!tree?.bytes) throw new CannotReview(`the files of ${commit.slice(0, 12)} are not here${advice(repository)}`);
      for (const { mode, name, object } of entriesOf(tree.bytes, tree.name.length / 2)) {
        const path = `${folder}${name}`;
        if (mode === FOLDER) below.push({ path: `${path}/`, tree: object });
        else if (mode === SUBMODULE) submodules.push(path);
        else entries.set(path, { blob: object, isLink: mode === LINK });
      }
    }
    folders = below;
  }
  return treeOfEntries(repository, entries, submodules);
}

/** Of a folder as git keeps it: mode, name and the name of the object, in as many bytes as such names have. */
function* entriesOf(
  bytes: Buffer,
  length: number,
): Iterable<{ readonly mode: string; readonly name: string; readonly object: string }> {
  for (let at = 0; at < bytes.length; ) {
    const blank = bytes.indexOf(0x20, at);
    const end = bytes.indexOf(0, blank);
    if (blank < 0 || end < 0 || end + length >= bytes.length) throw new CannotReview('a folder of a commit is damaged');
    // Some tools wrote folders with a nought in front, others without.
    const mode = bytes.toString('latin1', at, blank).padStart(6, '0');
    at = end + 1 + length;
    yield { mode, name: bytes.toString('utf8', blank + 1, end), object: bytes.toString('hex', end + 1, at) };
  }
}

/** What the next commit has, as it is staged; new files that are not staged are no part of it, and are named. */
export async function readStaged(repository: Repository): Promise<Tree> {
  const { known, others } = await listed(repository, 'what is staged');
  const entries = new Map<string, Entry>();
  for (const { mode, blob, stage, path } of known) {
    if (stage !== '0' && path.endsWith('.fettle'))
      throw new CannotReview(`${path} is staged as two sides of a merge: finish the merge first`);
    if (mode !== SUBMODULE) entries.set(path, { blob, isLink: mode === LINK });
  }
  const tree = await treeOfEntries(repository, entries, submodulesAmong(known));
  return { ...tree, leftOut: others.filter((path) => path.endsWith('.fettle')).sort() };
}

function treeOfEntries(
  repository: Repository,
  entries: ReadonlyMap<string, Entry>,
  submodules: readonly string[],
): Promise<Tree> {
  return treeOf([...entries.keys()], submodules, async (paths) => {
    const wanted = paths.flatMap((path) => {
      const entry = entries.get(path);
      return entry ? [{ path, entry }] : [];
    });
    const names = [...new Set(wanted.map(({ entry }) => entry.blob))];
    const found = await repository.objects.read(names, Math.max(MAX_BYTES, LONGEST_LOG));
    const blobs = new Map(names.map((name, i) => [name, found[i]]));
    return new Map(
      wanted.map(({ path, entry: { blob, isLink } }): [string, Content] => {
        const object = blobs.get(blob);
        if (isLink && object?.bytes) return [path, new Link(object.bytes.toString('utf8'))];
        if ((object?.size ?? 0) > mostBytesOf(path)) return [path, TOO_LARGE];
        return [path, object?.bytes ?? 'its contents are not in this clone'];
      }),
    );
  });
}

/** Modes of what is no file. */
const FOLDER = '040000';
const LINK = '120000';
const SUBMODULE = '160000';

interface Listed {
  readonly mode: string;
  readonly blob: string;
  /** 0, or a side of a merge. */
  readonly stage: string;
  readonly path: string;
}

/** What git knows of, and the paths of new files that it does not ignore. */
async function listed(
  { root }: Repository,
  what: string,
): Promise<{ readonly known: readonly Listed[]; readonly others: readonly string[] }> {
  const listing = ['ls-files', '-z', '-t', '--full-name', '--stage', '--cached', '--others', '--exclude-standard'];
  const { code, text } = await git(root, listing);
  if (code !== 0) throw new CannotReview(`git could not list ${what}`);
  const known: Listed[] = [];
  const others: string[] = [];
  // Each with a letter in front that states which of the two it is: a new file may have any name.
  for (const record of text.split('\0')) {
    if (record.startsWith('? ')) others.push(record.slice(2));
    const [, mode, blob = '', stage = '', path = ''] = /^[^?] (\d+) ([0-9a-f]+) (\d)\t(.*)$/s.exec(record) ?? [];
    if (mode !== undefined) known.push({ mode, blob, stage, path });
  }
  return { known, others };
}

const submodulesAmong = (known: readonly Listed[]): string[] =>
  known.flatMap(({ mode, path }) => (mode === SUBMODULE ? [path] : []));

/** The files as they are on the disk: those git knows, and new ones it does not ignore. */
export async function readWorkingTree(repository: Repository): Promise<Tree> {
  const { known, others } = await listed(repository, 'the files of the working tree');
  const paths = [...new Set([...known.map(({ path }) => path), ...others])];
  return treeOf(paths, submodulesAmong(known), async (wanted) => {
    const read = wanted.map((path) => [path, readFromDisk(join(repository.root, path), mostBytesOf(path))] as const);
    return new Map(read.flatMap(([path, contents]) => (contents === undefined ? [] : [[path, contents]])));
  });
}

/** Undefined when it is deleted, and not yet so recorded. */
function readFromDisk(file: string, mostBytes: number): Content | undefined {
  try {
    const stat = lstatSync(file);
    if (stat.isSymbolicLink()) return new Link(readlinkSync(file));
    if (stat.size > mostBytes) return TOO_LARGE;
    return stat.isFile() ? readFileSync(file) : undefined;
  } catch (error) {
    const code = errorCodeOf(error);
    return code === 'ENOENT' || code === 'ENOTDIR' ? undefined : 'it cannot be read';
  }
}

/** The target of a link: a path, as seen from the link. */
class Link {
  readonly target: string;

  constructor(target: string) {
    this.target = target;
  }
}

const TOO_LARGE = 'it is too large';

/** A log may be as long as for a check. */
const mostBytesOf = (path: string): number => (path.endsWith('.fettle') ? MAX_BYTES : LONGEST_LOG);

/** Bytes, where they are, or why there are none. */
type Content = Uint8Array | Link | string;

/** By path. */
type Contents = ReadonlyMap<string, Content>;

async function treeOf(
  paths: readonly string[],
  submodules: readonly string[],
  read: (paths: readonly string[]) => Promise<Contents>,
): Promise<Tree> {
  const sorted = paths.toSorted();
  const broken: string[] = [];
  const readThrough = async (wanted: readonly string[]) => {
    const { contents, lost } = await followed(await read(wanted), new Set(paths), read);
    broken.push(...lost.filter((path) => path.endsWith('.fettle')));
    return contents;
  };
  const fettle = await readThrough(sorted.filter((path) => path.endsWith('.fettle')));
  const linked = await throughLinks(fettle, sorted, read);
  for (const [path, real] of linked) {
    const contents = fettle.get(real);
    if (contents !== undefined) fettle.set(path, contents);
  }
  const rows = new Set([...namedIn(fettle, FROM)].map(({ named }) => lastStep(named)));
  const isRows = (path: string) => !path.endsWith('.fettle') && rows.has(lastStep(path));
  const others = sorted.filter(isRows);
  const data = others.length > 0 ? await readThrough(others) : new Map<string, Uint8Array | string>();
  for (const [path, real] of linked) {
    const contents = isRows(path) ? data.get(real) : undefined;
    if (contents !== undefined) data.set(path, contents);
  }
  const files = new Map<string, Uint8Array>();
  const unread = new Map<string, string>();
  for (const [path, contents] of [...fettle, ...data]) {
    if (typeof contents !== 'string') files.set(path, contents);
    // A check reads no longer log either, and reports that.
    else if (path.endsWith('.fettle') || contents !== TOO_LARGE) unread.set(path, contents);
  }
  return { files, unread, submodules, broken, linked: new Set(linked.keys()) };
}

/** What texts open through links to folders, by its path through the link: the path of the file. */
async function throughLinks(
  fettle: ReadonlyMap<string, Uint8Array | string>,
  paths: readonly string[],
  read: (paths: readonly string[]) => Promise<Contents>,
): Promise<Map<string, string>> {
  const all = new Set(paths);
  const opened = [USE, FROM].flatMap((pattern) =>
    [...namedIn(fettle, pattern)].map(({ path, named }) => posix.join(posix.dirname(path), named)),
  );
  const maybe = maybeLinks(opened, all);
  if (maybe.size === 0) return new Map();
  const found = [...(await read([...maybe]))].flatMap(([path, one]) =>
    one instanceof Link ? [[path, one.target] as const] : [],
  );
  return pathsThrough(new Map(found), paths);
}

/** A link to a file of the same version is that file at another place, as on the disk; of others there is nothing to read. */
async function followed(
  found: Contents,
  paths: ReadonlySet<string>,
  read: (paths: readonly string[]) => Promise<Contents>,
): Promise<{ contents: Map<string, Uint8Array | string>; lost: string[] }> {
  const contents = new Map<string, Uint8Array | string>();
  const lost: string[] = [];
  for (const [path, content] of found) {
    let [at, one]: [string, Content | undefined] = [path, content];
    for (let links = 0; one instanceof Link && links < MOST_LINKS; links++) {
      at = posix.join(posix.dirname(at), one.target);
      one = paths.has(at) ? (found.get(at) ?? (await read([at])).get(at)) : undefined;
    }
    if (one === undefined || one instanceof Link) lost.push(path);
    else contents.set(path, one);
  }
  return { contents, lost };
}

/** Paths that texts state, behind `use` or `from`. */
function* namedIn(
  files: ReadonlyMap<string, Uint8Array | string>,
  pattern: RegExp,
): Iterable<{ readonly path: string; readonly named: string }> {
  for (const [path, contents] of files) {
    if (typeof contents === 'string') continue;
    const text = Buffer.from(contents.buffer, contents.byteOffset, contents.byteLength).toString('utf8');
    for (const [, named = ''] of text.matchAll(pattern)) yield { path, named };
  }
}

/** With comments in between. */
const FROM = /\bfrom(?:\s|(?:\/\/|#)[^\n\r]*[\n\r])*"([^"\n\r]+)"/g;
const USE = /\buse(?:\s|(?:\/\/|#)[^\n\r]*[\n\r])*"([^"\n\r]+)"/g;

const quoted = (text: string): string => `“${text}”`;
