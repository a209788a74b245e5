/** Stretches of a log, and the log as rows of numbers. */
import type { FlightLog } from '../../model/build.ts';

/** A stretch of the log, s in its own time. */
export interface Span {
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

export interface SteadyStretch extends Averages {
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
  readonly steady: readonly SteadyStretch[];
  /** Of all time in the air, a few stretches of alike charge, for the volts over the amperes. */
  readonly windows: readonly Averages[];
  /** Strongest first. */
  readonly bursts: readonly Averages[];
  /** By how much the volts fall for each ampere more, at equal charge, ohm; `error`: one standard deviation. */
  readonly sag?: { readonly resistance: number; readonly error: number };
  /** W over the time in the air; and how much of it bursts are, above what most of the flight takes. */
  readonly power?: number;
  readonly burstPower?: number;
  /** Parts of it between which the craft rested; a gap of the recording separates none. */
  readonly hops: number;
  /** s between rows, on average while the recorder ran. */
  readonly step: number;
  /** In the air, and how long the longest is, s. */
  readonly gaps: { readonly count: number; readonly longest: number };
  /** K; around the craft in flight, and of the pack at take-off. */
  readonly airTemperature?: number;
  readonly packTemperature?: number;
  /** Other flights in the file, which are left alone. */
  readonly others: number;
}

/** One run of the recorder. */
export interface Series {
  readonly times: Float64Array;
  readonly voltage: Float64Array | undefined;
  readonly current: Float64Array | undefined;
  readonly output: Float64Array | undefined;
  readonly speed: Float64Array | undefined;
  readonly height: Float64Array | undefined;
  readonly groundSpeed: Float64Array | undefined;
  readonly airTemperature: Float64Array | undefined;
  readonly packTemperature: Float64Array | undefined;
}

/** Moments, the last one not included. */
export interface MomentRange {
  readonly from: number;
  readonly to: number;
}

export const timeAt = (times: Float64Array, i: number): number =>
  times[Math.max(0, Math.min(times.length - 1, i))] ?? 0;
export const secondsOf = ({ from, to }: MomentRange, times: Float64Array): number =>
  timeAt(times, to - 1) - timeAt(times, from);

/** s around take-off and landing that belong to neither side. */
export const MARGIN = 1;
/** s of rest that count, at most, and at least. */
export const LONGEST_REST = 10;
export const SHORTEST_REST = 1;
