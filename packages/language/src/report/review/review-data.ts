/** What a review found out: the input of every format. */
import type { Measurable } from '../../analysis/uncertainty/estimate.ts';
import type { RatingKey } from '../../vocabulary/limits.ts';
import type { Sources } from '../present/sources.ts';
import type { Change } from './changes.ts';
import type { ResultChange, Widened } from './differences.ts';
import type { FindingChange } from './finding-changes.ts';
import type { Hidden, Relaxation } from './relaxations.ts';

export interface Version {
  /** As requested: `main`, `working tree`. */
  readonly name: string;
  /** Of the commit; none for the working tree. */
  readonly commit?: string;
  /** The commit that the working tree, or what is staged, is on. */
  readonly on?: string;
}

/** The name of a version that was just saved: nothing is merged yet. */
export const SAVED = 'this save';

/** What one change alone does to one result, SI; missing where the build cannot be computed with that change alone. */
export interface Share {
  readonly result: string;
  readonly value: number;
}

export interface CausingChange {
  readonly change: Change;
  /** By pack option; only where there are several changes and their shares could be worked out. */
  readonly shares: ReadonlyMap<string, readonly Share[]>;
  /** Ids of new, worse or resolved findings that this change alone brings or cures. */
  readonly findings: readonly string[];
}

export interface OptionReview {
  readonly pack: string;
  readonly status: 'changed' | 'added' | 'removed';
  /** 0 … 1; the lower one of both versions. */
  readonly dutyLimit: number;
  readonly results: readonly ResultChange[];
  /** The rating that least is left of, in the new version where it is there. */
  readonly nearest?: NearestLimit;
  /** Headlines whose ± got much wider. */
  readonly widened: readonly Widened[];
  /** Those of which a leg takes more or less than before, beyond the ±. */
  readonly flights: readonly FlightReview[];
}

/** What is taken from the pack by the end of each leg. */
export interface FlightReview {
  readonly name: string;
  /** In the order of the new version; those that only the old one has are left out. */
  readonly legs: readonly { readonly text: string; readonly before?: Measurable; readonly after?: Measurable }[];
}

/** Shares of a rating that flow. */
export interface NearestLimit {
  readonly key: RatingKey;
  readonly before?: number;
  readonly after?: number;
}

export interface BuildReview {
  readonly name: string;
  readonly title?: string;
  /** URI, in the new version where it is there. */
  readonly uri: string;
  readonly movedFrom?: string;
  /** Its name before, where that was another. */
  readonly renamedFrom?: string;
  readonly status: 'changed' | 'added' | 'removed';
  readonly options: readonly OptionReview[];
  readonly findings: readonly FindingChange[];
  /** Where it requires less, or accepts more, than before. */
  readonly relaxations: readonly Relaxation[];
  /** What none of these hides alone, only several together. */
  readonly hiddenTogether: readonly Hidden[];
  readonly causes: readonly CausingChange[];
  /** Something of its file could not be judged: an empty report does not mean that nothing changed. */
  readonly isUnjudged: boolean;
  /** There were several changes, but too many to work out what each does. */
  readonly unshared: boolean;
}

/** How much was looked at: what makes a review of a large repository quick. */
interface Work {
  readonly changedFiles: number;
  /** Of both versions. */
  readonly filesRead: number;
  readonly buildsCompared: number;
  readonly buildsAssessed: number;
  /** Builds on one pack each, both versions counted; those for the shares of single changes come on top. */
  readonly assessments: number;
  readonly shareAssessments: number;
}

export interface Review {
  readonly base: Version;
  readonly head: Version;
  /** Builds that rest on something that was changed: gravest first, then by file and name. */
  readonly builds: readonly BuildReview[];
  /** Findings about the text of files, not about a build. */
  readonly text: readonly FindingChange[];
  /** Of shortlists: what is tried, required or preferred otherwise. */
  readonly shortlists: readonly Change[];
  /** Builds in the new version, reached or not. */
  readonly buildsInAll: number;
  /** Files that cannot be read in the new version, or not be judged in full … */
  readonly failures: readonly { readonly path: string; readonly message: string }[];
  /** … and remarks on the old one, or on links. */
  readonly remarks: readonly string[];
  readonly work: Work;
  readonly before: Sources;
  readonly after: Sources;
  /** From the repository's root. */
  readonly pathOf: (uri: string) => string;
}
