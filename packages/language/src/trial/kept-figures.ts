/** A part that differs from a known one in figures that nothing measured depends on: all else of it is the known part’s, and what was measured of that counts. */
import type { Part } from '../model/build.ts';
import { schemaOf } from '../vocabulary/properties.ts';

/** A weight and ratings: how a part spins, pushes and resists does not follow from them. */
const INDEPENDENT: ReadonlySet<string> = new Set([
  'mass',
  'price',
  'continuous',
  'burst',
  'max',
  'power',
  'max_speed',
  'max_temperature',
  'bore',
  'shaft',
  'screw_depth',
]);

/** Whether what was measured of a part counts for one that differs only so. */
export const areIndependent = (changed: readonly string[]): boolean =>
  changed.every((property) => INDEPENDENT.has(property));

/** @param changed properties that the variant states otherwise */
export function keepingMeasured(variant: Part, base: Part | undefined, changed: readonly string[]): Part {
  if (!base || !areIndependent(changed)) return variant;
  const others = Object.keys(schemaOf(variant.kind).properties).filter((property) => !changed.includes(property));
  // What is estimated from the weight is another estimate.
  if (others.some((property) => variant.figure(property)?.value !== base.figure(property)?.value)) return variant;
  const of = (property: string): Part => (changed.includes(property) ? variant : base);
  return {
    kind: base.kind,
    name: base.name,
    place: base.place,
    figure: (property) => of(property).figure(property),
    declared: (property) => of(property).declared(property),
    usual: (property) => of(property).usual(property),
    range: (property) => base.range(property),
    word: (property) => base.word(property),
    text: (property) => base.text(property),
    day: (property) => base.day(property),
    size: (property) => base.size(property),
    bolts: (property) => base.bolts(property),
    cells: (property) => base.cells(property),
    part: (property) => base.part(property),
    placeOf: (property) => of(property).placeOf(property),
    rails: base.rails,
    notes: base.notes,
    holes: variant.holes,
  };
}
