import type { Assessment } from '../analysis/assessment.ts';
import type { Build, PackOption } from '../model/build.ts';
import type { Nameable } from '../model/named.ts';
import type { Place } from '../syntax/place.ts';
import type { FixSort, Page } from '../vocabulary/finding-page.ts';
import type { CheckId, CraftCheckId } from '../vocabulary/findings.ts';
import type { Severity } from '../vocabulary/severities.ts';
import type { FindingNumber, Fix, RelatedPlace } from './finding.ts';

/** A finding before rules and acceptances were applied. */
export type Draft = DraftContent & (Decided | PerhapsUndecided);

/** One that lacks what is the same of several, and added to each. */
export type DraftWithout<Key extends keyof DraftContent> = Omit<DraftContent, Key> & (Decided | PerhapsUndecided);

interface Decided {
  readonly severity: Severity;
  readonly question?: string;
}

/** `undecided`: only the far end of the ± is past a limit; collected in the one note on estimates. */
interface PerhapsUndecided {
  readonly severity: Severity | 'undecided';
  /** What is open when `undecided`, to follow "it cannot be determined": "whether Board28 keeps …". */
  readonly question: string;
}

interface DraftContent {
  readonly message: string;
  /** The parts, lines, rails and packs that the message names, or the question where it is `undecided`: in its order, what it is about first. */
  readonly names: readonly Nameable[];
  readonly place: Place;
  /** The first one is what `accept … below` is compared with. */
  readonly numbers: readonly FindingNumber[];
  readonly related?: readonly RelatedPlace[];
  /** A function where they take a search: candidates by the thousand are judged without. */
  readonly fixes?: readonly Fix[] | (() => readonly Fix[]);
  /** A rail or a result: of what `folds` names, only findings with the same one are folded into this one. */
  readonly foldKey?: string;
  /**
   * The craft with this cured and nothing else, as far as that can be determined: what is then gone was a consequence. Without it, all
   * that `folds` names counts as one.
   */
  readonly cured?: () => Assessment;
  /** What of `folds` is the same trouble seen from another side, and goes with it whatever is cured. */
  readonly alike?: readonly CheckId[];
}

/** What is open is measured, not mended. */
export const fixesOf = ({ severity, fixes = [] }: Pick<Draft, 'severity' | 'fixes'>): readonly Fix[] => {
  if (severity === 'undecided') return [];
  return typeof fixes === 'function' ? fixes() : fixes;
};

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
export type Check = CheckDescription & (PerOption | PerBuild);

interface CheckDescription {
  readonly id: CraftCheckId;
  /** Where no error is ever reported: the worst that is. Only rules make an error of it. */
  readonly atMost?: Exclude<Severity, 'error'>;
  /** A fix that changes the craft is computed before it is offered: none is a mere choice. */
  readonly page: Page & { readonly fixes: readonly Exclude<FixSort, 'certain' | 'choice'>[] };
  /** Findings folded into this one where curing it cures them too: one cause, one message. */
  readonly folds?: readonly CheckId[];
}

/** Called once per pack option. */
type OfOption = (subject: OptionSubject) => Iterable<Draft>;

/** Called once per build: geometry and counts that no pack changes. */
type OfBuild = (subject: BuildSubject) => Iterable<Draft>;

interface PerOption {
  readonly option: OfOption;
  readonly build?: OfBuild;
}

interface PerBuild {
  readonly option?: undefined;
  readonly build: OfBuild;
}
