/**
 * What can be seen in a log without knowing the craft: take-off and landing, rest before and after, steady stretches, bursts, charge, and how
 * the volts give way to the amperes. Thresholds are ours; they are shares of what the log itself shows, so that they fit a craft of any size.
 */
import type { FlightLog } from '../../model/build.ts';
import { withoutRows } from '../../model/log/recording.ts';
import { formatValue } from '../../units/print.ts';
import {
  type Averages,
  type FlightInLog,
  LONGEST_REST,
  MARGIN,
  type MomentRange,
  type Series,
  SHORTEST_REST,
  type Span,
  type SteadyStretch,
  secondsOf,
  timeAt,
} from './flight-series.ts';
import { flightsInSeries, LONGEST_STOP, RESTING } from './legs-in-log.ts';
import { GAP, indexAt, integrated, median, quantile, Sums, smoothed } from './moments.ts';
import { BURST_SECONDS, burstsIn, steadyIn, TAKING_OFF, windowsIn } from './steady-in-log.ts';

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

function search(log: FlightLog): FlightInLog | NoFlight {
  const { recording } = log;
  if (recording.rows === 0) return { none: `it has ${withoutRows(recording)}` };
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
      airTemperature: part('air_temperature', from, to),
      packTemperature: part('pack_temperature', from, to),
    };
    return flightsInSeries(series).map((legs) => ({ series, legs }));
  });
  const lasting = ({ legs }: { readonly legs: readonly MomentRange[] }, { times }: Series) =>
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

/** The highest output in what looks like flight, outliers left out; undefined where none was logged. */
function outputIn({
  series,
  legs,
}: {
  readonly series: Series;
  readonly legs: readonly MomentRange[];
}): number | undefined {
  const { output } = series;
  const most =
    output &&
    quantile(
      legs.flatMap(({ from, to }) => [...output.subarray(from, to)]),
      0.9,
    );
  return most === undefined || !Number.isFinite(most) ? undefined : most;
}

/** Of the way from rest to flying: a craft that draws more does not rest. */
const RESTS_BELOW = 0.12;
/** s in which a pack comes back after a flight, mostly. */
const RECOVERING = 4;

function describe(log: FlightLog, series: Series, legs: readonly MomentRange[], others: number): FlightInLog {
  const { times, voltage, current } = series;
  const first = legs[0] as MomentRange;
  const last = legs.at(-1) as MomentRange;
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
  const steady = steadyIn(series, legs).map(({ range, kind }): SteadyStretch => ({ ...averages(range), kind }));
  const powers = voltage && current && Float64Array.from(voltage, (volts, i) => volts * (current[i] ?? Number.NaN));
  const airborne = legs.reduce((sum, leg) => sum + secondsOf(leg, times), 0);
  const inAir = (watts: Float64Array) => {
    const energy = integrated(watts, times);
    const joules = legs.reduce((sum, { from, to }) => sum + (energy[to - 1] ?? 0) - (energy[from] ?? 0), 0);
    return airborne > 0 ? joules / airborne : 0;
  };
  const sag = sagIn(series, legs);
  const air = warmthIn(series.airTemperature, first.from, last.to);
  const pack = warmthIn(
    series.packTemperature,
    indexAt(times, takeOff - WARMING_UP),
    indexAt(times, takeOff + WARMING_UP),
  );
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
    ...(air !== undefined && { airTemperature: air }),
    ...(pack !== undefined && { packTemperature: pack }),
    ...(powers && airborne > 0 && { power: inAir(powers), burstPower: inAir(excess(powers, legs)) }),
    hops: legs.filter(({ from }, i) => from > (legs[i - 1]?.to ?? -1)).length,
    step: stepOf(log.recording),
    gaps: gapsIn(times, indexAt(times, takeOff), indexAt(times, landing)),
    others,
  };
}

/** s before and after take-off in which a pack is as warm as it began. */
const WARMING_UP = 10;

/** Undefined where nothing was logged there. */
function warmthIn(temperatures: Float64Array | undefined, from: number, to: number): number | undefined {
  const warmth = temperatures && median([...temperatures.subarray(from, Math.max(from + 1, to))]);
  return warmth !== undefined && Number.isFinite(warmth) ? warmth : undefined;
}

/** W above what most of the flight takes, in bursts. */
function excess(powers: Float64Array, legs: readonly MomentRange[]): Float64Array {
  const usual = median(legs.flatMap(({ from, to }) => [...powers.subarray(from, to)]));
  return powers.map((watts) => (watts > BURST_SECONDS * usual ? watts - usual : Number.isFinite(watts) ? 0 : watts));
}

/** What belongs to one flight begins where the one before ended. */
function wholeFrom({ times }: Series, { from }: MomentRange): number {
  return timeAt(times, Math.max(0, indexAt(times, timeAt(times, from) - LONGEST_STOP)));
}

function wholeTo({ times }: Series, { to }: MomentRange): number {
  return timeAt(times, Math.min(times.length, indexAt(times, timeAt(times, to - 1) + LONGEST_STOP)) - 1);
}

function averagesOf(series: Series, charge: Float64Array | undefined): (range: MomentRange) => Averages {
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
  whole: MomentRange,
  first: MomentRange,
  last: MomentRange,
): { readonly before?: MomentRange; readonly after?: MomentRange } {
  if (!voltage) return {};
  const level = current ?? output;
  const calm = level && smoothed(level, times, 0.6);
  const flies = calm ? median(calm.subarray(first.from, last.to)) : 0;
  const low = calm ? quantile(calm, 0.02) : 0;
  const rest = low < RESTING * flies ? low : 0;
  const rests = (i: number) => !calm || (calm[i] ?? Number.NaN) < rest + RESTS_BELOW * (flies - rest);
  const within = (from: number, to: number, isFromEnd: boolean): MomentRange | undefined => {
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

/** s of alike charge; blocks and spread (relative) below which a slope means nothing. */
const BLOCK = 8;
const FEWEST_BLOCKS = 3;
const LEAST_SPREAD = 0.03;

/** Regression of volts on amperes within blocks, each with a level of its own. */
function sagIn({ times, voltage, current }: Series, legs: readonly MomentRange[]): FlightInLog['sag'] {
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

/** s from row to row, on average, while the recorder ran. */
function stepOf({ rows, runs, times }: FlightLog['recording']): number {
  const ran = runs.reduce((sum, { from, to }) => sum + timeAt(times, to - 1) - timeAt(times, from), 0);
  return ran / Math.max(1, rows - runs.length);
}

function gapsIn(times: Float64Array, from: number, to: number): FlightInLog['gaps'] {
  const gaps = Array.from(
    { length: Math.max(0, to - from) },
    (_, i) => timeAt(times, from + i + 1) - timeAt(times, from + i),
  ).filter((step) => step > GAP);
  return { count: gaps.length, longest: gaps.reduce((most, gap) => Math.max(most, gap), 0) };
}
