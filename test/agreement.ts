/**
 * What suites measure against the outside, kept in `reference/agreement.json` so that the validation page can report it. Each suite
 * compares what it measures with what is written there; `npm run agreement` writes it anew.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect } from 'vitest';

export interface Agreement {
  readonly id: string;
  /** What is checked, in a few words. */
  readonly check: string;
  readonly source: string;
  /** How the source's numbers came here. */
  readonly standing: 'read' | 'from memory' | 'computed' | 'read, in part from memory' | 'common practice';
  /** File of the suite, from the repository's root. */
  readonly suite: string;
  /** What was found. */
  readonly found: string;
}

const FILE = join(import.meta.dirname, 'reference/agreement.json');

export const agreements = (): Agreement[] => JSON.parse(readFileSync(FILE, 'utf8'));

/** Fails where the written agreement is stale; writes it instead while `FETTLE_AGREEMENT=write`. */
export function record(measured: Agreement): void {
  const known = agreements();
  if (process.env.FETTLE_AGREEMENT !== 'write') {
    expect(
      known.find(({ id }) => id === measured.id),
      'stale: run npm run agreement, then npm run generate',
    ).toEqual(measured);
    return;
  }
  const others = known.filter(({ id }) => id !== measured.id);
  const all = [...others, measured].sort((a, b) => (a.id < b.id ? -1 : 1));
  writeFileSync(FILE, `${JSON.stringify(all, null, 2)}\n`);
}

/** The next power of ten above a deviation: what is true on every machine. */
export const below = (deviation: number): string =>
  deviation === 0 ? 'exact' : `below 1e${Math.floor(Math.log10(deviation)) + 1}`;

/** "3.4 %", to two digits. */
export const percent = (share: number): string => `${Number((100 * share).toPrecision(2))} %`;

export const worst = (deviations: readonly number[]): number => Math.max(...deviations.map(Math.abs));
