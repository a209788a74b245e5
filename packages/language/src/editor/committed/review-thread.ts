/** A thread a question: reading git and two versions of many builds takes seconds at times, and nobody who types shall wait for it. */
import { basename } from 'node:path';
import { isMainThread, parentPort, Worker, workerData } from 'node:worker_threads';
import { type ComparedVersions, compareWithCommit, type VersionsToCompare } from './compare-versions.ts';

/** Answers one question; `cancelled` ends it early. */
export type Reviewer = (question: VersionsToCompare, cancelled: AbortSignal) => Promise<ComparedVersions>;

const TASK = 'fettle-compare';

/** The server is one file, which runs here as well: it is what the command line names. */
export function reviewerInThread(): Reviewer {
  const [, server = ''] = process.argv;
  const isOurs = /^server(-node)?\.[jt]s$/.test(basename(server));
  return isOurs
    ? (question, cancelled) => inThread(server, question, cancelled)
    : (question) => compareWithCommit(question);
}

function inThread(server: string, question: VersionsToCompare, cancelled: AbortSignal): Promise<ComparedVersions> {
  return new Promise((resolve, reject) => {
    // Standard output belongs to the protocol.
    const worker = new Worker(server, { workerData: { task: TASK, question }, stdout: true, stderr: true });
    worker.unref();
    const stop = (): void => void worker.terminate();
    cancelled.addEventListener('abort', stop, { once: true });
    worker.once('message', resolve);
    worker.once('error', reject);
    worker.once('exit', () => {
      cancelled.removeEventListener('abort', stop);
      reject(new Error('the comparison ended without an answer'));
    });
  });
}

/** Whether this is such a thread; then it answers its question. */
export function answersInThread(): boolean {
  const given: { readonly task?: unknown; readonly question?: VersionsToCompare } | null = workerData;
  if (isMainThread || given?.task !== TASK || given.question === undefined) return false;
  void compareWithCommit(given.question).then((compared) => parentPort?.postMessage(compared));
  return true;
}
