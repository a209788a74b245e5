import { where } from './where.ts';

/** How many cases a law tries: a sample each time, all of them on request (`npm run test:long`) and for what lands. */
const LONG = process.env.FETTLE_LONG === '1';

export const cases = (sample: number, all: number): number => (LONG ? all : sample);

/** One in so many, each time the same ones; all of them on request. */
export const oneIn = <T>(step: number, all: readonly T[], from = 0): readonly T[] =>
  LONG ? all : all.filter((_, i) => i % step === from % step);

/** A test that takes long and whose neighbours reach most of what it does: skipped in an ordinary run, which lists it. */
export const atLength = where(LONG, '`npm run test:long`');
