/** What is to be compared: from the options of the command to both versions of the files. */
import { existsSync, realpathSync } from 'node:fs';
import { join, relative, resolve, sep } from 'node:path';
import { URI } from 'langium';
import { EMPTY_TREE, type Tree } from './file-tree.ts';
import {
  headCommit,
  isBranch,
  mergeBase,
  openRepository,
  type Repository,
  readCommit,
  readStaged,
  readWorkingTree,
  resolveRevision,
} from './git.ts';
import { CannotReview } from './git-run.ts';
import type { Request } from './review.ts';
import type { Version } from './review-data.ts';

export interface ReviewRequest {
  /** Somewhere in the repository. */
  readonly folder: string;
  /** Builds below these are requested, as seen from the folder. */
  readonly paths: readonly string[];
  readonly base: string;
  /** A revision; the working tree when none is named. */
  readonly head?: string;
  /** Compare with the base itself, not with where the work parted from it. */
  readonly direct?: boolean;
  /** What is staged instead of the working tree. */
  readonly staged?: boolean;
  /** Whether HEAD may be nothing yet: before the first commit all builds come. */
  readonly fromNothing?: boolean;
}

/** Reads both versions. Throws {@link CannotReview}. */
export async function requestOf(asked: ReviewRequest): Promise<Request> {
  const repository = await openRepository(asked.folder);
  try {
    return await requestIn(repository, asked);
  } finally {
    repository.objects.close();
  }
}

async function requestIn(repository: Repository, { folder, paths, ...options }: ReviewRequest): Promise<Request> {
  const head = await headOf(repository, options);
  const base = await baseOf(repository, options, head);
  const tree = {
    base: base.commit === undefined ? EMPTY_TREE : await readCommit(repository, base.commit),
    head: await head.read(),
  };
  refuseConflicts(tree.base, tree.head, head.version.name);
  const isAsked = requestedFor(repository, folder, paths);
  for (const path of paths) {
    const covers = requestedFor(repository, folder, [path]);
    const isThere = [...tree.base.files.keys(), ...tree.head.files.keys()].some(covers);
    if (!isThere && path !== '.') throw new CannotReview(`neither version has a .fettle file at “${path}”`);
  }
  return {
    root: URI.file(repository.root),
    base: { ...base, tree: tree.base },
    head: { ...head.version, tree: tree.head },
    isAsked: (path) => isAsked(path) && !tree.base.linked?.has(path) && !tree.head.linked?.has(path),
    isOnDisk: (path) => !repository.isBare && existsSync(join(repository.root, path)),
  };
}

interface Head {
  readonly version: Version;
  /** The commit it is on; none before the first one. */
  readonly commit?: string;
  readonly read: () => Promise<Tree>;
}

async function headOf(
  repository: Repository,
  { head: name, staged, fromNothing }: Pick<ReviewRequest, 'head' | 'staged' | 'fromNothing'>,
): Promise<Head> {
  if (name !== undefined && staged) throw new CannotReview('--staged already states what to review: leave out --head');
  if (name !== undefined && name !== WORKING_TREE) {
    const commit = await resolveRevision(repository, name);
    return { version: { name, commit }, commit, read: () => readCommit(repository, commit) };
  }
  if (repository.isBare) throw new CannotReview('a bare repository has no working tree: state a revision with --head');
  const commit = fromNothing ? await headCommit(repository) : await resolveRevision(repository, 'HEAD');
  const checkedOut = commit === undefined ? {} : { commit };
  const on = commit === undefined ? {} : { on: commit };
  if (staged) return { version: { name: 'what is staged', ...on }, ...checkedOut, read: () => readStaged(repository) };
  return { version: { name: 'working tree', ...on }, ...checkedOut, read: () => readWorkingTree(repository) };
}

const WORKING_TREE = 'working-tree';

/** A branch goes on while a change waits: what the change does is seen from where it parted, as on a pull request. */
async function baseOf(
  repository: Repository,
  { base: name, direct }: Pick<ReviewRequest, 'base' | 'direct'>,
  head: Head,
): Promise<Version> {
  if (head.commit === undefined) {
    if (name === 'HEAD') return { name: 'nothing committed yet' };
    throw new CannotReview(
      `there is no revision “${name}” here: nothing is committed yet; --base HEAD compares with nothing`,
    );
  }
  const commit = await resolveRevision(repository, name);
  if (direct || commit === head.commit || !(await isBranch(repository, name))) return { name, commit };
  return { name, commit: await mergeBase(repository, commit, head.commit, name) };
}

/** Half a merge means nothing; in files that were changed there is nothing to review yet. */
function refuseConflicts(base: Tree, head: Tree, name: string): void {
  for (const [path, bytes] of head.files) {
    const line = conflictLine(bytes);
    const old = base.files.get(path);
    if (line > 0 && !(old && conflictLine(old) > 0))
      throw new CannotReview(`${path}:${line} in ${name} has conflict markers: finish the merge first`);
  }
}

function conflictLine(bytes: Uint8Array): number {
  const text = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (!text.includes('<<<<<<<') || !text.includes('>>>>>>>')) return 0;
  return (
    text
      .toString('utf8')
      .split('\n')
      .findIndex((line) => /^<{7}( |\r?$)/.test(line)) + 1
  );
}

/** Paths below what was named, as seen from the repository's root. */
function requestedFor(
  { root, isBare }: Repository,
  folder: string,
  paths: readonly string[],
): (path: string) => boolean {
  const here = isBare ? root : realpathSync(folder);
  const required = paths.map((path) => relative(root, resolve(here, path)).split(sep).join('/'));
  for (const [i, path] of required.entries()) {
    if (path === '..' || path.startsWith('../')) throw new CannotReview(`“${paths[i]}” is outside this repository`);
  }
  return (path) =>
    required.some(
      (one) => path === one || (isBelow(one, path) && isPlain(path.slice(one === '' ? 0 : one.length + 1))),
    );
}

const isBelow = (folder: string, path: string): boolean => folder === '' || path.startsWith(`${folder}/`);

/** As everywhere: in a folder nothing hidden and no packages are looked for. What opens them finds them. */
const isPlain = (path: string): boolean =>
  !path.split('/').some((step) => step.startsWith('.') || step === 'node_modules');
