/**
 * A bound on a ± before it is propagated: from that of the same result of a craft whose numbers are known as well, one by one. Candidates by the thousand
 * differ in little but a duty limit or a pack, and most of those that fail do so by far more than their ±.
 */
import type { Estimate } from '../assessment.ts';
import type { Measure } from '../results/reading.ts';
import type { Leaf } from '../setup/template.ts';
import { standardUncertainty } from './estimate.ts';
import type { Pulls } from './propagate.ts';

interface Spread {
  readonly value: number;
  readonly deviation: number;
}

/**
 * How far a value may be from one whose ± is known, as a factor, and how much wider its own ± may be. Ours: a test compares with the exact ones. Nothing is
 * concluded from a ± that may be narrower: of a pack near its collapse it is several times as wide as of another one.
 */
const FAR = 4;
const LEEWAY = 2;
/** Of a measure. */
const MOST_KEPT = 24;

/** Of craft whose numbers are known alike. */
class Alike {
  readonly certainties: readonly number[];
  readonly #known = new Map<Measure, Spread[]>();

  constructor(certainties: readonly number[]) {
    this.certainties = certainties;
  }

  add(measure: Measure, estimate: Estimate): void {
    const known = this.#known.get(measure) ?? [];
    this.#known.set(measure, known);
    if (known.length >= MOST_KEPT) known.shift();
    known.push({ value: estimate.value, deviation: standardUncertainty(estimate) });
  }

  /** A standard uncertainty that the one at this value hardly exceeds; undefined where none is known nearby. */
  boundOf(measure: Measure, value: number): number | undefined {
    let nearest: Spread | undefined;
    let distance = Math.log(FAR);
    for (const spread of this.#known.get(measure) ?? []) {
      const away = Math.abs(Math.log(value / spread.value));
      if (!(away < distance)) continue;
      nearest = spread;
      distance = away;
    }
    return nearest && nearest.deviation * Math.max(1, value / nearest.value) * LEEWAY;
  }
}

/** Of all craft that are read with one set of measures. */
export class NearbySpreads {
  readonly #all: Alike[] = [];

  /** Those of craft that are known alike. */
  of(leaves: readonly Leaf[], pulls: Pulls): Alike {
    const certainties = certaintiesOf(leaves, pulls);
    const found = this.#all.find((one) => areAlike(one.certainties, certainties)) ?? new Alike(certainties);
    const before = this.#all.indexOf(found);
    if (before >= 0) this.#all.splice(before, 1);
    this.#all.unshift(found);
    if (this.#all.length > MOST_SORTS) this.#all.pop();
    return found;
  }
}

/** Sorts of craft that are remembered. */
const MOST_SORTS = 64;

/** Relative: ± that differ by less are one; absolute: less is hardly any. */
const ALIKE = 0.05;
const HARDLY_ANY = 1e-4;

const areAlike = (some: readonly number[], others: readonly number[]): boolean =>
  some.length === others.length &&
  some.every((one, i) => {
    const other = others[i] ?? 0;
    return Math.abs(one - other) <= ALIKE * Math.max(one, other) + HARDLY_ANY;
  });

/** One standard deviation of each number over the number. */
const certaintiesOf = (leaves: readonly Leaf[], { onLeaves }: Pulls): number[] =>
  leaves.map(({ value }, i) => {
    let sum = 0;
    for (const { contribution } of onLeaves[i] ?? []) sum += contribution * contribution;
    return value === 0 ? Math.sqrt(sum) : Math.sqrt(sum) / Math.abs(value);
  });
