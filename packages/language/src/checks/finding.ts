import type { Leg } from '../model/build.ts';
import type { Named } from '../model/named.ts';
import type { Place } from '../syntax/place.ts';
import type { FixSort } from '../vocabulary/finding-page.ts';
import type { FindingId } from '../vocabulary/findings.ts';
import type { Severity } from '../vocabulary/severities.ts';

/** With which another number of a finding is compared. */
export type BoundName = 'limit' | 'allowed' | 'maximum' | 'minimum' | 'needed' | 'guard' | 'bay';

/** A number behind a finding, in SI; printed by whoever shows it. */
export type FindingNumber = FindingValue &
  ({ readonly name: string; readonly isBound?: undefined } | { readonly name: BoundName; readonly isBound: true });

interface FindingValue {
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
export type FixTrial =
  | { readonly pack: string; readonly duty: number }
  | { readonly feeds: Place; readonly rail: string }
  | { readonly flight: string; readonly leg: Leg };

export interface Fix {
  readonly title: string;
  /** Set where it changes the craft: it is computed through before it is offered (`sound-fixes.ts`). */
  readonly trial?: FixTrial;
  /** Nothing else can have been meant, and the meaning stays the same: only its writing changes. An editor may do it on saving. */
  readonly isCertain?: true;
  /** None where it takes another part: offered when no other fix is sound. */
  readonly edits: readonly TextEdit[];
}

export function sortOf({ trial, isCertain, edits }: Fix): FixSort {
  if (trial) return 'computed';
  if (edits.length === 0) return 'another-part';
  return isCertain ? 'certain' : 'choice';
}

/** A finding is data first: the same object becomes a squiggle, a terminal line, a pull-request row. */
export interface Finding {
  readonly id: FindingId;
  readonly severity: Severity;
  /** One or two sentences in the trade's words: what happens, and what to do. */
  readonly message: string;
  /** The parts, lines, rails and packs of a build that the message names, in its order; empty of findings about the text. */
  readonly names: readonly Named[];
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

/** All packs that meet it, in the build's order; empty where no pack changes it. */
export const packsOf = ({ pack, packs }: Pick<Finding, 'pack' | 'packs'>): readonly string[] =>
  packs ?? (pack === undefined ? [] : [pack]);
