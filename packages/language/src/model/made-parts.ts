/** Parts that no block of a text states: of a few figures, or as another part but for some members. */
import type { Place } from '../syntax/place.ts';
import type { FigureName } from '../vocabulary/properties.ts';
import type { BlockKind } from '../vocabulary/schema.ts';
import type { Figure, Part } from './build.ts';

/** A part of which only figures are known. */
export const draftPart = <Kind extends BlockKind>(
  kind: Kind,
  name: string,
  place: Place,
  figure: (property: FigureName<Kind>) => Figure | undefined,
): Part<Kind> => ({
  kind,
  name,
  place,
  figure,
  declared: figure,
  firstNumber: () => undefined,
  usual: () => undefined,
  range: () => undefined,
  word: () => undefined,
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

/**
 * A part, some members of which are others. Its title is that of the part it is made from only where that is among them. Spreading a part is not
 * enough: methods of a class are no properties of its own.
 */
export const partWith = <Kind extends BlockKind>(part: Part<Kind>, others: Partial<Part<Kind>>): Part<Kind> => ({
  kind: part.kind,
  name: part.name,
  place: part.place,
  figure: (property) => part.figure(property),
  declared: (property) => part.declared(property),
  firstNumber: (property) => part.firstNumber(property),
  usual: (property) => part.usual(property),
  range: (property) => part.range(property),
  word: (property) => part.word(property),
  day: (property) => part.day(property),
  size: (property) => part.size(property),
  bolts: (property) => part.bolts(property),
  cells: (property) => part.cells(property),
  part: (property) => part.part(property),
  placeOf: (property) => part.placeOf(property),
  rails: part.rails,
  notes: part.notes,
  holes: part.holes,
  ...others,
});
