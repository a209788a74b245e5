import type { Leg } from '../model/build.ts';
import type { Place } from '../syntax/place.ts';

export type Severity = 'error' | 'warning' | 'information' | 'hint';

/** A number behind a finding, in SI; printed by whoever shows it. */
export interface FindingNumber {
  readonly name: string;
  readonly value: number;
  /** Unit in which the trade reads it. */
  readonly unit: string;
  /** Expanded uncertainty (k = 2), same unit. */
  readonly plusMinus?: number;
}

export interface RelatedPlace {
  readonly message: string;
  readonly place: Place;
}

export interface TextEdit {
  readonly place: Place;
  readonly newText: string;
}

/** One thing of a craft changed: a pack's duty limit (share), the rail that feeds the load whose `from` is there, or one more leg at the end of a flight. */
export type Trial =
  | { readonly pack: string; readonly duty: number }
  | { readonly feeds: Place; readonly rail: string }
  | { readonly flight: string; readonly leg: Leg };

export interface Fix {
  readonly title: string;
  /** Set where it changes the craft: it is computed through before it is offered (`sound-fixes.ts`). */
  readonly trial?: Trial;
  /** Nothing else can have been meant, and the meaning stays the same: only its writing changes. An editor may do it on saving. */
  readonly isCertain?: true;
  /** None where it takes another part: offered when no other fix is sound. */
  readonly edits: readonly TextEdit[];
}

/**
 * `certain`: nothing else can have been meant; `choice`: likely meant, to be chosen; `computed`: the craft was computed through with it;
 * `another-part`: words without an edit.
 */
export type FixSort = 'certain' | 'choice' | 'computed' | 'another-part';

export function sortOf({ trial, isCertain, edits }: Fix): FixSort {
  if (trial) return 'computed';
  if (edits.length === 0) return 'another-part';
  return isCertain ? 'certain' : 'choice';
}

/** A finding is data first: the same object becomes a squiggle, a terminal line, a pull-request row. */
export interface Finding {
  readonly id: string;
  readonly severity: Severity;
  /** One or two sentences in the trade's words: what happens, and what to do. */
  readonly message: string;
  /** The most specific place. */
  readonly place: Place;
  readonly build?: string;
  readonly pack?: string;
  /** Every pack that meets it at this place, when there are several; `pack` is the one it is worst on. */
  readonly packs?: readonly string[];
  /** Of those, on which it is milder than `severity`. */
  readonly milderOn?: readonly string[];
  /** Its numbers on each of the others. */
  readonly onOthers?: readonly { readonly pack: string; readonly numbers: readonly FindingNumber[] }[];
  /** The highest of their first numbers, SI: what `accept … below` has to stay above. */
  readonly highest?: number;
  readonly numbers: readonly FindingNumber[];
  readonly related: readonly RelatedPlace[];
  readonly fixes: readonly Fix[];
  /** Set when the build accepts it: the stated reason. Accepted findings are shown, counted, and never fail a run. */
  readonly accepted?: string;
  /** What to measure first, when the finding is about the ± of estimates. */
  readonly measureFirst?: string;
  /** The message in one line, where that is much shorter. */
  readonly brief?: string;
}
