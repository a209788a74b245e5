/** Numbers as a trades-person reads them: a few digits, the unit behind, no grouping. */
import { parseUnit, type Unit, unitNamed } from './parse.ts';

/** Units that stick to their number: 2S, 75C. */
export const CLOSE: ReadonlySet<string> = new Set(['S', 'P', 'C']);
const MINUTE = 60;

/**
 * `98.4 g`, `10500 rpm/V`, `4 min 36 s`, `2S`, `9.80 EUR`. Whole digits are not rounded away below ten millions; `digits` (3 unless told) counts
 * significant ones. A value that is no finite number reads "unknown".
 */
export function formatValue(si: number, unit: string | Unit, digits = 3): string {
  const known = displayUnit(unit);
  const value = known.fromSI(si);
  if (!Number.isFinite(value)) return 'unknown';
  if (known.name === 'min') return formatMinutes(si, digits);
  return withUnit(known.dimension.money === 1 ? value.toFixed(2) : formatNumber(value, digits), known);
}

/**
 * Value and half-width with the same number of decimals: `98.4 ± 1.9 g`, `4.6 ± 0.5 min`, `10500 ± 300 rpm/V`.
 * The ± has one significant digit; two where it begins with a 1 or 2, or where the value would be left with a single digit.
 * `halfWidth` is in SI too (k = 2, or as declared). Zero or unknown: the value alone.
 */
export const formatPlusMinus = (si: number, halfWidth: number, unit: string | Unit): string =>
  formatRounded(si, halfWidth, unit, (value, plusMinus) => `${value} ± ${plusMinus}`);

/** The value alone, with the digits that its ± leaves: `5.2 min`. */
export const formatWithin = (si: number, halfWidth: number, unit: string | Unit): string =>
  formatRounded(si, halfWidth, unit, (value) => value);

function formatRounded(
  si: number,
  halfWidth: number,
  unit: string | Unit,
  say: (value: string, plusMinus: string) => string,
): string {
  const known = displayUnit(unit);
  const value = known.fromSI(si);
  if (!Number.isFinite(value)) return 'unknown';
  if (known.scale === undefined || !Number.isFinite(halfWidth) || halfWidth <= 0) return formatValue(si, known);
  const plusMinus = halfWidth / known.scale;
  if (Math.abs(value) >= UNREADABLE || plusMinus >= UNREADABLE)
    return withUnit(say(formatNumber(value), formatNumber(plusMinus, 2)), known);
  const place = placeOf(plusMinus, Math.abs(value));
  return withUnit(say(fixed(value, place), fixed(plusMinus, place)), known);
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
  if (Math.abs(rounded) >= UNREADABLE) return rounded.toExponential(digits - 1).replace(/\.?0*e\+/, 'e');
  // Below a millionth nobody counts zeros.
  if (decimals > 8) return rounded.toExponential(digits - 1);
  return withoutTail(value.toFixed(Math.max(0, decimals)));
}

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

function formatMinutes(si: number, digits: number): string {
  if (Math.abs(si) < MINUTE) return withUnit(formatNumber(si, digits), unitNamed('s'));
  const seconds = Math.round(Math.abs(si));
  const sign = si < 0 ? '-' : '';
  const rest = seconds % MINUTE;
  const minutes = `${sign}${Math.floor(seconds / MINUTE)} min`;
  return rest === 0 ? minutes : `${minutes} ${rest} s`;
}

/** Dimensionless results have the unit `1` or none: the number alone. */
const BARE: Unit = { ...unitNamed('cell'), name: '' };

/** A unit by its name as results carry it; `` is a plain number. */
export function displayUnit(unit: string | Unit): Unit {
  if (typeof unit !== 'string') return unit;
  if (unit === '' || unit === '1') return BARE;
  const { unit: known } = parseUnit(unit);
  if (!known) throw new RangeError(`no such unit: ${unit}`);
  return known;
}

function withUnit(number: string, unit: Unit): string {
  if (unit.name === '') return number;
  return CLOSE.has(unit.name) ? `${number}${unit.name}` : `${number} ${unit.name}`;
}
