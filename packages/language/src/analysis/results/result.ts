/** What a result is made of: its name, unit and words are in `vocabulary/results.ts`, this in a file of its own, named as the result. */
import type { Build, PackOption } from '../../model/build.ts';
import type { ResultId, ResultName } from '../../vocabulary/results.ts';
import type { Assessment, Estimate, NoResult, Result } from '../assessment.ts';
import type { Evaluation } from '../evaluate/evaluation.ts';
import type { Explanation, Searches } from '../explain/explanation.ts';
import type { Need } from './reading.ts';

/** Undefined where what it is read from does not exist. */
export type Explain = (assessment: Assessment, searches: Searches) => Explanation | undefined;

/** What a derived result is computed from, besides other results. */
export interface Derivable {
  readonly build: Build;
  readonly option: PackOption;
  readonly evaluation: Evaluation;
}

/** A value, in the result's own unit where it states no other; a reason of its own; or nothing to be mentioned. */
export type Derived =
  | { readonly estimate: Estimate; readonly unit?: string }
  | Pick<NoResult, 'reason' | 'without'>
  | { readonly unknown: true };

export interface DerivedComputation {
  readonly from: readonly ResultName[];
  /** Undefined where something that it needs does not exist. */
  readonly derive: (results: ReadonlyMap<ResultId, Result>, of: Derivable) => Derived | undefined;
}

/** @param derive reads no other results than those of `from` */
export const derivedFrom = <Name extends ResultName>(
  from: readonly Name[],
  derive: (estimateOf: (name: Name) => Estimate | undefined, of: Derivable) => Derived | undefined,
): DerivedComputation => ({ from, derive: (results, of) => derive((name) => results.get(name)?.estimate, of) });

export type ResultComputation = {
  /** Formula, words, numbers and source. */
  readonly explain: Explain;
} & (ReadOff | FromOthers);

interface ReadOff {
  /** What has to exist for it to have a value; the first that does not is the reason. */
  readonly needs: readonly [Need, ...Need[]];
  /**
   * Read off a solved setup, SI.
   * @param overlapping per rotor line: a lower rotor, in the shadow of another
   */
  readonly of: (evaluation: Evaluation, overlapping: readonly boolean[]) => number | undefined;
}

interface FromOthers {
  /** The same; nothing where it gives its own reason. */
  readonly needs: readonly Need[];
  /** Derived from other results, or searched for on request. */
  readonly of: DerivedComputation | 'on request';
}
