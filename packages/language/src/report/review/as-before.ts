/** The new version of a build with some limits, rules or acceptances as the old version has them: what would be found, had they stayed. */
import type { Build, Feed, Figure, Part, RailUse, Rules } from '../../model/build.ts';
import { estimatedFigure } from '../../model/estimated-figure.ts';
import { partWith } from '../../model/made-parts.ts';
import { isOfKind } from '../../model/of-kind.ts';
import { withParts } from '../../model/slots.ts';
import type { Place } from '../../syntax/place.ts';
import { estimateOf } from '../../vocabulary/estimators.ts';
import type { FigureName, PropertyName } from '../../vocabulary/properties.ts';
import type { BlockKind } from '../../vocabulary/schema.ts';

/** Undoes one change of what is permitted. */
export type Restore = (build: Build) => Build;

export const restored = (build: Build, restores: readonly Restore[]): Build =>
  restores.reduce((so, restore) => restore(so), build);

export const withRules =
  (change: (rules: Rules) => Rules): Restore =>
  (build) => ({ ...build, rules: change(build.rules) });

/** What a part states, or stated, of a property. */
export type Stated = Pick<
  Part,
  'figure' | 'declared' | 'firstNumber' | 'range' | 'size' | 'word' | 'bolts' | 'cells' | 'placeOf'
>;

export const together =
  (restores: readonly Restore[]): Restore =>
  (build) =>
    restored(build, restores);

/** @param isMeant which part of the build, however often it is fitted */
export const withProperty =
  (isMeant: (part: Part) => boolean, property: PropertyName, before: Stated): Restore =>
  (build) =>
    replacing(build, (part) => (isMeant(part) ? withRestored(part, property, before) : part));

/**
 * A part with one property as it was; what is estimated from it follows. Places are those of the new version.
 * @param parts others that it names, by the property that does
 */
export function withRestored<Kind extends BlockKind>(
  part: Part<Kind>,
  own: PropertyName | undefined,
  before: Stated,
  parts: ReadonlyMap<PropertyName, Part> = new Map(),
): Part<Kind> {
  // Names of every kind are read of either version.
  const now: Part = part;
  const estimated = new Map<FigureName, Figure | undefined>();
  const statedIn = (property: PropertyName): Stated => (property === own ? before : now);
  /** A finding at its line is at the line of the new version. */
  const here = <T extends { readonly place?: Place }>(property: PropertyName, printed: T | undefined): T | undefined =>
    property === own && printed ? { ...printed, place: now.placeOf(property) ?? now.place } : printed;
  const estimate = (property: FigureName, like: Figure | undefined): Figure | undefined => {
    const estimator = estimateOf(now.kind, property);
    if (!like || !estimator) return undefined;
    const { dimension, unit, id, label, whose, conditions } = like;
    const figure = estimatedFigure(estimator, { dimension, unit }, { id, label, whose }, made);
    return figure && { ...figure, conditions };
  };
  const declared = (property: FigureName) => here(property, statedIn(property).declared(property));
  const made = partWith<Kind>(part, {
    ...(now.title !== undefined && { title: now.title }),
    figure: (property) => {
      const isOwn = property === own;
      const figure = isOwn ? declared(property) : now.figure(property);
      if (isOwn ? figure !== undefined : figure?.recompute === undefined) return figure;
      if (!estimated.has(property)) {
        // An estimate may not rest on itself.
        estimated.set(property, undefined);
        estimated.set(property, estimate(property, figure ?? before.figure(property)));
      }
      return estimated.get(property);
    },
    declared,
    firstNumber: (property) => here(property, statedIn(property).firstNumber(property)),
    usual: (property) => estimate(property, now.usual(property)),
    range: (property) => here(property, statedIn(property).range(property)),
    word: (property) => statedIn(property).word(property),
    size: (property) => here(property, statedIn(property).size(property)),
    bolts: (property) => here(property, statedIn(property).bolts(property)),
    cells: (property) => here(property, statedIn(property).cells(property)),
    part: (property) => parts.get(property) ?? now.part(property),
    placeOf: (property) => now.placeOf(property) ?? (statedIn(property).placeOf(property) && now.place),
  });
  return made;
}

/** A part that names others in place of its own. */
export const naming = <Kind extends BlockKind>(part: Part<Kind>, parts: ReadonlyMap<PropertyName, Part>): Part<Kind> =>
  withRestored(part, undefined, part, parts);

const plugOf = (part: Part): Part | undefined => part.part('plug');

/** A part that is fitted several times stays one part, and rails stay the ones that feed others. */
function replacing(build: Build, replace: <Kind extends BlockKind>(part: Part<Kind>) => Part<Kind>): Build {
  const parts = new Map<Part, Part>();
  const partOf = <Kind extends BlockKind>(part: Part<Kind>): Part<Kind> => {
    const known = parts.get(part);
    if (known && isOfKind(known, part.kind)) return known;
    const made = withPlug(replace(part));
    parts.set(part, made);
    return made;
  };
  const withPlug = <Kind extends BlockKind>(part: Part<Kind>): Part<Kind> => {
    const plug = plugOf(part);
    const other = plug && partOf(plug);
    return other === plug ? part : naming(part, new Map(other ? [['plug', other]] : []));
  };
  const rails = new Map<RailUse, RailUse>();
  const feedOf = (from: Feed): Feed => ('rail' in from ? { rail: railOf(from.rail) } : from);
  const railOf = (rail: RailUse): RailUse => {
    const known = rails.get(rail);
    if (known) return known;
    const made = { ...rail, part: partOf(rail.part) };
    rails.set(rail, made);
    return Object.assign(made, { from: feedOf(rail.from) });
  };
  const changed = withParts(build, partOf);
  return {
    ...changed,
    rails: build.rails.map(railOf),
    loads: changed.loads.map((load) => ({ ...load, from: feedOf(load.from) })),
  };
}
