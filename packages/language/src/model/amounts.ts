/** Written amounts (`4 min 50 s`) as one SI number. */

import { numberOf } from '../syntax/written-number.ts';
import { equal, NONE } from '../units/dimension.ts';
import { lookup } from '../units/lookup-table.ts';
import { parseUnit, type Unit, unitFor } from '../units/parse.ts';
import type { Dimension } from '../units/quantity.ts';

/** A number and its unit as they are in the text: an Amount, or the head of a Figure or a Quantity. */
export interface WrittenAmount {
  readonly number: string;
  readonly negative?: boolean;
  readonly unit?: string;
}

export interface Amount {
  /** SI. */
  readonly value: number;
  readonly dimension: Dimension;
  /** The first unit's name; empty when there is none. */
  readonly unit: string;
}

/** What may follow an amount in one unit: `4 min 50 s`, `1 ft 2 in`. */
export const smallerUnit = (unit: string): string | undefined => SPLIT[unit];

const SPLIT: Readonly<Record<string, string>> = lookup({ h: 'min', min: 's', ft: 'in', lb: 'oz', S: 'P' });

/**
 * The sum of amounts of one dimension. With `expected`, kelvins pass for a temperature and degrees for a difference.
 * Undefined when a unit is unknown or the dimensions differ: the text's own checks report why.
 */
export function readAmount(
  first: WrittenAmount,
  more: readonly WrittenAmount[] = [],
  expected?: Dimension,
): Amount | undefined {
  if (more.length > 0 && first.unit !== undefined && smallerUnit(first.unit) === undefined) return undefined;
  let total: Amount | undefined;
  for (const written of [first, ...more]) {
    // One sign in front is that of all of them.
    const number = numberOf({ ...written, negative: first.negative ?? false });
    const amount = readOne(number, written.unit, expected);
    if (!amount) return undefined;
    if (!total) {
      total = amount;
      continue;
    }
    // Points on a scale do not add up, and a bare number behind a quantity is a slip.
    if (!equal(total.dimension, amount.dimension) || amount.dimension.point || written.unit === undefined)
      return undefined;
    total = { ...total, value: total.value + amount.value };
  }
  return total;
}

function readOne(number: number, written: string | undefined, expected: Dimension | undefined): Amount | undefined {
  if (!Number.isFinite(number)) return undefined;
  if (written === undefined) return { value: number, dimension: NONE, unit: '' };
  const unit = knownUnit(written, expected);
  if (!unit) return undefined;
  const value = unit.toSI(number);
  return Number.isFinite(value) ? { value, dimension: unit.dimension, unit: unit.name } : undefined;
}

/** The unit as it counts where `expected` is wanted, or as it is. */
export function knownUnit(text: string, expected?: Dimension): Unit | undefined {
  const { unit } = parseUnit(text);
  if (!unit || !expected) return unit;
  return unitFor(unit, expected) ?? unit;
}
