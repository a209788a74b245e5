/** Which parts, lines, rails and packs a text about a build names. */
import type { Place } from '../syntax/place.ts';
import type { BlockKind } from '../vocabulary/schema.ts';
import type { Build, Figure, PackOption, Part, RailUse, Use } from './build.ts';
import { partId, splitId } from './identities.ts';
import { slotsOf } from './slots.ts';

export type Nameable = Part | Use | RailUse | PackOption;

/** What a name refers to, as plain data. */
export interface Named {
  readonly kind: BlockKind;
  /** As written in the text. */
  readonly name: string;
  /** Where that name is from: a part's declaration; the build's line, of a second name. */
  readonly place: Place;
}

export function asNamed(one: Nameable): Named {
  const isPart = 'kind' in one;
  const { kind } = isPart ? one : one.part;
  const { name } = one;
  const { place } = isPart || name !== one.part.name ? one : one.part;
  return { kind, name, place };
}

/** What a figure's label names; nothing of a base that is not on board itself. */
export function namedByLabel(build: Build, { id, whose }: Pick<Figure, 'id' | 'whose'>): Nameable[] {
  if (whose.sort !== 'property') return [];
  if (whose.kind === 'rail') return build.rails.filter(({ name }) => name === whose.part);
  const { declaration } = splitId(id);
  const found = slotsOf(build).find(({ part }) => partId(part) === declaration);
  return found ? [found.part] : [];
}
