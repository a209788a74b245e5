/** What one figure of a part states against another, before it has a place in the text. */
import type { Figure } from '../../model/build.ts';
import type { DraftWithout } from '../check.ts';
import { formatExact } from './finding-numbers.ts';

export type Claim = DraftWithout<'place'>;

export const relatedTo = (...figures: readonly Figure[]) =>
  figures.flatMap(({ label, value, unit, place }) =>
    place ? [{ message: `${label}: ${formatExact(value, unit)}`, place }] : [],
  );
