/** The new version of a build with some limits, rules or acceptances as the old version has them: what would be found, had they stayed. */

import type { Build, Feed, Figure, Part, RailUse, Rules } from '../../model/build.ts';
import { estimatedFigure } from '../../model/estimated.ts';
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
export type Said = Pick<Part, 'figure' | 'declared' | 'range' | 'size'>;

/** @param isMeant which part of the build, however often it is fitted */
export const withProperty =
  (isMeant: (part: Part) => boolean, property: string, before: Said): Restore =>
  (build) =>
    withParts(build, (part) => (isMeant(part) ? new RestoredPart(part, property, before) : part));

/** A part with one property as it was; what is estimated from it follows. Places are those of the new version. */
class RestoredPart implements Part {
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
  readonly #before: Said;

  constructor(now: Part, property: string, before: Said) {
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
    if (property !== this.#property) return this.#now.declared(property);
    return this.#here(this.#before.declared(property));
  }

  usual(property: string): Figure | undefined {
    return this.#estimate(property, this.#now.usual(property));
  }

  range(property: string): ReturnType<Part['range']> {
    return property === this.#property ? this.#here(this.#before.range(property)) : this.#now.range(property);
  }

  size(property: string): ReturnType<Part['size']> {
    return property === this.#property ? this.#here(this.#before.size(property)) : this.#now.size(property);
  }

  word = (property: string): string | undefined => this.#now.word(property);
  text = (property: string): string | undefined => this.#now.text(property);
  day = (property: string): string | undefined => this.#now.day(property);
  bolts = (property: string): ReturnType<Part['bolts']> => this.#now.bolts(property);
  cells = (property: string): ReturnType<Part['cells']> => this.#now.cells(property);
  part = (property: string): Part | undefined => this.#now.part(property);
  placeOf = (property: string): Place | undefined => this.#now.placeOf(property);

  /** A finding at its line is at the line of the new version. */
  #here<T extends { readonly place?: Place }>(printed: T | undefined): T | undefined {
    return printed && { ...printed, place: this.#now.placeOf(this.#property) ?? this.place };
  }
}

/** A part that is fitted several times stays one part, and rails stay the ones that feed others. */
function withParts(build: Build, replace: (part: Part) => Part): Build {
  const parts = new Map<Part, Part>();
  const partOf = (part: Part): Part => {
    const known = parts.get(part) ?? replace(part);
    parts.set(part, known);
    return known;
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
    packs: build.packs.map(use),
  };
}
