/** Steady stretches of a flight, stretches of alike charge, and bursts. */

import {
  MARGIN,
  type MomentRange,
  type Series,
  SHORTEST_REST,
  type SteadyStretch,
  secondsOf,
  timeAt,
} from './flight-series.ts';
import { GAP, indexAt, median, smoothed } from './moments.ts';

/** Of a stretch, s, and how far it may wander about its middle, relative; s over which gusts are evened out. */
const SHORTEST_STEADY = 4;
const WANDER = 0.1;
const EVENED = 3;
/** s after take-off and before landing that are never steady. */
export const TAKING_OFF = 2;
/** m/s: slower is hover. Faster up or down is neither hover nor cruise. */
const HOVER_SPEED = 0.8;
const CLIMB = 0.6;

interface SteadyRange {
  readonly range: MomentRange;
  readonly kind: SteadyStretch['kind'];
}

export function steadyIn(series: Series, legs: readonly MomentRange[]): SteadyRange[] {
  const { times, current, output, voltage, groundSpeed, height } = series;
  const level = current ?? output ?? voltage;
  if (!level) return [];
  const even = smoothed(level, times, EVENED);
  const outputs = output && output !== level ? smoothed(output, times, EVENED) : undefined;
  const moving = groundSpeed && smoothed(groundSpeed.map(Math.abs), times, 1.5);
  const heights = height && smoothed(height, times, 1);
  const climbing = (i: number): number => {
    if (!heights) return 0;
    const [a, b] = [indexAt(times, timeAt(times, i) - 1.5), indexAt(times, timeAt(times, i) + 1.5)];
    const span = timeAt(times, b) - timeAt(times, a);
    const rate = span > 0 ? Math.abs((heights[Math.min(b, times.length - 1)] ?? 0) - (heights[a] ?? 0)) / span : 0;
    return Number.isFinite(rate) ? rate : 0;
  };
  const kindOf = (i: number): SteadyStretch['kind'] | undefined => {
    if (climbing(i) > CLIMB) return undefined;
    if (!moving) return 'level';
    const speed = moving[i] ?? Number.NaN;
    return speed < HOVER_SPEED ? 'hover' : speed > 2 * HOVER_SPEED ? 'cruise' : undefined;
  };
  return legs.flatMap((leg) => {
    const from = indexAt(times, timeAt(times, leg.from) + TAKING_OFF);
    const to = indexAt(times, timeAt(times, leg.to - 1) - TAKING_OFF);
    const stretches: SteadyRange[] = [];
    let start = from;
    while (start < to) {
      const kind = kindOf(start);
      let end = start;
      let [lowest, highest] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
      let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
      for (; kind !== undefined && end < to && kindOf(end) === kind; end++) {
        if (end > start && timeAt(times, end) - timeAt(times, end - 1) > GAP) break;
        const [now, out] = [even[end] ?? Number.NaN, outputs?.[end] ?? 0];
        if (!Number.isFinite(now)) continue;
        [lowest, highest] = [Math.min(lowest, now), Math.max(highest, now)];
        [least, most] = [Math.min(least, out), Math.max(most, out)];
        if (highest - lowest > WANDER * (highest + lowest) || most - least > WANDER * (most + least)) break;
      }
      const range = { from: start, to: end };
      if (kind !== undefined && end > start && secondsOf(range, times) >= SHORTEST_STEADY)
        stretches.push({ range, kind });
      start = Math.max(start + 1, end);
    }
    return stretches;
  });
}

/** So many, of alike length. */
const WINDOWS = 6;

export function windowsIn(legs: readonly MomentRange[], times: Float64Array): MomentRange[] {
  const whole = legs.reduce((sum, leg) => sum + secondsOf(leg, times), 0);
  return legs.flatMap((leg) => {
    const from = timeAt(times, leg.from) + MARGIN;
    const to = timeAt(times, leg.to - 1) - MARGIN;
    const count = Math.max(1, Math.round((WINDOWS * (to - from)) / whole));
    if (to - from < SHORTEST_REST) return [];
    return Array.from({ length: count }, (_, i) => ({
      from: indexAt(times, from + (i / count) * (to - from)),
      to: indexAt(times, from + ((i + 1) / count) * (to - from)),
    })).filter((range) => range.to - range.from >= 2);
  });
}

/** Of what flies; s that a burst lasts at least, and lies from another. */
export const BURST_SECONDS = 1.5;
const SHORTEST_BURST = 0.25;
const APART = 2;
const MOST_BURSTS = 3;

export function burstsIn({ times, current, output }: Series, legs: readonly MomentRange[]): MomentRange[] {
  const level = current ?? output;
  if (!level) return [];
  const flies = median(legs.flatMap(({ from, to }) => [...level.subarray(from, to)]));
  const held = smoothed(level, times, 2 * SHORTEST_BURST);
  const candidates = legs
    .flatMap(({ from, to }) => Array.from({ length: to - from }, (_, i) => from + i))
    .filter((i) => (held[i] ?? 0) > BURST_SECONDS * flies)
    .sort((a, b) => (held[b] ?? 0) - (held[a] ?? 0));
  const chosen: number[] = [];
  for (const i of candidates) {
    if (chosen.length >= MOST_BURSTS) break;
    if (chosen.every((other) => Math.abs(timeAt(times, i) - timeAt(times, other)) > APART)) chosen.push(i);
  }
  return chosen.map((i) => ({
    from: indexAt(times, timeAt(times, i) - SHORTEST_BURST),
    // Of rows that are rarer than that one alone.
    to: Math.max(i + 1, indexAt(times, timeAt(times, i) + SHORTEST_BURST)),
  }));
}
