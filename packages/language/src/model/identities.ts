/**
 * When two parts are one, in two ways.
 *
 * In the files as they are now a part is where it is declared: `isSamePart`, `partKey`. Whether it is one object depends on when it was read: a build that
 * is read later may have read its parts anew, and a copy of a build has copies of them.
 *
 * Figures, what is learnt of them, and the versions of a review last longer than places, which move with each edit. They are known by file, kind
 * and name: `partId`.
 */
import { isSameStart, startKey } from '../syntax/place.ts';
import type { BlockKind } from '../vocabulary/schema.ts';
import type { Part } from './build.ts';

/** Whether a part is in the line that uses it: its mass is then where it is itself. */
export function isInlinePart(part: Part): boolean {
  const stated = part.placeOf('mass');
  return stated !== undefined && isSameStart(stated, part.place);
}

/**
 * Packs that are joined are where the first of them is, by a name of their own. The name of an item in a line may be its number in that build, and is none
 * of its own.
 */
export const partKey = (part: Part): string =>
  isInlinePart(part) ? startKey(part.place) : `${startKey(part.place)} ${part.name}`;

export const isSamePart = (one: Part, other: Part): boolean => partKey(one) === partKey(other);

/** File, kind and name: two parts of one name in two folders are two parts. */
export const declaredId = (uri: string, kind: BlockKind, name = ''): string => `${uri}#${kind} ${name || '?'}`;

export const partId = ({ kind, name, place }: Pick<Part, 'kind' | 'name' | 'place'>): string =>
  declaredId(place.uri, kind, name);

/** Of a figure, whose id begins with that of the declaration that states it; of a declaration there is no rest. */
export function splitId(id: string): { readonly declaration: string; readonly rest: string } {
  const dot = id.indexOf('.', id.indexOf('#'));
  return dot < 0 ? { declaration: id, rest: '' } : { declaration: id.slice(0, dot), rest: id.slice(dot) };
}
