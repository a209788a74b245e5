/**
 * What can be seen in a log without knowing the craft: take-off and landing, rest before and after, steady stretches, bursts, charge, and how
 * the volts give way to the amperes. Thresholds are ours; they are shares of what the log itself shows, so that they fit a craft of any size.
 */
import type { FlightLog } from '../../model/build.ts';
import { formatValue } from '../../units/print.ts';
import { GAP, indexAt, integrated, median, quantile, Sums, smoothed } from './moments.ts';

/** A stretch of the log, s in its own time. */
interface Span {
  readonly from: number;
  readonly to: number;
}

/** Averages over a stretch, SI; what the log does not have is absent. */
export interface Averages extends Span {
  readonly voltage?: number;
  readonly current?: number;
  readonly output?: number;
  /** Of the rotors, rad/s. */
  readonly speed?: number;
  /** C out of the pack from the start of the log to the middle of the stretch, as the recorder reads it. */
  readonly used?: number;
}

export interface Steady extends Averages {
  /** `level`: no speed over ground was logged, so it may cruise. */
  readonly kind: 'hover' | 'cruise' | 'level';
}

export interface FlightInLog {
  readonly log: FlightLog;
  /** The part of the log that the flight is in. */
  readonly whole: Span;
  /** In the air; several where it landed between. */
  readonly legs: readonly Span[];
  /** Whether the log begins or ends in the air. */
  readonly isCut: { readonly before: boolean; readonly after: boolean };
  /** s in the air */
  readonly airborne: number;
  readonly restBefore?: Averages;
  /** `after`: s from landing to its middle. */
  readonly restAfter?: Averages & { readonly after: number };
  /** C out of the pack over the whole, as the recorder reads it, and s; and of it in the air. */
  readonly charge?: { readonly whole: number; readonly seconds: number; readonly inAir: number };
  readonly steady: readonly Steady[];
  /** Of all time in the air, a few stretches of alike charge, for the volts over the amperes. */
  readonly windows: readonly Averages[];
  /** Strongest first. */
  readonly bursts: readonly Averages[];
  /** By how much the volts fall for each ampere more, at equal charge, ohm; `error`: one standard deviation. */
  readonly sag?: { readonly resistance: number; readonly error: number };
  /** W over the time in the air; and how much of it bursts are, above what most of the flight takes. */
  readonly power?: number;
  readonly burstPower?: number;
  /** s between rows, the median; longer gaps and how long the longest is, s. */
  readonly step: number;
  readonly gaps: { readonly count: number; readonly longest: number };
  /** Other flights in the file, which are left alone. */
  readonly others: number;
}

export interface NoFlight {
  readonly none: string;
}

const found = new WeakMap<FlightLog['recording'], Map<string, FlightInLog | NoFlight>>();

/** The longest flight of a log. By content: it is looked for once. */
export function flightIn(log: FlightLog): FlightInLog | NoFlight {
  const ofRecording = found.get(log.recording) ?? new Map<string, FlightInLog | NoFlight>();
  found.set(log.recording, ofRecording);
  const known = ofRecording.get(log.content);
  if (known) return 'none' in known ? known : { ...known, log };
  const made = search(log);
  ofRecording.set(log.content, made);
  return made;
}

/** One run of the recorder. */
interface Series {
  readonly times: Float64Array;
  readonly voltage: Float64Array | undefined;
  readonly current: Float64Array | undefined;
  readonly output: Float64Array | undefined;
  readonly speed: Float64Array | undefined;
  readonly height: Float64Array | undefined;
  readonly groundSpeed: Float64Array | undefined;
}

function search(log: FlightLog): FlightInLog | NoFlight {
  const { recording } = log;
  const part = (name: string, from: number, to: number) => log.series(name)?.subarray(from, to);
  const flights = recording.runs.flatMap(({ from, to }) => {
    const series: Series = {
      times: recording.times.subarray(from, to),
      voltage: part('voltage', from, to),
      current: part('current', from, to),
      output: part('output', from, to),
      speed: part('speed', from, to),
      height: part('height', from, to),
      groundSpeed: part('ground_speed', from, to),
    };
    return flightsIn(series).map((legs) => ({ series, legs }));
  });
  const lasting = ({ legs }: { readonly legs: readonly Range[] }, { times }: Series) =>
    legs.reduce((sum, leg) => sum + secondsOf(leg, times), 0);
  const sorted = flights.toSorted((a, b) => lasting(b, b.series) - lasting(a, a.series));
  const [longest] = sorted;
  const most = longest && outputIn(longest);
  if (most !== undefined && most < LEAST_OUTPUT)
    return {
      none: `its output stays at ${formatValue(most, '%')} or less, so it was recorded on the ground with the motors off, or its output is not in the unit that is stated`,
    };
  if (!longest)
    return { none: 'no take-off is found in it: neither current, output nor voltage changes as in a flight' };
  return describe(log, longest.series, longest.legs, sorted.length - 1);
}

/** No craft flies on so little. */
const LEAST_OUTPUT = 0.03;

/** The most that the output comes to in what looks like flight, outliers left out; undefined where none was logged. */
function outputIn({ series, legs }: { readonly series: Series; readonly legs: readonly Range[] }): number | undefined {
  const { output } = series;
  const most =
    output &&
    quantile(
      legs.flatMap(({ from, to }) => [...output.subarray(from, to)]),
      0.9,
    );
  return most === undefined || !Number.isFinite(most) ? undefined : most;
}

/** Moments, the last one not included. */
interface Range {
  readonly from: number;
  readonly to: number;
}

const timeAt = (times: Float64Array, i: number): number => times[Math.max(0, Math.min(times.length - 1, i))] ?? 0;
const secondsOf = ({ from, to }: Range, times: Float64Array): number => timeAt(times, to - 1) - timeAt(times, from);

/** s: shorter pauses belong to the flight; shorter hops are none. */
const SHORT_PAUSE = 2.5;
const SHORTEST_LEG = 3;
/** s on the ground between two legs of one flight. */
const LONGEST_STOP = 120;
/** Of the way from rest to flying: where flying begins. */
const FLYING = 0.4;
/** Below this share of what flies, something rests. */
const RESTING = 0.35;
/** Moments: fewer are no flight. */
const FEWEST = 8;

/** Flights of one run, each as its legs. */
function flightsIn(series: Series): Range[][] {
  const { times, current, output, voltage } = series;
  if (times.length < FEWEST) return [];
  const levels = current ?? output;
  const isFlying = levels ? byLevel(levels, times) : voltage && byVoltage(voltage, times);
  if (!isFlying) return [];
  const legs = legsOf(isFlying, times).filter((leg) => secondsOf(leg, times) >= SHORTEST_LEG);
  const flights: Range[][] = [];
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

function legsOf(isFlying: Uint8Array, times: Float64Array): Range[] {
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
function isRecharged({ voltage, times }: Series, before: Range, after: Range): boolean {
  if (!voltage) return false;
  const sums = new Sums(voltage);
  const restBefore = sums.mean(indexAt(times, timeAt(times, before.from) - 3), before.from - 2);
  const restAfter = sums.mean(indexAt(times, timeAt(times, after.from) - 3), after.from - 2);
  return restAfter > restBefore * 1.003;
}

/** s around take-off and landing that belong to neither side. */
const MARGIN = 1;
/** s of rest that count, at most, and at least. */
const LONGEST_REST = 10;
const SHORTEST_REST = 1;
/** Of the way from rest to flying: a craft that draws more does not rest. */
const RESTS_BELOW = 0.12;
/** s in which a pack comes back after a flight, mostly. */
const RECOVERING = 4;

function describe(log: FlightLog, series: Series, legs: readonly Range[], others: number): FlightInLog {
  const { times, voltage, current } = series;
  const first = legs[0] as Range;
  const last = legs.at(-1) as Range;
  const charge = current && integrated(current, times);
  const takeOff = timeAt(times, first.from);
  const landing = timeAt(times, last.to - 1);
  const spanned = legs.map(({ from, to }): Span => ({ from: timeAt(times, from), to: timeAt(times, to - 1) }));
  const whole: Span = { from: wholeFrom(series, first), to: wholeTo(series, last) };
  const atStart = charge?.[indexAt(times, whole.from)] ?? 0;
  const averages = averagesOf(
    series,
    charge?.map((one) => one - atStart),
  );
  const drawn = charge && {
    whole: (charge[indexAt(times, whole.to)] ?? charge.at(-1) ?? 0) - atStart,
    seconds: whole.to - whole.from,
    inAir: legs.reduce((sum, { from, to }) => sum + (charge[to - 1] ?? 0) - (charge[from] ?? 0), 0),
  };
  const rests = restsOf(series, { from: indexAt(times, whole.from), to: indexAt(times, whole.to) + 1 }, first, last);
  const before = rests.before && averages(rests.before);
  const after = rests.after && averages(rests.after);
  const steady = steadyIn(series, legs).map(({ range, kind }): Steady => ({ ...averages(range), kind }));
  const powers = voltage && current && Float64Array.from(voltage, (volts, i) => volts * (current[i] ?? Number.NaN));
  const airborne = legs.reduce((sum, leg) => sum + secondsOf(leg, times), 0);
  const inAir = (watts: Float64Array) => {
    const energy = integrated(watts, times);
    const joules = legs.reduce((sum, { from, to }) => sum + (energy[to - 1] ?? 0) - (energy[from] ?? 0), 0);
    return airborne > 0 ? joules / airborne : 0;
  };
  const sag = sagIn(series, legs);
  return {
    log,
    whole,
    legs: spanned,
    isCut: { before: first.from === 0, after: last.to === times.length },
    airborne,
    ...(before && { restBefore: before }),
    ...(after && { restAfter: { ...after, after: (after.from + after.to) / 2 - landing } }),
    ...(drawn && { charge: drawn }),
    steady,
    windows: windowsIn(legs, times).map(averages),
    bursts: burstsIn(series, legs).map(averages),
    ...(sag && { sag }),
    ...(powers && airborne > 0 && { power: inAir(powers), burstPower: inAir(excess(powers, legs)) }),
    ...stepsIn(times, indexAt(times, takeOff), indexAt(times, landing)),
    others,
  };
}

/** W above what most of the flight takes, in bursts. */
function excess(powers: Float64Array, legs: readonly Range[]): Float64Array {
  const usual = median(legs.flatMap(({ from, to }) => [...powers.subarray(from, to)]));
  return powers.map((watts) => (watts > BURST * usual ? watts - usual : Number.isFinite(watts) ? 0 : watts));
}

/** What belongs to one flight begins where the one before ended. */
function wholeFrom({ times }: Series, { from }: Range): number {
  return timeAt(times, Math.max(0, indexAt(times, timeAt(times, from) - LONGEST_STOP)));
}

function wholeTo({ times }: Series, { to }: Range): number {
  return timeAt(times, Math.min(times.length, indexAt(times, timeAt(times, to - 1) + LONGEST_STOP)) - 1);
}

function averagesOf(series: Series, charge: Float64Array | undefined): (range: Range) => Averages {
  const sums = Object.fromEntries(
    (['voltage', 'current', 'output', 'speed'] as const).flatMap((name) => {
      const values = series[name];
      return values ? [[name, new Sums(values)] as const] : [];
    }),
  );
  const { times } = series;
  return ({ from, to }) => {
    const known = Object.entries(sums).flatMap(([name, sum]) => {
      const value = sum.mean(from, to);
      return Number.isFinite(value) ? [[name, value] as const] : [];
    });
    const used = charge?.[Math.min(charge.length - 1, (from + to) >> 1)];
    return {
      from: timeAt(times, from),
      to: timeAt(times, to - 1),
      ...Object.fromEntries(known),
      ...(used !== undefined && { used }),
    };
  };
}

function restsOf(
  { times, voltage, current, output }: Series,
  whole: Range,
  first: Range,
  last: Range,
): { readonly before?: Range; readonly after?: Range } {
  if (!voltage) return {};
  const level = current ?? output;
  const calm = level && smoothed(level, times, 0.6);
  const flies = calm ? median(calm.subarray(first.from, last.to)) : 0;
  const low = calm ? quantile(calm, 0.02) : 0;
  const rest = low < RESTING * flies ? low : 0;
  const rests = (i: number) => !calm || (calm[i] ?? Number.NaN) < rest + RESTS_BELOW * (flies - rest);
  const within = (from: number, to: number, isFromEnd: boolean): Range | undefined => {
    const [a, b] = [indexAt(times, from), indexAt(times, to)];
    const moments = Array.from({ length: Math.max(0, b - a) }, (_, i) => a + i).filter(rests);
    const edge = isFromEnd ? moments.at(-1) : moments[0];
    if (edge === undefined) return undefined;
    // Rest without anything in between.
    let [start, end] = [edge, edge + 1];
    while (start > a && rests(start - 1) && timeAt(times, end - 1) - timeAt(times, start - 1) <= LONGEST_REST) start--;
    while (end < b && rests(end) && timeAt(times, end) - timeAt(times, start) <= LONGEST_REST) end++;
    const range = { from: start, to: end };
    return secondsOf(range, times) >= SHORTEST_REST ? range : undefined;
  };
  const before = within(timeAt(times, whole.from), timeAt(times, first.from) - MARGIN, true);
  const after = within(timeAt(times, last.to - 1) + RECOVERING, timeAt(times, whole.to - 1) + 1e-9, true);
  return { ...(before && { before }), ...(after && { after }) };
}

/** Of a stretch, s, and how far it may wander about its middle, relative; s over which gusts are evened out. */
const SHORTEST_STEADY = 4;
const WANDER = 0.1;
const EVENED = 3;
/** s after take-off and before landing that are never steady. */
const TAKING_OFF = 2;
/** m/s: slower is hover. Faster up or down is neither hover nor cruise. */
const HOVER_SPEED = 0.8;
const CLIMB = 0.6;

interface SteadyRange {
  readonly range: Range;
  readonly kind: Steady['kind'];
}

function steadyIn(series: Series, legs: readonly Range[]): SteadyRange[] {
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
  const kindOf = (i: number): Steady['kind'] | undefined => {
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

function windowsIn(legs: readonly Range[], times: Float64Array): Range[] {
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
const BURST = 1.5;
const SHORTEST_BURST = 0.25;
const APART = 2;
const MOST_BURSTS = 3;

function burstsIn({ times, current, output }: Series, legs: readonly Range[]): Range[] {
  const level = current ?? output;
  if (!level) return [];
  const flies = median(legs.flatMap(({ from, to }) => [...level.subarray(from, to)]));
  const held = smoothed(level, times, 2 * SHORTEST_BURST);
  const candidates = legs
    .flatMap(({ from, to }) => Array.from({ length: to - from }, (_, i) => from + i))
    .filter((i) => (held[i] ?? 0) > BURST * flies)
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

/** s of alike charge; blocks and spread (relative) below which a slope means nothing. */
const BLOCK = 8;
const FEWEST_BLOCKS = 3;
const LEAST_SPREAD = 0.03;

/** Regression of volts on amperes within blocks, each with a level of its own. */
function sagIn({ times, voltage, current }: Series, legs: readonly Range[]): FlightInLog['sag'] {
  if (!voltage || !current) return undefined;
  let [products, squares, left, count, blocks, amperes] = [0, 0, 0, 0, 0, 0];
  for (const leg of legs) {
    const end = timeAt(times, leg.to - 1) - MARGIN;
    for (let at = timeAt(times, leg.from) + TAKING_OFF; at + BLOCK / 2 < end; at += BLOCK) {
      const range = Array.from(
        { length: indexAt(times, Math.min(end, at + BLOCK)) - indexAt(times, at) },
        (_, i) => indexAt(times, at) + i,
      ).filter((i) => Number.isFinite(voltage[i]) && Number.isFinite(current[i]));
      if (range.length < 5) continue;
      const of = (values: Float64Array) => range.map((i) => values[i] ?? 0);
      const middle = (values: readonly number[]) => values.reduce((sum, one) => sum + one, 0) / values.length;
      const [volts, amps] = [of(voltage), of(current)];
      const [meanVolts, meanAmps] = [middle(volts), middle(amps)];
      for (const [k, amp] of amps.entries()) {
        const [x, y] = [amp - meanAmps, (volts[k] ?? 0) - meanVolts];
        products += x * y;
        squares += x * x;
        left += y * y;
      }
      blocks++;
      count += range.length;
      amperes += meanAmps * range.length;
    }
  }
  const free = count - blocks - 1;
  if (blocks < FEWEST_BLOCKS || free < 20 || Math.sqrt(squares / count) < (LEAST_SPREAD * amperes) / count)
    return undefined;
  const slope = products / squares;
  const residual = Math.max(0, left - slope * products) / free;
  const error = Math.sqrt(residual / squares);
  return slope < -4 * error ? { resistance: -slope, error } : undefined;
}

function stepsIn(times: Float64Array, from: number, to: number): Pick<FlightInLog, 'step' | 'gaps'> {
  const steps = Array.from(
    { length: Math.max(0, to - from) },
    (_, i) => timeAt(times, from + i + 1) - timeAt(times, from + i),
  );
  const gaps = steps.filter((step) => step > GAP);
  return {
    step: median(steps),
    gaps: { count: gaps.length, longest: gaps.reduce((most, gap) => Math.max(most, gap), 0) },
  };
}
