/** Whether a number can be meant, and in which unit it could. */
import { equal, NONE } from '../units/dimension.ts';
import { parseUnit } from '../units/parse.ts';
import type { Dimension } from '../units/quantity.ts';

/** What the vocabulary states of a number. */
export interface Bounds {
  /** The usual one first; the range holds for it alone (`45 A` for `75C` has none). */
  readonly dimensions: readonly Dimension[];
  /** The usual unit and the others, best first; none where a plain number is meant. */
  readonly units: readonly string[];
  /** In the first unit, inclusive. */
  readonly plausible?: readonly [number, number];
  /** How many there are of something, cells included: whole and at least `leastCount`. */
  readonly whole?: boolean;
}

/** Of a whole number: some may be none at all. */
export const leastCount = ({ plausible }: Pick<Bounds, 'plausible'>): number => (plausible?.[0] === 0 ? 0 : 1);

/** `value` in SI. */
export function isPlausible(value: number, dimension: Dimension, { plausible, dimensions, units }: Bounds): boolean {
  if (!plausible || !equal(dimension, dimensions[0] ?? NONE)) return true;
  const [usual] = units;
  const inUsual = usual === undefined ? value : (parseUnit(usual).unit?.fromSI(value) ?? Number.NaN);
  // Conversions there and back leave the last digit open.
  const slack = 1e-9 * Math.max(Math.abs(plausible[0]), Math.abs(plausible[1]));
  return inUsual >= plausible[0] - slack && inUsual <= plausible[1] + slack;
}

/** Units in which the number can be meant; none makes a negative one right. */
export function unitsThatFit(number: number, bounds: Bounds): string[] {
  if (number <= 0) return [];
  return bounds.units.filter((name) => {
    const { unit } = parseUnit(name);
    return unit !== undefined && isPlausible(unit.toSI(number), unit.dimension, bounds);
  });
}

/** So many times outside what exists a number is a mistake, not an unusual part. */
const FAR_OUTSIDE = 10;

/**
 * A number that nobody should compute with: it lies outside what exists. Who measured it may be believed, unless it could be meant
 * in another unit, lies far outside, is not above zero where nothing is, or all of what is never all.
 * @param value in SI, of the number as a whole
 */
export function isBeyondUse(value: number, dimension: Dimension, written: WrittenNumber, bounds: Bounds): boolean {
  const { plausible } = bounds;
  if (!plausible || isPlausible(value, dimension, bounds)) return false;
  if (!written.isMeasured) return true;
  if (dimension.point || (plausible[0] > 0 && value <= 0)) return true;
  // The whole of what is seldom more than half.
  if (bounds.units[0] === '%' && value >= 1) return true;
  const wider = { ...bounds, plausible: [widened(plausible[0], -1), widened(plausible[1], 1)] as const };
  if (!isPlausible(value, dimension, wider)) return true;
  const { number, unit } = written;
  return unit !== undefined && unitsThatFit(number, bounds).some((name) => name !== unit);
}

/** A number and its unit as they are; no unit where several amounts make the whole (`4 min 50 s`). */
export interface WrittenNumber {
  readonly number: number;
  readonly unit: string | undefined;
  readonly isMeasured: boolean;
}

/** A bound moved outwards. */
const widened = (bound: number, direction: -1 | 1): number =>
  bound * direction >= 0 ? bound * FAR_OUTSIDE : bound / FAR_OUTSIDE;
