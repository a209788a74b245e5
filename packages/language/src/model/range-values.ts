/** Two ends of a range, and the sides of a size. */
import type { FigureNode } from '../grammar/generated/ast.ts';
import { placeOf, textOf } from '../syntax/source.ts';
import { extraOf, isCount, numberOf } from '../syntax/written-number.ts';
import { equal } from '../units/dimension.ts';
import { readAmount } from './amounts.ts';
import type { Range } from './part-values.ts';
import { type Bounds, isPlausible, leastCount } from './plausible.ts';

/** `7 V .. 26 V`, `7 .. 26 V`, `2S`. Two ends in the wrong order cannot be distinguished from one that has a digit too many. */
export function readRange(node: FigureNode, bounds: Bounds): Range | undefined {
  if (extraOf(node, 'range') !== undefined) return undefined;
  const { dimensions, units } = bounds;
  const unit = node.unit ?? node.to?.unit;
  // `3-6S` without its other end: nobody takes it for a board for 3S.
  if (unit === undefined && units.length > 0) return undefined;
  if (bounds.whole && ![node, node.to ?? node].every((end) => isCount(end, leastCount(bounds)))) return undefined;
  const lower = { number: node.number, negative: node.negative, ...(unit === undefined ? {} : { unit }) };
  const first = readAmount(lower, node.more, dimensions[0]);
  const last = node.range ? node.to && readAmount(node.to, [], dimensions[0]) : first;
  if (!first || !last || !equal(first.dimension, last.dimension)) return undefined;
  if (!dimensions.some((dimension) => equal(dimension, first.dimension))) return undefined;
  const [low, high] = [first.value, last.value];
  if (low > high || ![low, high].every((end) => isPlausible(end, first.dimension, bounds))) return undefined;
  return { low, high, unit: first.unit, place: placeOf(node), text: textOf(node) };
}

/** `61 x 18 x 14 mm`, `6.6 mm`: the last unit counts for the sides without one. */
export function readSides(node: FigureNode, bounds: Bounds): number[] | undefined {
  if (extraOf(node, 'size') !== undefined || node.more.length > 0 || node.sides.length < node.times.length)
    return undefined;
  const amounts = [node, ...node.sides];
  const unit = amounts.findLast((amount) => amount.unit !== undefined)?.unit;
  if (unit === undefined) return undefined;
  const sides = amounts.map((side) => readAmount({ number: side.number, unit: side.unit ?? unit }));
  const areRead = sides.every((side) => side !== undefined);
  if (!areRead || !amounts.every((side) => numberOf(side) > 0)) return undefined;
  const arePlausible = sides.every(
    ({ value, dimension }) =>
      bounds.dimensions.some((one) => equal(one, dimension)) && isPlausible(value, dimension, bounds),
  );
  return arePlausible ? sides.map(({ value }) => value) : undefined;
}
