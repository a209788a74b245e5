/**
 * What is known of a ± before it is propagated: that of the same result of a craft whose numbers are known as well, one by one, at about the same value.
 * Candidates by the thousand differ in little but a duty limit or a pack, and most of their verdicts are clear with a ± that is somewhat wider or narrower.
 */
import type { Estimate } from '../assessment.ts';
import type { Measure } from '../results/reading.ts';
import type { Leaf } from '../setup/template.ts';
import { standardUncertainty } from './estimate.ts';
import type { Pulls } from './propagate.ts';

interface Spread {
  readonly value: number;
  readonly deviation: number;
  /** Of which craft. */
  readonly of: object;
}

/** Between which two a standard uncertainty is. */
export interface Bounds {
  readonly least: number;
  readonly most: number;
}

/** How far a value may be from one whose ± is known, and the leeway of the ± besides; more where it is that of another craft. Ours: a test compares with the exact ones. */
const NEARBY = 1.25;
const LEEWAY = 1.06;
const LEEWAY_OF_OTHERS = 1.25;
/** Of a measure. */
const MOST_KEPT = 24;

/** Of craft whose numbers are known alike. */
class Alike {
  readonly certainties: readonly number[];
  readonly #known = new Map<Measure, Spread[]>();

  constructor(certainties: readonly number[]) {
    this.certainties = certainties;
  }

  add(measure: Measure, estimate: Estimate, of: object): void {
    const known = this.#known.get(measure) ?? [];
    this.#known.set(measure, known);
    if (known.length >= MOST_KEPT) known.shift();
    known.push({ value: estimate.value, deviation: standardUncertainty(estimate), of });
  }

  boundsOf(measure: Measure, value: number, of: object): Bounds | undefined {
    let nearest: Spread | undefined;
    let distance = Number.POSITIVE_INFINITY;
    for (const spread of this.#known.get(measure) ?? []) {
      const ratio = value / spread.value;
      if (spread.deviation === 0 && spread.of === of) return { least: 0, most: 0 };
      const away = Math.abs(Math.log(ratio)) + (spread.of === of ? 0 : OTHERS_LATER);
      if (!(ratio > 1 / NEARBY && ratio < NEARBY) || away >= distance) continue;
      nearest = spread;
      distance = away;
    }
    if (!nearest) return undefined;
    const leeway = nearest.of === of ? LEEWAY : LEEWAY_OF_OTHERS;
    const inProportion = value / nearest.value;
    return {
      least: (nearest.deviation * Math.min(1, inProportion)) / leeway,
      most: nearest.deviation * Math.max(1, inProportion) * leeway,
    };
  }
}

/** In ln of the value: the own ± farther away are as good as those of others. */
const OTHERS_LATER = 0.1;

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
