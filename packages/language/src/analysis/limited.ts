/**
 * A craft on a pack under one duty limit after the other, for candidates by the thousand: its numbers are read once, what the limit does not reach is
 * computed once, everything else when something reads it, and a ± only where a verdict depends on it.
 */
import type { Build, PackOption } from '../model/build.ts';
import { massesOf, type Numbers, narrowed, numbersOf, pullsIn } from './assess.ts';
import type { Assessment, Estimate } from './assessment.ts';
import { assessmentOnDemand } from './assessment-on-demand.ts';
import type { Evaluation } from './evaluate/evaluation.ts';
import { once } from './evaluate/once.ts';
import { evaluateUnder, FreePoints } from './evaluate/under-limit.ts';
import type { EstimateOf } from './results/parts-on-demand.ts';
import type { Measure, Need } from './results/reading.ts';
import { type Readings, readingsOf } from './results/readings.ts';
import { flightsOn } from './setup/optional.ts';
import { type Price, priceOf } from './setup/price-sum.ts';
import type { Setup } from './setup/setup.ts';
import { exact } from './uncertainty/estimate.ts';
import { type Bounds, NearbySpreads } from './uncertainty/nearby-spreads.ts';
import { finite, type Pulls, propagate } from './uncertainty/propagate.ts';

export interface Known {
  readonly build: Build;
  readonly option: PackOption;
}

/** What a duty limit may reach, as bits. */
const HOVER = 1;
const BURST = 2;
const HOVER_TIME = 4;
const FLIGHT_TIME = 8;
/** No two limits have it in common. */
const LIMITED = 16;

const REACH: Readonly<Record<Need, number>> = {
  dryMass: 0,
  packMass: 0,
  pack: 0,
  escBurst: 0,
  mount: 0,
  balance: 0,
  frontRotors: 0,
  rest: 0,
  hover: HOVER,
  hoverAtReserve: HOVER,
  burst: BURST,
  burstAtReserve: BURST,
  hoverTime: HOVER_TIME,
  flightTime: FLIGHT_TIME,
  // The limit itself is in what no load and no pack limits.
  speedConstant: LIMITED,
  full: LIMITED,
  fullAtReserve: LIMITED,
  hoverAtLandBy: LIMITED,
  wind: LIMITED,
  heat: LIMITED,
  legs: LIMITED,
};

/** What something read of an assessment. */
export interface Reads {
  readonly measures: Set<Measure>;
  reach: number;
}

/** By what craft are read with: those of one shortlist have it in common. */
const nearby = new WeakMap<Readings, NearbySpreads>();

export class LimitedCraft {
  readonly build: Build;
  readonly option: PackOption;
  readonly numbers: Numbers;
  readonly readings: Readings;
  readonly free = new FreePoints();
  readonly spreads: () => ReturnType<NearbySpreads['of']>;
  readonly price: () => Price;
  readonly pulls: () => Pulls;
  readonly #reaches: ReadonlyMap<Measure, number>;

  constructor({ build, option }: Known) {
    this.build = build;
    this.option = option;
    this.numbers = numbersOf(build, option);
    this.readings = readingsOf(build, option);
    const all = nearby.get(this.readings) ?? new NearbySpreads();
    nearby.set(this.readings, all);
    this.spreads = once(() => all.of(this.numbers.leaves, this.pulls()));
    this.price = once(() => priceOf(build, option));
    this.pulls = once(() => pullsIn(this.numbers));
    this.#reaches = brownOutReaches(this.readings);
  }

  /** @param option the same pack under another limit */
  under(option: PackOption): UnderLimit {
    return new UnderLimit(this, option);
  }

  reachOf(measure: Measure): number {
    const own = this.#reaches.get(measure);
    if (own !== undefined) return own;
    let reach = 0;
    for (const need of measure.needs) reach |= REACH[need];
    return reach;
  }
}

const reaches = new WeakMap<Readings, ReadonlyMap<Measure, number>>();

/** A brown-out is searched for, and what it searches meets the limit. */
function brownOutReaches(readings: Readings): ReadonlyMap<Measure, number> {
  const known = reaches.get(readings);
  if (known) return known;
  const found = new Map(
    readings.loads.flatMap(({ hoverBrownOut, burstBrownOut, landByHoverVoltage }) =>
      [hoverBrownOut, burstBrownOut, landByHoverVoltage].map((measure) => [measure, LIMITED] as const),
    ),
  );
  reaches.set(readings, found);
  return found;
}

const NO_ERROR: Bounds = { least: 0, most: 0 };

/** One of the limits. */
export class UnderLimit {
  readonly limit: number;
  /** Without any ±. */
  readonly plain: Assessment;
  readonly #craft: LimitedCraft;
  readonly #evaluation: Evaluation;
  readonly #option: PackOption;
  readonly #values = new Map<Measure, Estimate | undefined>();
  #reads: Reads = { measures: new Set(), reach: 0 };

  constructor(craft: LimitedCraft, option: PackOption) {
    this.limit = option.dutyLimit.value;
    this.#craft = craft;
    this.#option = this.#watched(option);
    this.#evaluation = evaluateUnder(withDuty(craft.numbers.setup, this.limit), craft.free);
    this.plain = this.#assessment((measure) => this.#plainly(measure));
  }

  /** With what was read for it. */
  reading<T>(
    read: (assessment: Assessment) => T,
    assessment = this.plain,
  ): { readonly outcome: T; readonly reads: Reads } {
    const reads: Reads = { measures: new Set(), reach: 0 };
    const before = this.#reads;
    this.#reads = reads;
    const outcome = read(assessment);
    this.#reads = before;
    return { outcome, reads };
  }

  /** Whether what was read is the same under every limit at which this is so. */
  isFreeOf({ reach }: Reads): boolean {
    if (reach === 0) return true;
    if ((reach & LIMITED) !== 0) return false;
    const { free } = this.#craft;
    const { craft } = this.#evaluation;
    if (!craft?.flight) return true;
    const isFree = (...names: readonly Parameters<FreePoints['isFree']>[0][]) =>
      names.every((name) => free.isFree(name, this.limit));
    if ((reach & HOVER) !== 0) {
      const phases = craft.craft.flown.flatMap(({ hoverMultiple }, i) =>
        hoverMultiple === 1 ? [] : [`phase ${i}` as const],
      );
      if (!isFree('hover', 'hoverAtReserve', ...phases)) return false;
    }
    if ((reach & BURST) !== 0 && !isFree('burst', 'burstAtReserve')) return false;
    if ((reach & HOVER_TIME) !== 0 && craft.flight.hoverTime !== free.hoverTime) return false;
    return (reach & FLIGHT_TIME) === 0 || craft.flight.flightTime === free.flightTime;
  }

  /**
   * Whether a verdict that is reached without any ± is reached with them too. A wider ± never makes a verdict surer, so that most are decided by
   * the ± of a limit nearby, widened and narrowed.
   * @param isOfOneEach no two values are compared with each other, so that nothing that they have in common cancels
   */
  isSure(isReached: (assessment: Assessment) => boolean, { measures }: Reads, isOfOneEach: boolean): boolean {
    const bounds = this.#boundsOf(measures);
    if (bounds) {
      let areAllKnown = true;
      const wider: EstimateOf = (measure) => {
        areAllKnown &&= bounds.has(measure);
        return this.#within(bounds, measure, 'most');
      };
      if (isReached(this.#assessment(wider)) && areAllKnown) return true;
      const narrower: EstimateOf = (measure) => this.#within(bounds, measure, 'least');
      if ((isOfOneEach || measures.size === 1) && !isReached(this.#assessment(narrower))) return false;
    }
    return isReached(this.#withErrors(measures));
  }

  /** Undefined where one of them is unknown. */
  #boundsOf(measures: ReadonlySet<Measure>): ReadonlyMap<Measure, Bounds> | undefined {
    const found = new Map<Measure, Bounds>();
    for (const measure of measures) {
      const value = this.#plainly(measure)?.value;
      const bounds = value === undefined ? NO_ERROR : this.#craft.spreads().boundsOf(measure, value, this.#craft);
      if (!bounds) return undefined;
      found.set(measure, bounds);
    }
    return found;
  }

  /** Each with an error of its own: none cancels. */
  #within(bounds: ReadonlyMap<Measure, Bounds>, measure: Measure, end: keyof Bounds): Estimate | undefined {
    const plain = this.#plainly(measure);
    const deviation = bounds.get(measure)?.[end];
    if (!plain || !deviation) return plain;
    const contributions = new Float64Array(bounds.size);
    contributions[[...bounds.keys()].indexOf(measure)] = deviation;
    return { value: plain.value, contributions };
  }

  /** With the ± of what is read. */
  #withErrors(first: ReadonlySet<Measure>): Assessment {
    const { numbers, pulls } = this.#craft;
    const spreads = this.#craft.spreads();
    const { leaves, learnt } = numbers;
    const known = new Map<Measure, Estimate | undefined>();
    const propagated = (measures: readonly Measure[]) => {
      const { estimates } = narrowed(propagate(leaves, this.#evaluation, measures, pulls()), learnt);
      for (const measure of measures) {
        const estimate = estimates.get(measure);
        known.set(measure, estimate);
        if (estimate) spreads.add(measure, estimate, this.#craft);
      }
    };
    propagated([...first]);
    return this.#assessment((measure) => {
      if (!known.has(measure)) propagated([measure]);
      return known.get(measure);
    });
  }

  #plainly(measure: Measure): Estimate | undefined {
    if (this.#values.has(measure)) return this.#values.get(measure);
    const value = finite(measure.of(this.#evaluation));
    const estimate = value === undefined ? undefined : exact(value);
    this.#values.set(measure, estimate);
    return estimate;
  }

  #note(measure: Measure): void {
    this.#reads.measures.add(measure);
    this.#reads.reach |= this.#craft.reachOf(measure);
  }

  #noteAll(): void {
    this.#reads.reach |= LIMITED;
  }

  #watched(option: PackOption): PackOption {
    const noteAll = () => this.#noteAll();
    const { dutyLimit } = option;
    return {
      ...option,
      get dutyLimit() {
        noteAll();
        return dutyLimit;
      },
    };
  }

  #assessment(estimateOf: EstimateOf): Assessment {
    const { build, option: full, numbers, readings, price } = this.#craft;
    const { learnt, reasons } = numbers;
    return assessmentOnDemand(
      {
        build,
        option: this.#option,
        readings,
        evaluation: this.#evaluation,
        reasons,
        learnt,
        masses: () => massesOf(build, full, numbers),
        price,
        flights: () => flightsOn(build, full),
      },
      estimateOf,
      {
        measure: (measure) => this.#note(measure),
        result: (name) => {
          // It is derived from these.
          const names = name === 'gram_cost_time' ? ['hover_time', 'all_up_weight'] : [name];
          for (const one of names) {
            const measure = readings.byName.get(one);
            if (measure) this.#note(measure);
          }
        },
        points: (which) => {
          this.#reads.reach |= { hover: HOVER, burst: BURST, all: LIMITED }[which];
        },
      },
    );
  }
}

const withDuty = ({ craft, ...setup }: Setup, dutyLimit: number): Setup => ({
  ...setup,
  dutyLimit,
  ...(craft && { craft: { ...craft, dutyLimit } }),
});
