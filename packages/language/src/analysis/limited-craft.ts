/**
 * A craft on a pack under one duty limit after the other, for candidates by the thousand: its numbers are read once, what the limit does not reach is
 * computed once, everything else when something reads it, and a ± only where a verdict depends on it.
 */
import type { Build, PackOption } from '../model/build.ts';
import { isImpossible } from '../physics/craft.ts';
import { massesOf, type Numbers, narrowed, numbersOf, pullsIn } from './assess.ts';
import type { Assessment, Estimate } from './assessment.ts';
import { assessmentOnDemand } from './assessment-on-demand.ts';
import type { Evaluation } from './evaluate/evaluation.ts';
import { BURST, FLIGHT_TIME, HOVER, HOVER_TIME, LEGS, LIMIT_REACH, LIMITED } from './evaluate/limit-reach.ts';
import { once } from './evaluate/once.ts';
import { evaluateUnder, FreePoints } from './evaluate/under-limit.ts';
import { finite } from './finite.ts';
import { type Readings, readingsOf } from './results/all-readings.ts';
import { readFor } from './results/all-results.ts';
import { PACK_MEASURES } from './results/part-measures.ts';
import type { EstimateOf } from './results/parts-on-demand.ts';
import type { Measure } from './results/reading.ts';
import type { Setup } from './setup/setup.ts';
import { exact } from './uncertainty/estimate.ts';
import { NearbySpreads } from './uncertainty/nearby-spreads.ts';
import { type Pulls, propagate } from './uncertainty/propagate.ts';

export interface BuildOnPack {
  readonly build: Build;
  readonly option: PackOption;
}

/** What something read of an assessment. */
export interface Reads {
  readonly measures: Set<Measure>;
  reach: number;
  /** Nothing that depends on the limit was missing. */
  isWhole: boolean;
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
  readonly pulls: () => Pulls;
  readonly masses: () => Assessment['masses'];
  readonly #reaches: ReadonlyMap<Measure, number>;

  constructor({ build, option }: BuildOnPack) {
    this.build = build;
    this.option = option;
    this.numbers = numbersOf(build, option);
    this.readings = readingsOf(build, option);
    const all = nearby.get(this.readings) ?? new NearbySpreads();
    nearby.set(this.readings, all);
    this.spreads = once(() => all.of(this.numbers.leaves, this.pulls()));
    this.masses = once(() => massesOf(build, option, this.numbers));
    this.pulls = once(() => pullsIn(this.numbers));
    this.#reaches = brownOutReaches(this.readings);
  }

  under(limit: number): UnderLimit {
    return new UnderLimit(this, limit);
  }

  isSearched(measure: Measure): boolean {
    return this.#reaches.has(measure);
  }

  reachOf(measure: Measure): number {
    const own = this.#reaches.get(measure);
    if (own !== undefined) return own;
    let reach = 0;
    for (const need of measure.needs) reach |= LIMIT_REACH[need];
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

const REACH_OF_POINTS = { hover: HOVER, burst: BURST, legs: LEGS, all: LIMITED } as const;

const SHORTFALLS: ReadonlySet<Measure> = new Set([PACK_MEASURES.hoverShortfall, PACK_MEASURES.reserveHoverShortfall]);

/** One of the limits. */
export class UnderLimit {
  readonly limit: number;
  /** Without any ±. */
  readonly plain: Assessment;
  readonly #craft: LimitedCraft;
  readonly #evaluation: Evaluation;
  readonly #option: PackOption;
  readonly #values = new Map<Measure, Estimate | undefined>();
  #reads: Reads = { measures: new Set(), reach: 0, isWhole: true };

  constructor(craft: LimitedCraft, limit: number) {
    this.limit = limit;
    this.#craft = craft;
    this.#option = this.#watched(craft.option);
    this.#evaluation = evaluateUnder(withDuty(craft.numbers.setup, this.limit), craft.free);
    this.plain = this.#assessment((measure) => this.#plainly(measure));
  }

  /** With what was read for it. */
  reading<T>(
    read: (assessment: Assessment) => T,
    assessment = this.plain,
  ): { readonly outcome: T; readonly reads: Reads } {
    const reads: Reads = { measures: new Set(), reach: 0, isWhole: true };
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
    if ((reach & FLIGHT_TIME) !== 0 && craft.flight.flightTime !== free.flightTime) return false;
    return (reach & LEGS) === 0 || (free.unlimited.known?.limit ?? Number.POSITIVE_INFINITY) <= this.limit;
  }

  /**
   * Whether a verdict that is reached without any ± is reached with them too. A wider ± never makes a verdict surer: where it is reached with one that
   * is surely wide enough, it is reached.
   * @param isShort false: with its own ± alone
   */
  isSure(isReached: (assessment: Assessment) => boolean, { measures }: Reads, isShort: boolean): boolean {
    if (isShort) {
      const wide = this.#withBounds();
      if (isReached(wide.assessment) && wide.areAllKnown()) return true;
    }
    return isReached(this.#withErrors(measures));
  }

  /** Each error an input of its own: none cancels. */
  #withBounds() {
    const places = new Map<Measure, number>();
    let areAllKnown = true;
    const assessment = this.#assessment((measure) => {
      const plain = this.#plainly(measure);
      if (!plain) return undefined;
      const bound = this.#isSmooth(measure) ? this.#craft.spreads().boundOf(measure, plain.value) : undefined;
      if (bound === undefined) areAllKnown = false;
      const place = places.get(measure) ?? places.size;
      places.set(measure, place);
      const contributions = new Float64Array(place + 1);
      contributions[place] = bound ?? 0;
      return { value: plain.value, contributions };
    });
    return { assessment, areAllKnown: () => areAllKnown };
  }

  /** What is integrated or searched for has another ± where something else ends it. */
  #isSmooth(measure: Measure): boolean {
    return (this.#craft.reachOf(measure) & (HOVER_TIME | FLIGHT_TIME | LEGS)) === 0 && !this.#craft.isSearched(measure);
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
        if (estimate && this.#isSmooth(measure)) spreads.add(measure, estimate);
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
    const reach = this.#craft.reachOf(measure);
    this.#reads.measures.add(measure);
    this.#reads.reach |= reach;
    // Nobody expects a shortfall where there is a point; all else that is missing another limit may have.
    const isMissing = reach !== 0 && !SHORTFALLS.has(measure) && this.#plainly(measure) === undefined;
    if (isMissing) this.#reads.isWhole = false;
  }

  #noteAll(): void {
    this.#reads.reach |= LIMITED;
  }

  #watched(option: PackOption): PackOption {
    const noteAll = () => this.#noteAll();
    const dutyLimit = { ...option.dutyLimit, value: this.limit };
    return {
      ...option,
      get dutyLimit() {
        noteAll();
        return dutyLimit;
      },
    };
  }

  #assessment(estimateOf: EstimateOf): Assessment {
    const { build, numbers, readings, masses } = this.#craft;
    const { learnt, reasons } = numbers;
    return assessmentOnDemand(
      {
        build,
        option: this.#option,
        readings,
        evaluation: this.#evaluation,
        reasons,
        learnt,
        masses,
      },
      estimateOf,
      {
        measure: (measure) => this.#note(measure),
        result: (name) => {
          for (const one of readFor(name)) {
            const measure = readings.byName.get(one);
            if (measure) this.#note(measure);
          }
        },
        points: (which, point) => {
          this.#reads.reach |= REACH_OF_POINTS[which];
          // A pack that collapses leaves no point, whatever the limit.
          if (point && isImpossible(point) && point.impossible === 'power') this.#reads.isWhole = false;
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
