import type { Assessment } from '../analysis/assessment.ts';
import type { Build, PackOption } from '../model/build.ts';
import type { Place } from '../syntax/place.ts';
import type { CheckId, CraftCheckId } from '../vocabulary/findings.ts';
import type { FindingNumber, Fix, FixSort, RelatedPlace, Severity } from './finding.ts';

/** What a reader of the reference page reads; the two examples are run by a test. */
export interface Page {
  /** One line: what is wrong. */
  readonly title: string;
  /** What happens to the craft, and why. */
  readonly cause: string;
  /** The criterion with its thresholds, in symbols or words. */
  readonly criterion: string;
  /** Where the criterion comes from: a standard, common practice, or ours. */
  readonly standing: string;
  /** What to do about it. */
  readonly remedy: string;
  /** Which sorts of fixes are offered: empty where only its author knows what is right. */
  readonly fixes: readonly FixSort[];
  /** Lines that give exactly this finding, and lines that give none; together with the example craft of `example-craft.ts`. */
  readonly fails: string;
  readonly passes: string;
}

/** A finding before rules and acceptances were applied. */
export interface Draft {
  /** `undecided`: only the far end of the ± is past a limit; collected in the one note on estimates. */
  readonly severity: Severity | 'undecided';
  readonly message: string;
  /** What is open when `undecided`, to follow "it cannot be determined": "whether Board28 keeps …". */
  readonly question?: string;
  readonly place: Place;
  /** The first one is what `accept … below` is compared with. */
  readonly numbers: readonly FindingNumber[];
  readonly related?: readonly RelatedPlace[];
  /** A function where they take a search: candidates by the thousand are judged without. */
  readonly fixes?: readonly Fix[] | (() => readonly Fix[]);
  /** What it is about (a rail), where folding needs to know. */
  readonly about?: string;
  /**
   * The craft with this cured and nothing else, as far as that can be determined: what is then gone was a consequence. Without it, all
   * that `folds` names counts as one.
   */
  readonly cured?: () => Assessment;
  /** What of `folds` is the same trouble seen from another side, and goes with it whatever is cured. */
  readonly alike?: readonly CheckId[];
}

export const fixesOf = ({ fixes = [] }: Pick<Draft, 'fixes'>): readonly Fix[] =>
  typeof fixes === 'function' ? fixes() : fixes;

export interface OptionSubject {
  readonly build: Build;
  readonly option: PackOption;
  readonly assessment: Assessment;
}

export interface BuildSubject {
  readonly build: Build;
  readonly assessments: readonly Assessment[];
}

/** One file a check. It looks at a computed build and yields drafts; it knows no editor, no syntax tree and no other check. */
export interface Check {
  readonly id: CraftCheckId;
  /** Where no error is ever reported: the worst that is. Only rules make an error of it. */
  readonly atMost?: Exclude<Severity, 'error'>;
  readonly page: Page;
  /** Called once per pack option. */
  readonly option?: (subject: OptionSubject) => Iterable<Draft>;
  /** Called once per build: geometry and counts that no pack changes. */
  readonly build?: (subject: BuildSubject) => Iterable<Draft>;
  /** Findings folded into this one where curing it cures them too: one cause, one message. */
  readonly folds?: readonly CheckId[];
}
