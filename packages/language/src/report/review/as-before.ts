/** The new version of a build with some limits, rules or acceptances as the old version has them: what would be found, had they stayed. */

import type { Build, Feed, Figure, Part, RailUse, Rules } from '../../model/build.ts';
import { estimatedFigure } from '../../model/estimated.ts';
import { sideBySide } from '../../model/side-by-side.ts';
import type { Place } from '../../syntax/place.ts';
import { estimateOf } from '../../vocabulary/estimators.ts';

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
  'figure' | 'declared' | 'range' | 'size' | 'word' | 'text' | 'bolts' | 'cells' | 'placeOf'
>;

export const together =
  (restores: readonly Restore[]): Restore =>
  (build) =>
    restored(build, restores);

/** @param isMeant which part of the build, however often it is fitted */
export const withProperty =
  (isMeant: (part: Part) => boolean, property: string, before: Stated): Restore =>
  (build) =>
    withParts(build, (part) => (isMeant(part) ? new RestoredPart(part, property, before) : part));

/** A part with one property as it was; what is estimated from it follows. Places are those of the new version. */
export class RestoredPart implements Part {
  readonly kind: Part['kind'];
  readonly name: string;
  readonly title?: string;
  readonly place: Place;
  readonly rails: readonly Part[];
  readonly notes: Part['notes'];
  readonly holes: ReadonlySet<string>;
  readonly #now: Part;
  readonly #property: string;
  readonly #estimated = new Map<string, Figure | undefined>();
  readonly #before: Stated;
  readonly #parts: ReadonlyMap<string, Part>;

  /** @param parts others that it names, by the property that does */
  constructor(now: Part, property: string, before: Stated, parts: ReadonlyMap<string, Part> = new Map()) {
    this.kind = now.kind;
    this.name = now.name;
    if (now.title !== undefined) this.title = now.title;
    this.place = now.place;
    this.rails = now.rails;
    this.notes = now.notes;
    this.holes = now.holes;
    this.#now = now;
    this.#property = property;
    this.#before = before;
    this.#parts = parts;
  }

  figure(property: string): Figure | undefined {
    const isOwn = property === this.#property;
    const figure = isOwn ? this.declared(property) : this.#now.figure(property);
    if (isOwn ? figure !== undefined : figure?.estimate === undefined) return figure;
    if (!this.#estimated.has(property)) {
      // An estimate may not rest on itself.
      this.#estimated.set(property, undefined);
      this.#estimated.set(property, this.#estimate(property, figure ?? this.#before.figure(property)));
    }
    return this.#estimated.get(property);
  }

  #estimate(property: string, like: Figure | undefined): Figure | undefined {
    const estimator = estimateOf(this.kind, property);
    if (!like || !estimator) return undefined;
    const { dimension, unit, id, label, conditions } = like;
    const figure = estimatedFigure(estimator, { dimension, unit }, { id, label }, this);
    return figure && { ...figure, conditions };
  }

  declared(property: string): Figure | undefined {
    return this.#here(property, this.#saidOf(property).declared(property));
  }

  usual(property: string): Figure | undefined {
    return this.#estimate(property, this.#now.usual(property));
  }

  range(property: string): ReturnType<Part['range']> {
    return this.#here(property, this.#saidOf(property).range(property));
  }

  size(property: string): ReturnType<Part['size']> {
    return this.#here(property, this.#saidOf(property).size(property));
  }

  word = (property: string): string | undefined => this.#saidOf(property).word(property);
  text = (property: string): string | undefined => this.#saidOf(property).text(property);
  day = (property: string): string | undefined => this.#now.day(property);
  bolts = (property: string): ReturnType<Part['bolts']> => this.#here(property, this.#saidOf(property).bolts(property));
  cells = (property: string): ReturnType<Part['cells']> => this.#here(property, this.#saidOf(property).cells(property));
  part = (property: string): Part | undefined => this.#parts.get(property) ?? this.#now.part(property);

  placeOf(property: string): Place | undefined {
    const place = this.#now.placeOf(property);
    return place ?? (this.#saidOf(property).placeOf(property) && this.place);
  }

  readonly #saidOf = (property: string): Stated => (property === this.#property ? this.#before : this.#now);

  /** A finding at its line is at the line of the new version. */
  #here<T extends { readonly place?: Place }>(property: string, printed: T | undefined): T | undefined {
    if (property !== this.#property) return printed;
    return printed && { ...printed, place: this.#now.placeOf(property) ?? this.place };
  }
}

/** A part that names others in place of its own. */
export const naming = (part: Part, parts: ReadonlyMap<string, Part>): Part => new RestoredPart(part, '', part, parts);

/** A part that is fitted several times stays one part, and rails stay the ones that feed others. */
function withParts(build: Build, replace: (part: Part) => Part): Build {
  const parts = new Map<Part, Part>();
  const partOf = (part: Part): Part => {
    const known = parts.get(part) ?? withPlug(replace(part));
    parts.set(part, known);
    return known;
  };
  const withPlug = (part: Part): Part => {
    const plug = part.part('plug');
    const other = plug && partOf(plug);
    return other === plug ? part : naming(part, new Map(other ? [['plug', other]] : []));
  };
  const use = <T extends { readonly part: Part }>(one: T): T => ({ ...one, part: partOf(one.part) });
  const rails = new Map<RailUse, RailUse>();
  const feedOf = (from: Feed): Feed => ('rail' in from ? { rail: railOf(from.rail) } : from);
  const railOf = (rail: RailUse): RailUse => {
    const known = rails.get(rail);
    if (known) return known;
    const made = { ...use(rail) };
    rails.set(rail, made);
    return Object.assign(made, { from: feedOf(rail.from) });
  };
  const { airframe } = build;
  return {
    ...build,
    ...(airframe && { airframe: use(airframe) }),
    rotors: build.rotors.map((line) => ({
      ...line,
      motor: partOf(line.motor),
      propeller: partOf(line.propeller),
    })),
    escs: build.escs.map(use),
    regulators: build.regulators.map(use),
    rails: build.rails.map(railOf),
    loads: build.loads.map((load) => ({ ...use(load), from: feedOf(load.from) })),
    items: build.items.map(use),
    leads: build.leads.map(use),
    mounts: build.mounts.map(use),
    packs: build.packs.map((option) => {
      const [first, ...others] = option.beside?.map(use) ?? [];
      if (!first) return use(option);
      const beside = [first, ...others] as const;
      return { ...option, part: sideBySide(option.part.name, beside), beside };
    }),
  };
}
