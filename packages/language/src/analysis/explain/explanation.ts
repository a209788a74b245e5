/** What an explanation of a result is made of. */
import type { Requirement } from '../../model/build.ts';
import type { Place } from '../../syntax/place.ts';
import type { ResultId } from '../../vocabulary/results.ts';
import type { Origin } from '../../vocabulary/schema.ts';
import type { Assessment, Estimate } from '../assessment.ts';

/** One number that was put in. */
export interface DerivationTerm {
  /** As it is in the formula. */
  readonly symbol: string;
  readonly label: string;
  /** SI. */
  readonly value: number;
  /** Unit in which to print it; none for a plain number. */
  readonly unit: string;
  /** k = 2, SI. */
  readonly plusMinus?: number;
  /** When it is a figure of a part. */
  readonly origin?: Origin;
  /** What the file states of its origin, or why it was taken to be so. */
  readonly because?: string;
  readonly place?: Place;
  /** When it is a figure: its id. */
  readonly figure?: string;
  /** The id of a factor on it, 1 until something is learnt, that the printed value includes. */
  readonly shared?: string;
  /** When it is the figure of so many together. */
  readonly count?: number;
  /** When it is a result of its own: its name. */
  readonly result?: ResultId;
}

/** Before learnt figures are put in; terms that a build does not have are left out. */
export interface Explanation {
  /** In symbols. */
  readonly formula: string;
  /** In words. */
  readonly description: string;
  readonly terms: readonly (DerivationTerm | undefined)[];
  /** Where the formula comes from. */
  readonly source: string;
  /** What it leaves out, and when that matters. */
  readonly neglects?: string;
}

/** What is searched for by assessing many craft; handed in, so that what explains does not rest on what assesses. */
export interface Searches {
  /** How much heavier the pack may be, kg, before each requirement fails. */
  readonly gramsLeft: (
    assessment: Assessment,
  ) => readonly { readonly requirement: Requirement; readonly mass?: Estimate | undefined }[];
}
