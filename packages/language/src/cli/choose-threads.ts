/**
 * Candidates by the thousand, judged by several threads: each reads the same files and makes the same candidates. Lots come back in the
 * order of the candidates, whoever was first, so that the answer is that of one thread. This thread judges too, from the first moment on.
 */
import { Worker } from 'node:worker_threads';
import { Cancelled } from '../report/decide/choice.ts';
import { type JudgedLot, judgeLot, type Passing } from '../report/decide/judging.ts';
import type { Space } from '../trial/candidates.ts';
import type { ChooseRequest } from './choose-asked.ts';
import { threadsFor } from './threads.ts';

/** Candidates that go to a thread together: a fraction of a second. */
export const CANDIDATES_A_LOT = 256;
/** Each thread reads all files anew. */
const CANDIDATES_A_THREAD = 10_000;
/** Lots that are judged while an earlier one is waited for: memory is bounded. */
const MOST_AHEAD = 64;

export const threadsForCandidates = (count: number): number => threadsFor(count, CANDIDATES_A_THREAD);

/** From a thread: that it is ready, with how many candidates it sees; or a lot. */
export type FromThread =
  | { readonly count: number }
  | { readonly number: number; readonly lot: JudgedLot }
  | { readonly refused: string };

/** To a thread. */
export interface LotOfCandidates {
  readonly number: number;
  readonly from: number;
  readonly to: number;
}

/** Next to this file, built or not. */
const WORKER = new URL(import.meta.url.endsWith('.ts') ? './choose-worker.ts' : './choose-worker.js', import.meta.url);

/** How lots are shared out. */
export interface Sharing {
  /** This one among them. */
  readonly threads: number;
  readonly isCancelled?: () => boolean;
  readonly program?: URL;
  readonly lotSize?: number;
}

export async function* lotsInThreads(
  space: Space,
  asked: ChooseRequest,
  { threads, isCancelled = () => false, program = WORKER, lotSize = CANDIDATES_A_LOT }: Sharing,
): AsyncGenerator<JudgedLot> {
  const lots = Math.ceil(space.count / lotSize);
  const lotAt = (number: number): LotOfCandidates => ({
    number,
    from: number * lotSize,
    to: Math.min(space.count, (number + 1) * lotSize),
  });
  const ready = new Map<number, JudgedLot>();
  let [next, due] = [0, 0];
  let failure: Error | undefined;
  let wake = () => {};
  const fail = (error: Error) => {
    failure ??= error;
    wake();
  };
  /** Threads that wait until earlier lots have come. */
  const idle: Worker[] = [];
  const hand = (worker: Worker) => {
    if (next < lots && next - due < MOST_AHEAD) worker.postMessage(lotAt(next++));
    else idle.push(worker);
  };
  const workers = Array.from({ length: threads - 1 }, () => new Worker(program, { workerData: asked }));
  for (const worker of workers) {
    worker.on('message', (message: FromThread) => {
      if ('refused' in message) return fail(new Error(message.refused));
      if ('count' in message && message.count !== space.count)
        return fail(new Error('the files were changed meanwhile: their candidates are others now'));
      if ('lot' in message) ready.set(message.number, message.lot);
      hand(worker);
      wake();
    });
    worker.on('error', fail);
    worker.on('exit', (code) => fail(new Error(`a thread ended early (code ${code})`)));
  }
  try {
    while (due < lots) {
      if (failure) throw failure;
      if (isCancelled()) throw new Cancelled();
      const lot = ready.get(due);
      if (lot) {
        ready.delete(due++);
        yield lot;
        for (const worker of idle.splice(0)) hand(worker);
      } else if (next < lots && next - due < MOST_AHEAD) {
        const lotHere = lotAt(next++);
        ready.set(lotHere.number, await inSlices(space, lotHere, isCancelled));
      } else {
        await new Promise<void>((resolve) => {
          wake = resolve;
        });
      }
    }
  } finally {
    for (const worker of workers) {
      worker.removeAllListeners('exit');
      await worker.terminate();
    }
  }
}

/** So that other threads, and who presses Ctrl-C, need not wait for a whole lot. */
const SLICE = 16;

async function inSlices(space: Space, { from, to }: LotOfCandidates, isCancelled: () => boolean): Promise<JudgedLot> {
  const rejected = new Map<string, number>();
  const passing: Passing[] = [];
  for (let at = from; at < to; at += SLICE) {
    const slice = judgeLot(space, at, Math.min(to, at + SLICE));
    for (const [reason, count] of slice.rejected) rejected.set(reason, (rejected.get(reason) ?? 0) + count);
    passing.push(...slice.passing);
    await new Promise((resolve) => setImmediate(resolve));
    if (isCancelled()) throw new Cancelled();
  }
  return { from, to, rejected, passing };
}
