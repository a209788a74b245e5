/**
 * Which checks and requirements a craft on a pack fails under each of the duty limits that are tried. Rotors pull and draw more under a higher limit, so that
 * most verdicts turn at most once over it: what is found at two limits with the same verdict is the verdict of all between them, and where it turns is
 * searched for by halves.
 */
import type { Assessment } from '../../analysis/assessment.ts';
import { type BuildOnPack, LimitedCraft, type Reads, type UnderLimit } from '../../analysis/limited-craft.ts';
import type { Check } from '../../checks/check.ts';
import type { Requirement } from '../../model/build.ts';

/** What may be an error: a check, a requirement, or the margins that are kept. */
export type Judge = Check | Requirement | 'margins';

/** Whether it is one, as an assessment with or without ± has it. */
type IsReached = (assessment: Assessment) => boolean;

interface AtLimit {
  readonly limit: number;
  readonly isError: boolean;
  /** Nothing was missing there that another limit has. */
  readonly isWhole: boolean;
}

interface Remembered {
  readonly isError: boolean;
  readonly reads: Reads;
}

/** Under so few limits each is judged for itself. */
const FEW = 4;
/** Assessments that are kept: those between which a turn is searched for. */
const MOST_KEPT = 64;

export class Verdicts {
  readonly #craft: LimitedCraft;
  /** Ascending. */
  readonly #limits: readonly number[];
  readonly #isShort: boolean;
  readonly #kept = new Map<number, UnderLimit>();
  /** What no limit reaches. */
  readonly #always = new Map<Judge, boolean>();
  readonly #free = new Map<Judge, Remembered>();
  /** Ascending by limit. */
  readonly #found = new Map<Judge, AtLimit[]>();

  /** @param isShort false: each limit for itself, each ± its own */
  constructor(known: BuildOnPack, limits: readonly number[], isShort = true) {
    this.#craft = new LimitedCraft(known);
    this.#limits = limits.toSorted((a, b) => a - b);
    this.#isShort = isShort;
  }

  under(limit: number): UnderLimit {
    const known = this.#kept.get(limit);
    if (known) return known;
    const under = this.#craft.under(limit);
    if (this.#kept.size >= MOST_KEPT) this.#kept.delete(this.#oldest());
    this.#kept.set(limit, under);
    return under;
  }

  /** Both ends are requested again and again. */
  #oldest(): number {
    const ends = [this.#limits[0], this.#limits.at(-1)];
    return [...this.#kept.keys()].find((limit) => !ends.includes(limit)) ?? Number.NaN;
  }

  /** @param turnsOnce over the limits, at most */
  isError(judge: Judge, isReached: IsReached, limit: number, turnsOnce: boolean): boolean {
    const always = this.#always.get(judge);
    if (always !== undefined) return always;
    if (!this.#isShort || !turnsOnce || this.#limits.length <= FEW) return this.#at(limit, judge, isReached).isError;
    return this.#between(judge, limit) ?? this.#searched(judge, isReached, limit);
  }

  #searched(judge: Judge, isReached: IsReached, limit: number): boolean {
    let [low, high] = [0, this.#limits.length - 1];
    for (const end of [low, high]) {
      const { isWhole } = this.#at(this.#limits[end] ?? limit, judge, isReached);
      const always = this.#always.get(judge);
      if (always !== undefined) return always;
      if (!isWhole) return this.#at(limit, judge, isReached).isError;
    }
    for (;;) {
      const known = this.#between(judge, limit);
      if (known !== undefined) return known;
      const middle = (low + high) >> 1;
      const at = this.#limits[middle] ?? limit;
      const { isWhole } = this.#at(at, judge, isReached);
      if (!isWhole || middle === low) return this.#at(limit, judge, isReached).isError;
      if (at < limit) low = middle;
      else high = middle;
    }
  }

  /** As it is on both sides of the limit. */
  #between(judge: Judge, limit: number): boolean | undefined {
    const found = this.#found.get(judge);
    if (!found) return undefined;
    let below: AtLimit | undefined;
    for (const one of found) {
      if (one.limit === limit) return one.isError;
      if (one.limit > limit)
        return below?.isWhole && one.isWhole && below.isError === one.isError ? one.isError : undefined;
      below = one;
    }
    return undefined;
  }

  #at(limit: number, judge: Judge, isReached: IsReached): AtLimit {
    const all = this.#found.get(judge) ?? [];
    this.#found.set(judge, all);
    const known = all.find((one) => one.limit === limit);
    if (known) return known;
    const found = { limit, ...this.#judged(limit, judge, isReached) };
    const next = all.findIndex((one) => one.limit > limit);
    all.splice(next < 0 ? all.length : next, 0, found);
    return found;
  }

  #judged(limit: number, judge: Judge, isReached: IsReached): Omit<AtLimit, 'limit'> {
    const under = this.under(limit);
    const before = this.#free.get(judge);
    if (before && under.isFreeOf(before.reads)) return { isError: before.isError, isWhole: before.reads.isWhole };
    const { outcome, reads } = under.reading(isReached);
    // What is no error without any ± is none with it.
    const sure = outcome ? under.reading(() => under.isSure(isReached, reads, this.#isShort)) : undefined;
    const isError = sure?.outcome ?? false;
    if (sure) reads.reach |= sure.reads.reach;
    if (reads.reach === 0) this.#always.set(judge, isError);
    else if (this.#isShort && under.isFreeOf(reads)) this.#free.set(judge, { isError, reads });
    return { isError, isWhole: reads.isWhole };
  }
}
