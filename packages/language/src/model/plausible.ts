/** Whether a number can be meant, and in which unit it could. */
import { equal, NONE } from '../units/dimension.ts';
import { parseUnit } from '../units/parse.ts';
import type { Dimension } from '../units/quantity.ts';

/** What the vocabulary says of a number. */
export interface Bounds {
  /** The usual one first; the range holds for it alone (`45 A` for `75C` has none). */
  readonly dimensions: readonly Dimension[];
  /** The usual unit and the others, best first; none where a plain number is meant. */
  readonly units: readonly string[];
  /** In the first unit, inclusive. */
  readonly plausible?: readonly [number, number];
}

/** `value` in SI. */
export function isPlausible(value: number, dimension: Dimension, { plausible, dimensions, units }: Bounds): boolean {
  if (!plausible || !equal(dimension, dimensions[0] ?? NONE)) return true;
  const [usual] = units;
  const inUsual = usual === undefined ? value : (parseUnit(usual).unit?.fromSI(value) ?? Number.NaN);
  // Conversions there and back leave the last digit open.
  const slack = 1e-9 * Math.max(Math.abs(plausible[0]), Math.abs(plausible[1]));
  return inUsual >= plausible[0] - slack && inUsual <= plausible[1] + slack;
}

/** Units in which the number can be meant. */
export function unitsThatFit(number: number, bounds: Bounds): string[] {
  return bounds.units.filter((name) => {
    const { unit } = parseUnit(name);
    return unit !== undefined && isPlausible(unit.toSI(number), unit.dimension, bounds);
  });
}

/** A number that cannot be meant as written, but could in another unit: nobody should compute with it. */
export function isUnitSlip(number: number, unitName: string, bounds: Bounds): boolean {
  const { unit } = parseUnit(unitName);
  if (!unit || isPlausible(unit.toSI(number), unit.dimension, bounds)) return false;
  return unitsThatFit(number, bounds).some((name) => name !== unitName);
}
