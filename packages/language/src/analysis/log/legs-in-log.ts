/** When a craft was in the air, by what its recorder read. */

import { type MomentRange, type Series, secondsOf, timeAt } from './flight-series.ts';
import { indexAt, median, quantile, Sums, smoothed } from './moments.ts';

/** s: shorter pauses belong to the flight; shorter hops are none. */
const SHORT_PAUSE = 2.5;
const SHORTEST_LEG = 3;
/** s on the ground between two legs of one flight. */
export const LONGEST_STOP = 120;
/** Of the way from rest to flying: where flying begins. */
const FLYING = 0.4;
/** Below this share of what flies, something rests. */
export const RESTING = 0.35;
/** Moments: fewer are no flight. */
const FEWEST = 8;

/** Flights of one run, each as its legs. */
export function flightsInSeries(series: Series): MomentRange[][] {
  const { times, current, output, voltage } = series;
  if (times.length < FEWEST) return [];
  const levels = current ?? output;
  const isFlying = levels ? byLevel(levels, times) : voltage && byVoltage(voltage, times);
  if (!isFlying) return [];
  const legs = legsOf(isFlying, times).filter((leg) => secondsOf(leg, times) >= SHORTEST_LEG);
  const flights: MomentRange[][] = [];
  for (const leg of legs) {
    const before = flights.at(-1)?.at(-1);
    const stop = before ? timeAt(times, leg.from) - timeAt(times, before.to) : 0;
    if (before && stop < LONGEST_STOP && !isRecharged(series, before, leg)) flights.at(-1)?.push(leg);
    else flights.push([leg]);
  }
  return flights;
}

/** Flying draws several times of what resting does; a log that never rests flies all the time. */
function byLevel(levels: Float64Array, times: Float64Array): Uint8Array | undefined {
  const calm = smoothed(levels, times, 0.6);
  const high = quantile(calm, 0.9);
  const low = quantile(calm, 0.02);
  if (!(high > 0)) return undefined;
  const flies = median(calm.filter((level) => level > RESTING * high));
  const rest = low < RESTING * flies ? low : 0;
  const limit = rest + FLYING * (flies - rest);
  return Uint8Array.from(calm, (level) => (level > limit ? 1 : 0));
}

/** Volts alone: they fall at take-off and come back at landing, and stay there; in between they only sink. */
function byVoltage(voltage: Float64Array, times: Float64Array): Uint8Array | undefined {
  const sums = new Sums(voltage);
  const over = (from: number, to: number) => sums.mean(indexAt(times, from), indexAt(times, to));
  const step = (time: number) => over(time - STEP, time - 0.2) - over(time + 0.2, time + STEP);
  let largest = 0;
  for (const time of times) {
    const fall = Math.abs(step(time));
    if (fall > largest) largest = fall;
  }
  const limit = FLYING * largest;
  if (!(limit > LEAST_SAG * median(voltage))) return undefined;
  const first = times.find((time) => Math.abs(step(time)) > limit);
  if (first === undefined) return undefined;
  let isFlying = step(first) < 0;
  let since = times[0] ?? 0;
  const flying = new Uint8Array(times.length);
  for (let i = 0; i < times.length; i++) {
    const time = times[i] ?? 0;
    const sign = isFlying ? -1 : 1;
    const level = over(Math.max(since, time - HELD), time);
    const change = sign * (level - over(time, time + STEP));
    const lasting = sign * (level - over(time, time + HELD));
    if (time - since > 1 && change > limit && lasting > 0.8 * limit) {
      // The level is even before it falls: where it falls most.
      const to = steepest(times, i, (at) => sign * step(at));
      flying.fill(isFlying ? 1 : 0, i, to);
      isFlying = !isFlying;
      since = times[to] ?? time;
      i = to;
    }
    flying[i] = isFlying ? 1 : 0;
  }
  return flying;
}

function steepest(times: Float64Array, from: number, step: (time: number) => number): number {
  let best = from;
  let most = Number.NEGATIVE_INFINITY;
  for (let i = from; i < times.length && (times[i] ?? 0) <= (times[from] ?? 0) + STEP; i++) {
    const here = step(times[i] ?? 0);
    if (here > most) [best, most] = [i, here];
  }
  return best;
}

/** s on either side of a step; and how long the level must hold. */
const STEP = 1.2;
const HELD = 3;
/** Of the voltage: a smaller fall is no take-off. */
const LEAST_SAG = 0.01;

function legsOf(isFlying: Uint8Array, times: Float64Array): MomentRange[] {
  const legs: { from: number; to: number }[] = [];
  for (let i = 0; i < isFlying.length; i++) {
    if (!isFlying[i]) continue;
    const last = legs.at(-1);
    if (last && timeAt(times, i) - timeAt(times, last.to - 1) < SHORT_PAUSE) last.to = i + 1;
    else legs.push({ from: i, to: i + 1 });
  }
  return legs;
}

/** Another pack: it rests higher than before the leg that came before. */
function isRecharged({ voltage, times }: Series, before: MomentRange, after: MomentRange): boolean {
  if (!voltage) return false;
  const sums = new Sums(voltage);
  const restBefore = sums.mean(indexAt(times, timeAt(times, before.from) - 3), before.from - 2);
  const restAfter = sums.mean(indexAt(times, timeAt(times, after.from) - 3), after.from - 2);
  return restAfter > restBefore * 1.003;
}
