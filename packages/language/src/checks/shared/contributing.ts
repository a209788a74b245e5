/** Which parts have a share in a finding, and where they state it. */

import type { Assessment } from '../../analysis/assessment.ts';
import type { Part } from '../../model/build.ts';
import type { FigureName } from '../../vocabulary/properties.ts';
import type { BlockKind } from '../../vocabulary/schema.ts';
import type { RelatedPlace } from '../finding.ts';
import { formatExact } from './finding-numbers.ts';

const MOST_MASSES = 2;

/** What is heaviest on board. */
export function heaviest({ masses }: Assessment): RelatedPlace[] {
  return masses
    .toSorted((a, b) => b.mass.value - a.mass.value)
    .flatMap(({ label, mass, place }) =>
      place === undefined ? [] : [{ message: `${label}: ${formatExact(mass.value, 'g')}`, place }],
    )
    .slice(0, MOST_MASSES);
}

/** What lifts, and what is to be lifted. */
export function liftAndLoad(assessment: Assessment): RelatedPlace[] {
  const rotors = assessment.rotors.flatMap(({ line: { motor, propeller } }) => [
    ...statedIn(propeller, 'diameter'),
    ...statedIn(motor, 'kv'),
  ]);
  return distinct([...rotors, ...heaviest(assessment)]);
}

/** A figure of a part, where it is written. */
export function statedIn<Kind extends BlockKind>(
  part: Part<Kind> | undefined,
  property: FigureName<Kind>,
): RelatedPlace[] {
  const figure = part?.figure(property);
  return part && figure?.place
    ? [{ message: `${part.name}: ${property} ${formatExact(figure.value, figure.unit)}`, place: figure.place }]
    : [];
}

/** What a pack's sag depends on: its resistance, else what that was estimated from. */
export function strengthOf(pack: Part<'pack'>): RelatedPlace[] {
  const written = (['cell_resistance', 'discharge', 'capacity'] as const).map((property) => statedIn(pack, property));
  return written.find((places) => places.length > 0) ?? [];
}

function distinct(places: readonly RelatedPlace[]): RelatedPlace[] {
  const keys = places.map(({ message, place }) => `${message} ${place.uri} ${place.start}`);
  return places.filter((_, index) => keys.indexOf(keys[index] ?? '') === index);
}
