import { type PropertyName, schemaOf } from '../vocabulary/properties.ts';
import type { Part } from './build.ts';

/** The part that a line names, whichever line it is: a number names none. */
export function partNamedBy(part: Part, name: PropertyName): Part | undefined {
  const property = schemaOf(part.kind).properties[name];
  return property?.shape === 'part' ? part.part(property.name) : undefined;
}
