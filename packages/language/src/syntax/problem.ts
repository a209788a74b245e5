import type { TextId } from '../vocabulary/findings.ts';
import type { Place } from './place.ts';

export interface ProblemFix {
  readonly title: string;
  /** Nothing else can have been meant, and the meaning stays the same: only its writing changes. */
  readonly isCertain?: true;
  readonly edits: readonly { readonly place: Place; readonly newText: string }[];
}

/** Something wrong with the text itself: a word, a unit, a value. Becomes a finding of the text group. */
export interface Problem {
  readonly id: TextId;
  readonly message: string;
  readonly place: Place;
  /** Where it differs from what its id usually is. */
  readonly severity?: 'warning' | 'hint';
  readonly fixes?: readonly ProblemFix[];
  readonly related?: readonly { readonly message: string; readonly place: Place }[];
}
