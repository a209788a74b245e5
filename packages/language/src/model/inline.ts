/** `item: 2.4 g "solder, heat-shrink, tape"`: a part that is in the line that uses it. */
import { isFigure, type Property as PropertyLine } from '../grammar/generated/ast.ts';
import { placeOf } from '../syntax/source.ts';
import { schemaOf } from '../vocabulary/properties.ts';
import type { Figure, Part } from './build.ts';
import { type Identity, readFigure } from './figures.ts';

export function isInline(line: PropertyLine): boolean {
  return line.key === 'item' && isFigure(line.value) && line.value.times.length === 0;
}

/** Undefined when the mass cannot be read. */
export function inlineItem(line: PropertyLine, identity: Identity): Part | undefined {
  const schema = schemaOf('item').properties.mass;
  const mass = schema && readFigure(line, schema, { id: `${identity.id}.mass`, label: `mass of ${identity.label}` });
  if (!mass) return undefined;
  const place = placeOf(line);
  const figure = (property: string): Figure | undefined => (property === 'mass' ? mass : undefined);
  const nothing = () => undefined;
  return {
    kind: 'item',
    name: identity.label,
    place,
    figure,
    declared: figure,
    usual: nothing,
    range: nothing,
    word: nothing,
    text: nothing,
    day: nothing,
    size: nothing,
    bolts: nothing,
    cells: nothing,
    part: nothing,
    placeOf: (property) => (property === 'mass' ? place : undefined),
    rails: [],
    notes: [],
    holes: new Set(),
  };
}
