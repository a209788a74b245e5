/** What a reader of the reference page reads; the examples are run by a test. */
export type Page = PageText & (Passing | NonePassing);

interface PageText {
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
  /** Lines that give exactly this finding; together with the example craft of `example-craft.ts`, which is `craft.fettle` in their folder. */
  readonly fails: string;
}

interface Passing {
  /** Lines that give no finding. */
  readonly passes: string;
}

interface NonePassing {
  readonly passes?: undefined;
  /** Why no lines are without this finding. */
  readonly withoutPassing: string;
}

/**
 * `certain`: nothing else can have been meant; `choice`: likely meant, to be chosen; `computed`: the craft was computed through with it;
 * `another-part`: words without an edit.
 */
export type FixSort = 'certain' | 'choice' | 'computed' | 'another-part';
