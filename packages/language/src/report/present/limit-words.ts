/** Limits in words: in `keep` lines and in JSON they go by their names, to people they are ratings of parts. */
import type { RatingKey, RatingName } from '../../vocabulary/limits.ts';

/** A rating, or what a finding compares something with. */
export type LimitSubject = RatingKey | { readonly of: 'finding'; readonly id: string };

const RATINGS: Readonly<Record<RatingName, string>> = {
  burst: 'burst rating',
  continuous: 'continuous rating',
  discharge: 'discharge rating',
  power: 'power rating',
};

/** What is limited, and by which of its ratings. */
interface LimitPieces {
  readonly owner: string;
  readonly rating?: string;
}

/** @param part the rated part; without it the sort of part is named. A rail has its own name. */
export function limitPieces(subject: LimitSubject, part?: string): LimitPieces {
  switch (subject.of) {
    case 'finding':
      return { owner: subject.id.replaceAll('-', ' ').replace(/^esc\b/, 'ESC') };
    case 'rail':
      return { owner: subject.rail, rating: RATINGS[subject.rating] };
    case 'esc':
      return { owner: part ?? 'ESC', rating: RATINGS[subject.rating] };
    default:
      return { owner: part ?? subject.of, rating: RATINGS[subject.rating] };
  }
}

/** `Hold15, continuous rating` */
export function limitWords(subject: LimitSubject, part?: string): string {
  const { owner, rating } = limitPieces(subject, part);
  return rating === undefined ? owner : `${owner}, ${rating}`;
}
