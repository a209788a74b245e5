/** Facts that a part states otherwise than before. They may be corrections: the review names the finding that is resolved by them, and does not call it forgiven. */
import type { Part } from '../../model/build.ts';
import { isSamePart } from '../../model/identities.ts';
import { partNamedBy } from '../../model/named-part.ts';
import type { PropertyName } from '../../vocabulary/properties.ts';
import { together, withProperty } from './as-before.ts';
import { factsOf, type MatchedPart } from './matched-parts.ts';
import type { Judgement, Loosening } from './relaxations.ts';
import { statedOf } from './stated-limits.ts';

export function restatements(
  parts: readonly MatchedPart[],
  { wordsAt }: Pick<Judgement, 'wordsAt'>,
  after: Judgement,
): Loosening[] {
  return parts.flatMap(({ name, before, now, as }): Loosening[] => {
    const facts = as === 'same' ? factsOf(now).filter((property) => isRestated(before, now, property)) : [];
    const [first] = facts.flatMap((property) => now.placeOf(property) ?? []);
    if (first === undefined) return [];
    const written = (part: Part, words: Judgement['wordsAt']): string =>
      facts
        .flatMap((property) => part.placeOf(property) ?? [])
        .map(words)
        .join(', ');
    const was = written(before, wordsAt);
    return [
      {
        reported: {
          what: 'facts',
          how: 'restated',
          of: name,
          ...(was !== '' && { before: was }),
          after: written(now, after.wordsAt),
          place: first,
          failedOn: [],
        },
        isAlways: false,
        restore: together(facts.map((property) => withProperty((part) => isSamePart(part, now), property, before))),
      },
    ];
  });
}

const isRestated = (before: Part, now: Part, property: PropertyName): boolean =>
  now.placeOf(property) !== undefined &&
  ![before, now].some((part) => part.holes.has(property) || partNamedBy(part, property) !== undefined) &&
  statedOf(before, property) !== statedOf(now, property);
