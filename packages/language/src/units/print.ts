/** Numbers as a trades-person reads them: a few digits, the unit behind, no grouping. */
import { type Interval, interval, lopsided } from './interval.ts';
import { parseUnit, type Unit, unitNamed } from './parse.ts';

/** Units that stick to their number: 2S, 75C. */
const CLOSE: ReadonlySet<string> = new Set(['S', 'P', 'C']);
const MINUTE = 60;

/**
 * `98.4 g`, `3150 rpm/V`, `4 min 36 s`, `2S`, `9.80 EUR`. Whole digits are not rounded away below ten millions; `digits` (3 unless stated) counts
 * significant ones. A value that is no finite number reads "unknown".
 */
export function formatValue(si: number, unit: string | Unit, digits = 3): string {
  return joined(printedValue(si, unit, digits));
}

/** A printed value before its two parts are joined. */
export interface Printed {
  /** `98.4`; "unknown" and `4 min 36 s` have nothing behind them. */
  readonly number: string;
  /** Empty where there is none. */
  readonly unit: string;
}

/** What parts a number from its unit. */
export const gapBefore = (unit: string): string => (unit === '' || CLOSE.has(unit) ? '' : ' ');

export const joined = ({ number, unit }: Printed): string => `${number}${gapBefore(unit)}${unit}`;

/** Two values, the unit once where they have the same: `12 → 45 %`; one alone where both are printed alike. */
export function joinedPair(one: Printed, between: '→' | 'to', other: Printed): string {
  if (joined(one) === joined(other)) return joined(other);
  return `${one.unit === other.unit ? one.number : joined(one)} ${between} ${joined(other)}`;
}

/** What `formatValue` joins. */
export function printedValue(si: number, unit: string | Unit, digits = 3): Printed {
  const known = displayUnit(unit);
  const value = known.fromSI(si);
  if (!Number.isFinite(value)) return UNKNOWN;
  if (known.name === 'min') return printedMinutes(si, digits);
  const number = known.dimension.money === 1 ? formatHundredths(value) : formatNumber(value, digits);
  return { number, unit: known.name };
}

const UNKNOWN: Printed = { number: 'unknown', unit: '' };

/**
 * Value and half-width with the same number of decimals: `98.4 ± 1.9 g`, `4.6 ± 0.5 min`, `3150 ± 90 rpm/V`.
 * The ± has one significant digit; two where it begins with a 1 or 2, or where the value would be left with a single digit.
 * `halfWidth` is in SI too (k = 2, or as declared). Zero or unknown: the value alone.
 * What is positive and known so badly that its two sides differ is printed with both ends: `75 (45 to 125) A`.
 */
export function formatPlusMinus(si: number, halfWidth: number, unit: string | Unit): string {
  const known = displayUnit(unit);
  const between = twoSided(si, halfWidth, known);
  return between ? formatBetween(si, between, known) : formatSymmetric(si, halfWidth, known);
}

/** Value and both ends of what is normal in its logarithm, however well it is known: `1.2 (1.1 to 1.31) ohm`. */
export function formatLogarithmic(si: number, halfWidth: number, unit: string | Unit): string {
  const factor = Math.exp(halfWidth / si);
  return formatBetween(si, { low: si / factor, high: si * factor }, displayUnit(unit));
}

/** A temperature has no zero to be far from. */
const twoSided = (si: number, halfWidth: number, { scale, dimension }: Unit): Interval | undefined =>
  scale === undefined || dimension.point || !Number.isFinite(halfWidth) || halfWidth <= 0
    ? undefined
    : lopsided(si, halfWidth);

/** How many times as far off one end may be as the other before it has fewer digits. */
const FAR = 10;

function formatBetween(si: number, { low, high }: Interval, known: Unit): string {
  const [value, least, most] = [known.fromSI(si), known.fromSI(low), known.fromSI(high)];
  if (!Number.isFinite(value)) return 'unknown';
  if (!Number.isFinite(most)) return withUnit(formatNumber(value), known);
  const place = placeOf(value - least, value);
  // An end that is ten times as far off as the other one is known to two digits at best.
  const far = most - value > FAR * (value - least) ? Math.max(place, exponentOf(most) - 1) : place;
  const reported = [value, least, most].map((end) =>
    most >= UNREADABLE ? formatNumber(end) : fixed(end, end === most ? far : place),
  );
  return withUnit(`${reported[0]} (${reported[1]} to ${reported[2]})`, known);
}

/** The same with one half-width for both sides: a difference, or what may as well be negative. */
export const formatSymmetric = (si: number, halfWidth: number, unit: string | Unit): string =>
  joined(printedRounded(si, halfWidth, unit, (value, plusMinus) => `${value} ± ${plusMinus}`));

/** The value alone, with the digits that its ± leaves: `5.2 min`. */
export const formatWithin = (si: number, halfWidth: number, unit: string | Unit): string =>
  joined(printedWithin(si, halfWidth, unit));

/** What `formatWithin` joins. */
export const printedWithin = (si: number, halfWidth: number, unit: string | Unit): Printed =>
  printedRounded(si, halfWidth, unit, (value) => value);

/**
 * The safe end of a value to fly by, rounded away from danger, with the digits that its ± leaves: of minutes the lower one, of a voltage to
 * land at the upper one. Never below zero.
 */
export function formatEnd(si: number, halfWidth: number, unit: string | Unit, end: 'lower' | 'upper'): string {
  const known = displayUnit(unit);
  const value = known.fromSI(si);
  if (known.scale === undefined || !Number.isFinite(value) || !Number.isFinite(halfWidth) || halfWidth <= 0)
    return formatWithin(si, halfWidth, known);
  const plusMinus = halfWidth / known.scale;
  if (Math.abs(value) >= UNREADABLE || plusMinus >= UNREADABLE) return formatWithin(si, halfWidth, known);
  const place = Math.max(FINEST, placeOf(plusMinus, Math.abs(value)));
  const { low, high } = interval(value, plusMinus);
  const steps = (end === 'lower' ? low : high) / 10 ** place;
  // What is a step already stays one, whatever the last bit of the division is.
  const whole = end === 'lower' ? Math.floor(steps + 1e-9) : Math.ceil(steps - 1e-9);
  return withUnit(atPlace(Math.max(0, whole) * 10 ** place, place), known);
}

function printedRounded(
  si: number,
  halfWidth: number,
  unit: string | Unit,
  word: (value: string, plusMinus: string) => string,
): Printed {
  const known = displayUnit(unit);
  const value = known.fromSI(si);
  if (!Number.isFinite(value)) return UNKNOWN;
  if (known.scale === undefined || !Number.isFinite(halfWidth) || halfWidth <= 0) return printedValue(si, known);
  const plusMinus = halfWidth / known.scale;
  if (Math.abs(value) >= UNREADABLE || plusMinus >= UNREADABLE)
    return { number: word(formatNumber(value), formatNumber(plusMinus, 2)), unit: known.name };
  const place = placeOf(plusMinus, Math.abs(value));
  return { number: word(fixed(value, place), fixed(plusMinus, place)), unit: known.name };
}

/** A share in whole percent, `112 %`; over nothing at all or next to it, which a file may state, "a multiple". */
export const formatShare = (share: number): string => joined(printedShare(share));

function printedShare(share: number): Printed {
  const percent = Math.round(100 * share);
  const isReadable = Math.abs(percent) < UNREADABLE;
  return isReadable ? { number: formatNumber(percent), unit: '%' } : { number: 'a multiple', unit: '' };
}

/** Both in whole percent, the unit once: `12 → 45 %`; one alone where they are the same as printed. */
export const formatShares = (before: number, after: number): string =>
  joinedPair(printedShare(before), '→', printedShare(after));

/** All digits of a number, `66.7`; beyond all counting as people write it, `1e308`. */
export const plainNumber = (value: number): string =>
  (Math.abs(value) < UNCOUNTABLE ? String(value) : value.toExponential()).replace('e+', 'e');

/** A difference between two values, both in SI; the half-width is that of the difference. */
export interface Difference {
  readonly value: number;
  readonly halfWidth: number;
}

/** Prints values of one quantity and how they differ. */
export interface Steps {
  /** A value, with a ± where one is given: `91.48 g`, `101.18 ± 1.40 g`. */
  level(si: number, halfWidth?: number): string;
  /** Both with the unit once: `91.48 → 103.48 g`. */
  pair(before: number, after: number): string;
  /** `+12.00 ± 0.05 g`: what the two differ by as they are printed. */
  difference(before: number, after: number, halfWidth: number): string;
  /** The same without a sign and a ±: `12.00 g`. */
  apart(one: number, other: number): string;
}

/**
 * So many digits for values and their differences alike that each sum is right as it is printed: as many as the ± of the finest
 * difference leaves, without one three of the difference. Minutes are printed in whole seconds.
 */
export function stepsOf(unit: string | Unit, differences: readonly Difference[]): Steps {
  const known = displayUnit(unit);
  if (known.name === 'min') return clockSteps();
  const scale = known.scale ?? 1;
  const places = differences
    .map(({ value, halfWidth }) => stepPlace(value / scale, halfWidth / scale))
    .filter((place) => place !== undefined);
  const finestPlace = places.length > 0 ? Math.min(...places) : 0;
  const place = known.dimension.money === 1 ? -2 : Math.min(COARSEST, Math.max(FINEST, finestPlace));
  return decimalSteps(known, scale, place);
}

/** With as many digits as it takes to see the difference in them: `96.0 → 98.8 g`. */
export function formatPair(before: number, after: number, unit: string | Unit): string {
  const known = displayUnit(unit);
  if (known.name === 'min') return clockSteps().pair(before, after);
  const scale = known.scale ?? 1;
  const largest = Math.max(Math.abs(known.fromSI(before)), Math.abs(known.fromSI(after)));
  const seen = stepPlace((after - before) / scale, 0);
  const readable = largest > 0 ? exponentOf(largest) - 2 : 0;
  const place = Math.min(0, readable, seen === undefined ? 0 : seen + 1);
  return decimalSteps(known, scale, known.dimension.money === 1 ? -2 : Math.max(FINEST, place)).pair(before, after);
}

/** Decimals that nobody reads beyond. */
const FINEST = -12;
/** And a power of ten that computers still know. */
const COARSEST = 300;

const exponentOf = (value: number): number => Math.floor(Math.log10(Math.abs(value)));

/** Power of ten of the last digit that a difference is printed with; undefined where there is none. */
function stepPlace(difference: number, halfWidth: number): number | undefined {
  if (Number.isFinite(halfWidth) && halfWidth > 0) return placeOf(halfWidth, Math.abs(difference));
  return Number.isFinite(difference) && difference !== 0 ? exponentOf(difference) - 2 : undefined;
}

function decimalSteps(known: Unit, scale: number, wanted: number): Steps {
  /** No finer than the largest of these values are known to the computer. */
  const placeFor = (...values: readonly number[]): number => {
    const largest = Math.max(...values.map(Math.abs));
    return largest > 0 && Number.isFinite(largest) ? Math.max(wanted, exponentOf(largest) - DIGITS) : wanted;
  };
  const behind = (halfWidth: number | undefined, place: number): string => {
    const width = Number.isFinite(halfWidth) ? (halfWidth ?? 0) / scale : 0;
    if (width <= 0 || width === Number.POSITIVE_INFINITY) return '';
    // More than two digits of a ± mean nothing.
    const own = Math.max(place, exponentOf(width) - 1);
    return ` ± ${countOf(width, own) === 0 ? formatNumber(width, 1) : atPlace(width, own)}`;
  };
  const numberAt = (si: number, place: number): string => atPlace(known.fromSI(si), place);
  const stepBetween = (before: number, after: number): { readonly step: number; readonly place: number } => {
    const [from, to] = [known.fromSI(before), known.fromSI(after)];
    const place = placeFor(from, to);
    return { step: (countOf(to, place) - countOf(from, place)) * 10 ** place, place };
  };
  return {
    level: (si, halfWidth = 0) => {
      const between = twoSided(si, halfWidth, known);
      const place = placeFor(known.fromSI(si));
      if (between) {
        const ends = `${numberAt(between.low, place)} to ${numberAt(between.high, place)}`;
        return withUnit(`${numberAt(si, place)} (${ends})`, known);
      }
      return withUnit(`${numberAt(si, place)}${behind(halfWidth, place)}`, known);
    },
    pair: (before, after) => {
      const place = placeFor(known.fromSI(before), known.fromSI(after));
      return withUnit(`${numberAt(before, place)} → ${numberAt(after, place)}`, known);
    },
    difference: (before, after, halfWidth) => {
      const { step, place } = stepBetween(before, after);
      const printed = `${step > 0 ? '+' : ''}${atPlace(step, place)}`;
      return withUnit(`${printed}${behind(halfWidth, place)}`, differenceUnit(known));
    },
    apart: (one, other) => {
      const { step, place } = stepBetween(one, other);
      return withUnit(atPlace(Math.abs(step), place), differenceUnit(known));
    },
  };
}

/** Significant ones that a number of the computer surely has. */
const DIGITS = 14;

/** How many of that power of ten it is. */
const countOf = (value: number, place: number): number =>
  // Without a minus in front of nothing.
  Math.round(place > 0 ? value / 10 ** place : value * 10 ** -place) + 0;

/** To that power of ten; of what is beyond all counting only the size is left. */
function atPlace(value: number, place: number): string {
  if (!(Math.abs(value) < UNCOUNTABLE)) return formatNumber(value);
  const count = countOf(value, place);
  return place > 0 ? (count * 10 ** place).toFixed(0) : (count / 10 ** -place).toFixed(-place);
}

/** Doubles are whole numbers up to here. */
const UNCOUNTABLE = 1e15;

/** Differences of temperatures have no zero to begin at. */
export function differenceUnit(unit: string | Unit): Unit {
  const known = displayUnit(unit);
  return known.dimension.point ? unitNamed('K') : known;
}

/** A difference or a ± alone: `0.4 K`, `100 s`. One of minutes is in seconds while it is short. */
export function formatDifference(si: number, unit: string | Unit, digits = 3): string {
  const of = differenceUnit(unit);
  return formatValue(si, of.name === 'min' && Math.abs(si) < 2 * MINUTE ? unitNamed('s') : of, digits);
}

/** Values as a clock shows them. */
function clockSteps(): Steps {
  const clock = (si: number): string => joined(Number.isFinite(si) ? printedClock(Math.round(si)) : UNKNOWN);
  const printedWidth = (halfWidth = 0): Printed | undefined => {
    if (!Number.isFinite(halfWidth) || halfWidth <= 0) return undefined;
    if (halfWidth >= 2 * MINUTE) return printedClock(Math.round(halfWidth));
    return { number: halfWidth < 1 ? formatNumber(halfWidth, 1) : String(Math.round(halfWidth)), unit: 's' };
  };
  const behind = (width: Printed | undefined): string => (width ? ` ± ${joined(width)}` : '');
  return {
    level: (si, halfWidth = 0) => {
      const between = Number.isFinite(halfWidth) ? lopsided(si, halfWidth) : undefined;
      return between
        ? `${clock(si)} (${clock(between.low)} to ${clock(between.high)})`
        : `${clock(si)}${behind(printedWidth(halfWidth))}`;
    },
    pair: (before, after) => `${clock(before)} → ${clock(after)}`,
    difference: (before, after, halfWidth) => {
      const step = Math.round(after) - Math.round(before);
      const width = printedWidth(halfWidth);
      const isPlain = Math.abs(step) < 2 * MINUTE;
      // One unit is enough where both have the same.
      const printed = isPlain ? `${step}${width?.unit === 's' ? '' : ' s'}` : clock(step);
      return `${step > 0 ? '+' : ''}${printed}${behind(width)}`;
    },
    apart: (one, other) => {
      const step = Math.abs(Math.round(other) - Math.round(one));
      return step < 2 * MINUTE ? `${step} s` : clock(step);
    },
  };
}

/** From here on nobody counts the digits before the point. */
const UNREADABLE = 1e7;

/** A bare number with so many significant digits; digits before the point stay, up to ten millions: `1.23e8`. */
export function formatNumber(value: number, digits = 3): string {
  if (!Number.isFinite(value)) return 'unknown';
  if (value === 0) return '0';
  const rounded = Number(value.toPrecision(digits));
  const exponent = Math.floor(Math.log10(Math.abs(rounded)));
  const decimals = digits - 1 - exponent;
  if (Math.abs(rounded) >= UNREADABLE) return value.toExponential(digits - 1).replace(/\.?0*e\+/, 'e');
  // Below a millionth nobody counts zeros.
  if (decimals > 8) return rounded.toExponential(digits - 1);
  return withoutTail(value.toFixed(Math.max(0, decimals)));
}

/** As money and a voltmeter show it: `9.80`. */
export const formatHundredths = (value: number): string =>
  Math.abs(value) < UNREADABLE ? value.toFixed(2) : formatNumber(value);

/** `66.0` → `66`: a reading of three digits does not need to show that it has them. */
function withoutTail(text: string): string {
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text;
}

/** Power of ten of the last digit shown. */
function placeOf(plusMinus: number, value: number): number {
  const exponent = Math.floor(Math.log10(Number(plusMinus.toPrecision(1))));
  const leading = Math.round(plusMinus / 10 ** exponent);
  const oneDigitWouldBeLeft = value < 10 ** (exponent + 1);
  return leading <= 2 || oneDigitWouldBeLeft ? exponent - 1 : exponent;
}

function fixed(value: number, place: number): string {
  if (place >= 0) {
    const step = 10 ** place;
    return (Math.round(value / step) * step).toFixed(0);
  }
  return value.toFixed(Math.min(12, -place));
}

function printedMinutes(si: number, digits: number): Printed {
  if (Math.abs(si) < MINUTE) return { number: formatNumber(si, digits), unit: 's' };
  return printedClock(Math.round(si));
}

/** Whole seconds: `4 min 36 s`, `4 min`, `48 s`. */
function printedClock(seconds: number): Printed {
  const all = Math.abs(seconds);
  const sign = seconds < 0 ? '-' : '';
  const rest = all % MINUTE;
  if (all < MINUTE) return { number: `${sign}${all}`, unit: 's' };
  const minutes: Printed = { number: `${sign}${formatNumber(Math.floor(all / MINUTE))}`, unit: 'min' };
  if (all >= UNREADABLE * MINUTE || rest === 0) return minutes;
  return { number: `${joined(minutes)} ${rest} s`, unit: '' };
}

/** Dimensionless results have the unit `1` or none: the number alone. */
const BARE: Unit = { ...unitNamed('cell'), name: '' };

/** A unit by its name as results have it; `` is a plain number. */
export function displayUnit(unit: string | Unit): Unit {
  if (typeof unit !== 'string') return unit;
  if (unit === '' || unit === '1') return BARE;
  const { unit: known } = parseUnit(unit);
  if (!known) throw new RangeError(`no such unit: ${unit}`);
  return known;
}

const withUnit = (number: string, { name }: Unit): string => joined({ number, unit: name });
