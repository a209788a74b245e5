/** A part that differs from a known one in figures that nothing measured depends on: all else of it is the known part’s, and what was measured of that counts. */
import type { Part } from '../model/build.ts';
import { partWith } from '../model/made-parts.ts';
import { isFigureProperty, type PropertyName, type ShapedProperty, schemaOf } from '../vocabulary/properties.ts';

/** A weight and ratings: how a part spins, pushes and resists does not follow from them. */
const INDEPENDENT: ReadonlySet<PropertyName> = new Set<PropertyName>([
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
export const areIndependent = (changed: readonly PropertyName[]): boolean =>
  changed.every((property) => INDEPENDENT.has(property));

/** @param changed properties that the variant states otherwise */
export function keepingMeasured(variant: Part, base: Part | undefined, changed: readonly PropertyName[]): Part {
  if (!base || !areIndependent(changed)) return variant;
  const others = Object.values(schemaOf(variant.kind).properties).filter(({ name }) => !changed.includes(name));
  // What is estimated from the weight is another estimate.
  if (others.some((property) => numberOf(variant, property) !== numberOf(base, property))) return variant;
  const of = (property: PropertyName): Part => (changed.includes(property) ? variant : base);
  return partWith(base, {
    figure: (property) => of(property).figure(property),
    declared: (property) => of(property).declared(property),
    firstNumber: (property) => of(property).firstNumber(property),
    usual: (property) => of(property).usual(property),
    placeOf: (property) => of(property).placeOf(property),
    holes: variant.holes,
  });
}

const numberOf = (part: Part, property: ShapedProperty): number | undefined =>
  (isFigureProperty(property) ? part.figure(property.name) : part.firstNumber(property.name))?.value;
