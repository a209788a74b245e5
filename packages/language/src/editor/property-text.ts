/** A property in words, from its entry in the vocabulary: for hovers and completion. Markdown. */

import { describe } from '../units/dimension.ts';
import { article, either, lowerFirst, upperFirst } from '../vocabulary/phrasing.ts';
import { alongLike, type Property } from '../vocabulary/schema.ts';

export function documentationOf(property: Property): string {
  const lines = [property.description];
  const measure = measureOf(property);
  if (measure !== undefined) lines.push(measure);
  if (property.words !== undefined) lines.push(`One of ${property.words.map((word) => `\`${word}\``).join(', ')}.`);
  if (property.parts !== undefined) lines.push(`${property.words ? 'Or names' : 'Names'} ${oneOf(property.parts)}.`);
  if (property.estimated !== undefined) lines.push(`When absent: ${continued(property.estimated)}`);
  const standing = alongLike(property);
  if (standing !== undefined && property.name !== 'without') lines.push(STANDING[standing] ?? '');
  return lines.join('\n\n');
}

const STANDING: Readonly<Record<string, string>> = {
  replaces: 'In a block with `like`: replaces what the base states.',
  adds: 'In a block with `like`: adds to what the base has. `without:` with the name removes one of these, `none` in place of a name all of them.',
};

/** What the unit states better than the dimension. */
const BY_UNIT: ReadonlyMap<string, string> = new Map([
  ['%', 'a share'],
  ['S', 'a number of cells'],
  ['C', 'a discharge rate'],
]);

function measureOf({ dimension, unit, plausible }: Property): string | undefined {
  const range = plausible && `plausible from ${plausible[0]} to ${plausible[1]}${unit === undefined ? '' : ` ${unit}`}`;
  const sort = dimension && (BY_UNIT.get(unit ?? '') ?? describe(dimension));
  const inUnit = sort !== undefined && unit !== undefined ? `${sort} (${unit})` : sort;
  const text = [inUnit, range].filter((part) => part !== undefined).join(', ');
  return text === '' ? undefined : `${upperFirst(text)}.`;
}

/** "a load, item or mount"; rules are many. */
function oneOf(kinds: readonly string[]): string {
  const [first = ''] = kinds;
  return first === 'rules' ? either(kinds) : `${article(first)} ${either(kinds)}`;
}

/** An abbreviation keeps its capitals. */
const continued = (text: string): string => (/^[A-Z][a-z]/.test(text) ? lowerFirst(text) : text);
