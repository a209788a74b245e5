import type { Place } from './place.ts';

export interface ProblemFix {
  readonly title: string;
  readonly edits: readonly { readonly place: Place; readonly newText: string }[];
}

/** Something wrong with the text itself: a word, a unit, a value. Becomes a finding of the text group. */
export interface Problem {
  readonly id: TextFindingId;
  readonly message: string;
  readonly place: Place;
  readonly fixes?: readonly ProblemFix[];
  readonly related?: readonly { readonly message: string; readonly place: Place }[];
}

export type TextFindingId =
  | 'syntax'
  | 'unknown-name'
  | 'wrong-kind'
  | 'wrong-dimension'
  | 'missing-unit'
  | 'unknown-unit'
  | 'number-form' // decimal comma, thousands, space in a number or unit
  | 'implausible-value'
  | 'missing-value'
  | 'duplicate'
  | 'one-a-line'
  | 'clause' // a clause word that this property does not take
  | 'like-cycle'
  | 'use-missing'
  | 'unused-use'
  | 'newer-version';
