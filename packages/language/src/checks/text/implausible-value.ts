/** A figure that no part has, found by the reader of its line; and here ratings of one part that cannot both be right. */
import type { PartNode } from '../../grammar/generated/ast.ts';
import type { Figure, Part } from '../../model/build.ts';
import { partOf } from '../../model/parts.ts';
import { isWithin, type Place } from '../../syntax/place.ts';
import type { Problem } from '../../syntax/problem.ts';
import { placeOf } from '../../syntax/source.ts';
import { equal } from '../../units/dimension.ts';
import { formatValue } from '../../units/print.ts';
import type { FigureName } from '../../vocabulary/properties.ts';
import { problem } from './problem-words.ts';
import type { TextCheck } from './text-check.ts';

export const IMPLAUSIBLE_VALUE: TextCheck = {
  id: 'implausible-value',
  severity: 'error',
  findInPart: contradictions,
  page: {
    title: 'A value far outside what exists',
    cause: 'Most often a prefix: Ah for mAh, ohm for mohm.',
    criterion:
      'outside the range on the kind’s page: error, and what depends on it is not computed. With `measured` after it, and less than ten times outside: warning, and it is used in the computation.',
    standing: 'The language.',
    remedy: 'Check the figure and its unit. If the part really is like that, write `measured` after it.',
    fixes: ['choice'],
    fails: `pack Giant like Mast900_4S { capacity: 450 Ah }`,
    passes: `pack Usual like Mast900_4S { capacity: 450 mAh }`,
  },
};

/** A momentary rating is at least the continuous one. */
const AT_LEAST: readonly (readonly [continuous: FigureName, momentary: FigureName])[] = [
  ['continuous', 'burst'],
  ['continuous', 'max'],
  ['discharge', 'burst'],
  ['draw', 'peak'],
];

/** At the line that this block adds; what its base contradicts is reported there already. */
function contradictions(node: PartNode): Problem[] {
  const part = partOf(node);
  const block = placeOf(node);
  return [part, ...part.rails].flatMap((one) => contradictionsIn(one, block));
}

function contradictionsIn(part: Part, block: Place): Problem[] {
  return AT_LEAST.flatMap(([continuous, momentary]) => {
    const low = part.declared(continuous);
    const high = part.declared(momentary);
    if (!low || !high || !equal(low.dimension, high.dimension) || low.value <= high.value) return [];
    const place = [high, low].map((figure) => figure.place).find((one) => one && isWithin(one, block));
    if (!place) return [];
    const description = `${momentary} is ${stated(high)}, less than ${continuous}, ${stated(low)}: one of the two is wrong`;
    return [{ ...problem('implausible-value', description, place), severity: 'warning' as const }];
  });
}

const stated = ({ value, unit }: Figure): string => formatValue(value, unit);
