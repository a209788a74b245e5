/** Which inputs cause a result's ±, and what measuring one of them would buy. */
import type { Figure } from '../model/build.ts';
import type { Assessment, Estimate } from './assessment.ts';
import { COVERAGE, expanded } from './estimate.ts';

export interface Cause {
  readonly input: Figure;
  /** This input's part of the variance, 0 … 1. */
  readonly share: number;
  /** What it alone makes of the result's ± (k = 2), signed: the result's change when the input rises by its own ±. */
  readonly contribution: number;
  /** The result's ± (k = 2) if this input were known exactly. */
  readonly plusMinusWithout: number;
}

/** The inputs that cause most of an estimate's ±, largest first; none when it is exact. */
export function leading(estimate: Estimate, inputs: Assessment['inputs'], count: number): Cause[] {
  const plusMinus = expanded(estimate);
  if (plusMinus === 0) return [];
  return inputs
    .map((input, i): Cause => {
      const contribution = COVERAGE * (estimate.contributions[i] ?? 0);
      const share = (contribution / plusMinus) ** 2;
      return { input, share, contribution, plusMinusWithout: plusMinus * Math.sqrt(Math.max(0, 1 - share)) };
    })
    .filter((cause) => cause.contribution !== 0)
    .sort((a, b) => b.share - a.share || (a.input.id < b.input.id ? -1 : 1))
    .slice(0, count);
}

/** Origins that a measurement would replace; a figure already measured is no advice. */
const CAN_BE_MEASURED = new Set<Figure['origin']>(['default', 'estimated', 'claimed', 'stated']);

/**
 * The one measurement that narrows an estimate most: the leading input that is not measured yet and has a part of its own
 * to be measured on (a model-form term has none). Undefined when nothing unmeasured matters.
 */
export function worthMeasuring(estimate: Estimate, inputs: Assessment['inputs']): Cause | undefined {
  return leading(estimate, inputs, inputs.length).find(
    ({ input }) => CAN_BE_MEASURED.has(input.origin) && !isModelForm(input),
  );
}

/** Ids of terms that stand for what the model leaves out; see `model-form.ts`. */
export const MODEL_FORM_PREFIX = 'model.';

export const isModelForm = (figure: Figure): boolean => figure.id.startsWith(MODEL_FORM_PREFIX);
