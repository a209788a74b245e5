/** How many threads share some work. */
import { availableParallelism } from 'node:os';

const MOST_THREADS = 8;

/** @param perThread below it a thread more costs more than it saves */
export const threadsFor = (count: number, perThread: number): number =>
  Math.max(1, Math.min(availableParallelism(), MOST_THREADS, Math.floor(count / perThread)));
