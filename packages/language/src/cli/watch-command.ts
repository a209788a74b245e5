/** `fettle check --watch`: stays, and reports after each change how the builds that it touches have changed. */

import { existsSync, readFileSync, statSync } from 'node:fs';
import { dirname, join, resolve, sep } from 'node:path';
import { URI } from 'langium';
import { once } from '../analysis/evaluate/once.ts';
import { type CheckedDocument, checkDocument } from '../checks/run.ts';
import { readDocument } from '../checks/text/read-document.ts';
import { type Checked, gathered } from '../report/checked.ts';
import { recorded } from '../report/formats/record.ts';
import { blocksOf, countsLine, recordedText } from '../report/formats/text.ts';
import { pathBelow, type Tree } from '../report/review/file-tree.ts';
import { review } from '../report/review/review.ts';
import { type Review, SAVED } from '../report/review/review-data.ts';
import { toTextSince } from '../report/review/review-text.ts';
import { keyOf } from '../resolve/keys.ts';
import { terminalSafe } from '../syntax/terminal-safe.ts';
import { messageOf } from '../syntax/thrown.ts';
import { firstFew, plural } from '../vocabulary/phrasing.ts';
import type { Severity } from '../vocabulary/severities.ts';
import {
  differenceOf,
  type FileDifference,
  FolderWatch,
  foldersBelow,
  type Snapshot,
  snapshotOf,
} from '../workspace/file-watch.ts';
import { type Loaded, loadPaths } from '../workspace/load-paths.ts';
import { NodeFileSystem } from '../workspace/node-files.ts';
import { createFettleServices } from '../workspace/services.ts';
import { checkLoaded, colorsFor, exitCode, pathOf } from './checked-files.ts';
import { complain } from './refuse.ts';
import { progressOn } from './terminal-progress.ts';

/** Ends with Ctrl-C; the exit code is that of the last state. */
export async function watch(paths: readonly string[], failOn: Severity): Promise<number> {
  const stop = stopped();
  const session = new Session(paths);
  const colors = colorsFor(process.stdout);
  const print = (...lines: string[]) => process.stdout.write(`${lines.join('\n\n')}\n`);

  let run = await session.begin();
  print(recordedText(recorded(run, 'headlines'), colors), colors.dim('watching; Ctrl-C ends it'));

  let isBusy = false;
  let isAsked = false;
  const follow = async () => {
    isAsked = true;
    if (isBusy) return;
    isBusy = true;
    while (isAsked) {
      isAsked = false;
      try {
        const refreshed = await session.refresh();
        if (!refreshed) continue;
        run = refreshed.run;
        const { difference, touched, since } = refreshed;
        const heading = `${timeOfDay()}  ${namesOf(difference)}: ${plural(touched.files, 'file')} checked anew`;
        print(
          colors.bold(`── ${heading} ──`),
          ...blocksOf(recorded(touched, 'headlines'), colors),
          ...(since ? [toTextSince('since the last save', since, colors)] : []),
          `in all ${countsLine(run, colors)}`,
        );
      } catch (error) {
        complain(`internal error: ${messageOf(error)}`);
      }
      if (!folders.follow(session.folders)) reportOnce();
    }
    isBusy = false;
  };
  const folders = new FolderWatch(follow);
  const reportOnce = once(() => complain('the system cannot watch so many folders: they are read every second'));
  if (!folders.follow(session.folders)) reportOnce();
  // What changed between reading and watching.
  await follow();

  await stop;
  folders.close();
  return exitCode(run, failOn);
}

const stopped = (): Promise<void> =>
  new Promise((resolve) => {
    for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.once(signal, () => resolve());
  });

const timeOfDay = (): string => new Date().toTimeString().slice(0, 8);

const MOST_NAMES = 3;

/** "changed builds/spire.fettle; gone old.fettle" */
function namesOf({ changed, gone }: FileDifference): string {
  const some = (verb: string, paths: readonly string[]): string[] => {
    if (paths.length === 0) return [];
    const names = paths.map((path) => terminalSafe(pathOf(URI.file(path).toString())));
    return [`${verb} ${firstFew(names, MOST_NAMES)}`];
  };
  return [...some('changed', changed), ...some('gone', gone)].join('; ');
}

interface Refreshed {
  readonly run: Checked;
  readonly difference: FileDifference;
  /** Of the run what was checked anew. */
  readonly touched: Checked;
  /** What differs from the files as they were before; none where no build is touched. */
  readonly since?: Review;
}

/** Keeps what was read and checked; an update links and checks what the change can reach. */
export class Session {
  /** All that have to be watched. */
  folders: ReadonlySet<string> = new Set();
  readonly #paths: readonly string[];
  readonly #services = createFettleServices(NodeFileSystem);
  #snapshot: Snapshot = new Map();
  /** What is in each file of the snapshot. */
  #contents: ReadonlyMap<string, Kept> = new Map();
  #results: ReadonlyMap<string, CheckedDocument> = new Map();

  constructor(paths: readonly string[]) {
    this.#paths = paths;
  }

  async begin(): Promise<Checked> {
    this.#look();
    return this.#check();
  }

  /** Undefined when nothing changed. */
  async refresh(): Promise<Refreshed | undefined> {
    const before = this.#snapshot;
    const old = this.#contents;
    this.#look();
    const difference = differenceOf(before, this.#snapshot);
    const { changed, gone } = difference;
    if (changed.length === 0 && gone.length === 0) return undefined;

    const { DocumentBuilder, Loader } = this.#services.shared.workspace;
    const urisOf = (paths: readonly string[]) => paths.map((path) => URI.file(path));
    for (const uri of urisOf(gone)) Loader.failures.delete(keyOf(uri));
    await DocumentBuilder.update(urisOf(changed), urisOf(gone));
    const earlier = this.#results;
    const run = await this.#check();
    const touched = this.#touched(run, earlier);
    const since = touched.builds.length === 0 ? undefined : await this.#since(old);
    return { run, difference, touched, ...(since && { since }) };
  }

  /** Both versions are read from memory: a save may come while they are compared. */
  async #since(old: ReadonlyMap<string, Kept>): Promise<Review> {
    const now = this.#contents;
    const root = URI.file(folderAround([...old.keys(), ...now.keys()].map((path) => dirname(path))));
    const tree = (kept: ReadonlyMap<string, Kept>): Tree => ({
      files: new Map([...kept].map(([path, { bytes }]) => [pathBelow(root, URI.file(path).toString()), bytes])),
      unread: new Map(),
      submodules: [],
    });
    const required = this.#paths.map((path) => pathBelow(root, URI.file(resolve(path)).toString()));
    const whole = this.#paths.some((path) => URI.file(resolve(path)).path === root.path);
    return {
      ...(await review({
        root,
        base: { name: 'the last save', tree: tree(old) },
        head: { name: SAVED, tree: tree(now) },
        isAsked: (path) => whole || required.some((one) => path === one || path.startsWith(`${one}/`)),
      })),
      pathOf,
    };
  }

  async #check(): Promise<Checked> {
    const progress = progressOn(process.stderr);
    try {
      const loaded = await loadPaths(this.#services, this.#paths);
      const run = checkLoaded(this.#services, loaded, progress);
      this.#results = resultsOf(loaded);
      // Files that were needed may lie elsewhere.
      this.folders = new Set([...this.folders, ...this.#ofDocuments()]);
      const known = this.#snapshot;
      this.#snapshot = new Map([...snapshotOf(this.folders), ...known]);
      this.#contents = keptOf(this.#snapshot, this.#contents);
      return run;
    } finally {
      progress.end();
    }
  }

  #look(): void {
    this.folders = new Set([...this.#paths.flatMap(foldersOf), ...this.#ofDocuments()]);
    this.#snapshot = snapshotOf(this.folders);
  }

  #ofDocuments(): string[] {
    const uris = this.#services.shared.workspace.LangiumDocuments.all.map(({ uri }) => uri).toArray();
    return uris.filter(({ scheme }) => scheme === 'file').map(({ fsPath }) => dirname(fsPath));
  }

  #touched(checked: Checked, earlier: ReadonlyMap<string, CheckedDocument>): Checked {
    const anew = [...this.#results].filter(([uri, result]) => earlier.get(uri) !== result).map(([, result]) => result);
    return { ...checked, ...gathered(anew, pathOf), failures: checked.failures };
  }
}

/** A file with the stamp under which it was read. */
interface Kept {
  readonly stamp: string;
  readonly bytes: Uint8Array;
}

/** Reads what is not known by its stamp. */
function keptOf(snapshot: Snapshot, known: ReadonlyMap<string, Kept>): ReadonlyMap<string, Kept> {
  const kept = new Map<string, Kept>();
  for (const [path, stamp] of snapshot) {
    const old = known.get(path);
    const bytes = old?.stamp === stamp ? old.bytes : bytesOf(path);
    if (bytes !== undefined) kept.set(path, { stamp, bytes });
  }
  return kept;
}

function bytesOf(path: string): Uint8Array | undefined {
  try {
    return readFileSync(path);
  } catch {
    return undefined;
  }
}

/** The folder that all of these are in. */
function folderAround(folders: readonly string[]): string {
  let [around = resolve('.')] = folders;
  for (const folder of folders)
    while (folder !== around && !folder.startsWith(join(around, sep))) around = dirname(around);
  return around;
}

const resultsOf = ({ documents }: Loaded): ReadonlyMap<string, CheckedDocument> =>
  new Map(documents.map((document) => [document.uri.toString(), checkDocument(readDocument(document))]));

/** Of a file its folder; of what is not there yet the nearest folder that is. */
function foldersOf(path: string): string[] {
  let at = resolve(path);
  if (existsSync(at) && statSync(at).isDirectory()) return foldersBelow(at);
  do at = dirname(at);
  while (!existsSync(at));
  return [at];
}
