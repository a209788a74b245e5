/** Everywhere a part, a rail, a second name or an opened folder is named: for references, renaming and "used in". */
import { type Alias, isNamed, isPart, isRail, type Part, type Rail, type Use } from '../../grammar/generated/ast.ts';
import { chainOf } from '../chain.ts';
import type { Place } from '../place.ts';
import type { FettleIndex } from './index.ts';
import type { FettleReference } from './reference.ts';
import { documentOf, namePlace } from './syntax.ts';

export type Declared = Part | Rail | Alias | Use;

export interface NamePlaces {
  /** Where the name is given: once, except for a rail that variants of a board say again. */
  readonly declarations: readonly Place[];
  /** Where it is named. */
  readonly references: readonly Place[];
}

/** Places in documents that are linked, by file and line. */
export function usesOf(index: FettleIndex, target: Declared): NamePlaces {
  const declared = isRail(target) ? railFamily(index, target) : [target];
  const references = declared.flatMap((node) => referencesTo(index, node)).flatMap(placeOfReference);
  return {
    declarations: declared.map(namePlace).sort(byPlace),
    references: references.sort(byPlace),
  };
}

/** Parts that are `like` this one, directly. */
export function variantsOf(index: FettleIndex, part: Part): Part[] {
  return referencesTo(index, part).flatMap(({ container }) => {
    const isBase = isNamed(container) && isPart(container.$container) && container.$container.base === container;
    return isBase && isPart(container.$container) ? [container.$container] : [];
  });
}

/** A rail and what says it again: variants of its board, and the boards it is copied from. */
function railFamily(index: FettleIndex, rail: Rail): Rail[] {
  const board = rail.$container;
  if (!isPart(board) || !rail.name) return [rail];
  const root = chainOf(board).parts.findLast((part) => ownRail(part, rail.name)) ?? board;
  const family: Rail[] = [];
  const boards = [root];
  for (const next of boards) {
    const own = ownRail(next, rail.name);
    if (own) family.push(own);
    for (const variant of variantsOf(index, next)) if (!boards.includes(variant)) boards.push(variant);
  }
  return family;
}

function ownRail(board: Part, name: string | undefined): Rail | undefined {
  return board.lines.filter(isRail).find((rail) => rail.name === name);
}

function referencesTo(index: FettleIndex, node: Declared): FettleReference[] {
  const document = documentOf(node);
  return document ? index.referencesTo(node, document.uri.toString()) : [];
}

function placeOfReference({ container, $refNode: node }: FettleReference): Place[] {
  const document = documentOf(container);
  return document && node ? [{ uri: document.uri.toString(), start: node.offset, end: node.end }] : [];
}

function byPlace(left: Place, right: Place): number {
  if (left.uri !== right.uri) return left.uri < right.uri ? -1 : 1;
  return left.start - right.start;
}
