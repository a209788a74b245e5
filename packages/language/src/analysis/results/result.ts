/** What a result is made of: its name, unit and words are in `vocabulary/results.ts`, this in a file of its own, named as the result. */
import type { Assessment } from '../assessment.ts';
import type { Evaluation } from '../evaluate/evaluation.ts';
import type { Explanation, Searches } from '../explain/explanation.ts';
import type { Need } from './reading.ts';

/** Undefined where what it is read from does not exist. */
export type Explain = (assessment: Assessment, searches: Searches) => Explanation | undefined;

export interface ResultComputation {
  /** What has to exist for it to have a value. */
  readonly needs: readonly Need[];
  /**
   * Read off a solved setup, SI; `derived` from other results, `on request` searched for on request.
   * @param overlapping per rotor line: a lower rotor, in the shadow of another
   */
  readonly of:
    | ((evaluation: Evaluation, overlapping: readonly boolean[]) => number | undefined)
    | 'derived'
    | 'on request';
  /** Formula, words, numbers and source. */
  readonly explain: Explain;
}
