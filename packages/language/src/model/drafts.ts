/** Parts that are in no file yet. */
import type { Place } from '../syntax/place.ts';
import type { BlockKind } from '../vocabulary/schema.ts';
import type { Figure, Part } from './build.ts';

/** A part of which only figures are known. */
export const draftPart = (
  kind: BlockKind,
  name: string,
  place: Place,
  figure: (property: string) => Figure | undefined,
): Part => ({
  kind,
  name,
  place,
  figure,
  declared: figure,
  usual: () => undefined,
  range: () => undefined,
  word: () => undefined,
  text: () => undefined,
  day: () => undefined,
  size: () => undefined,
  bolts: () => undefined,
  cells: () => undefined,
  part: () => undefined,
  placeOf: () => undefined,
  rails: [],
  notes: [],
  holes: new Set(),
});
