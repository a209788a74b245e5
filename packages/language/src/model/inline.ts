/** `item: 2.4 g "solder, heat-shrink, tape"`: a part that is in the line that uses it. */
import { isFigureNode, type PropertyNode } from '../grammar/generated/ast.ts';
import { placeOf } from '../syntax/source.ts';
import { type PropertyName, propertyOf } from '../vocabulary/properties.ts';
import type { Figure, Part } from './build.ts';
import { type Identity, readFigure } from './figures.ts';
import { draftPart, partWith } from './made-parts.ts';

export function isInline(line: PropertyNode): boolean {
  return line.key === 'item' && isFigureNode(line.value) && line.value.times.length === 0;
}

/** Undefined when the mass cannot be read. */
export function inlineItem(line: PropertyNode, identity: Identity): Part<'item'> | undefined {
  const ofMass = { ...identity, id: `${identity.id}.mass`, label: `mass of ${identity.label}` };
  const mass = readFigure(line, { ...propertyOf('item', 'mass'), shape: 'part' }, ofMass);
  if (!mass) return undefined;
  const place = placeOf(line);
  const figure = (property: PropertyName): Figure | undefined => (property === 'mass' ? mass : undefined);
  return partWith(draftPart('item', identity.label, place, figure), {
    placeOf: (property) => (property === 'mass' ? place : undefined),
  });
}
