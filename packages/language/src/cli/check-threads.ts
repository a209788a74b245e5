/**
 * Many files, checked by several threads. Each reads what its own files need, so that little is read twice; what comes back is plain
 * data, in the order of the files whoever was first: the output is the same as that of one thread.
 */
import { Worker } from 'node:worker_threads';
import type { Finding } from '../checks/finding.ts';
import type { Failure } from '../report/checked.ts';
import type { BuildRecord, Detail } from '../report/formats/record.ts';
import { folderOfFile } from '../resolve/keys.ts';
import type { LoadFailure } from '../workspace/load-paths.ts';
import type { Progress } from './terminal-progress.ts';
import { threadsFor } from './threads.ts';

/** Files that go to a thread together. */
export interface Lot {
  readonly number: number;
  readonly files: readonly string[];
}

export interface LotChecked {
  readonly number: number;
  readonly files: number;
  readonly builds: readonly BuildRecord[];
  readonly findings: readonly Finding[];
  /** In other files that its builds are made of. */
  readonly elsewhere: readonly Finding[];
  readonly failures: readonly LoadFailure[];
  /** What could not be judged for a mistake of ours, by file. */
  readonly defects: readonly Failure[];
  /** Of the files, and of those that they need, by URI; each thread hands a text over once. */
  readonly texts: ReadonlyMap<string, string>;
}

/** What every thread knows. */
export interface Task {
  /** URIs of all files. */
  readonly all: readonly string[];
  readonly detail: Detail;
}

/** Each thread takes about as long to start as a hundred files to check. */
const FILES_A_THREAD = 150;

export const threadsForFiles = (files: number): number => threadsFor(files, FILES_A_THREAD);

/** Next to this file, built or not. */
const WORKER = new URL(import.meta.url.endsWith('.ts') ? './check-worker.ts' : './check-worker.js', import.meta.url);

/** @returns in the order of the files. Rejects when a thread fails. */
export async function checkInThreads(
  task: Task,
  threads: number,
  progress: Progress,
  program = WORKER,
): Promise<LotChecked[]> {
  const lots = lotsOf(task.all);
  const checked: LotChecked[] = [];
  let done = 0;
  const workers = Array.from({ length: threads }, () => new Worker(program, { workerData: task }));
  const waiting = lots.values();
  const untilAllAreDone = workers.map(
    (worker) =>
      new Promise<void>((resolve, reject) => {
        const handNext = () => {
          const { value: lot } = waiting.next();
          if (lot) worker.postMessage(lot);
          else resolve();
        };
        worker.on('message', (lot: LotChecked) => {
          checked[lot.number] = lot;
          done += lot.files;
          progress.step('checking files', done, task.all.length);
          handNext();
        });
        worker.on('error', reject);
        worker.on('exit', (code) => reject(new Error(`a thread ended early (code ${code})`)));
        handNext();
      }),
  );
  try {
    await Promise.all(untilAllAreDone);
  } finally {
    for (const worker of workers) await worker.terminate();
  }
  return checked;
}

/** Small enough that no thread works long after the others are done; a folder's files, which need the same others, stay together if they can. */
const LEAST = 25;
const MOST = 100;

export function lotsOf(files: readonly string[]): Lot[] {
  let last: string[] = [];
  const lots = [last];
  for (const file of files) {
    const before = last.at(-1);
    const isOfSameFolder = before !== undefined && folderOfFile(before) === folderOfFile(file);
    if (last.length >= MOST || (last.length >= LEAST && !isOfSameFolder)) {
      last = [];
      lots.push(last);
    }
    last.push(file);
  }
  return lots.map((lot, number) => ({ number, files: lot }));
}
