/**
 * Arithmetic on values with first-order contributions (JCGM 100:2008, 5.1 and 5.2.2 with correlation 1 or 0): every input
 * keeps its own signed share, so that errors which two values have in common cancel in their difference.
 * Both operands of a sum or product stem from one assessment (or from two whose contributions were aligned).
 */
import { type Interval, interval, plusMinusOf } from '../../units/interval.ts';
import type { ResultId } from '../../vocabulary/results.ts';
import type { Assessment, Estimate } from '../assessment.ts';

/** A number without error. */
export const exact = (value: number): Estimate => ({ value, contributions: NOTHING });

const NOTHING = new Float64Array(0);

/** One standard deviation. */
export function standardUncertainty({ contributions }: Estimate): number {
  let sum = 0;
  for (const contribution of contributions) sum += contribution * contribution;
  return Math.sqrt(sum);
}

/** The ± that is shown: k = 2. */
export const expanded = (estimate: Estimate): number => plusMinusOf(standardUncertainty(estimate));

/** A value with its expanded uncertainty (k = 2), same unit. */
export interface Measurable {
  readonly value: number;
  readonly plusMinus: number;
}

export const measurable = (estimate: Estimate): Measurable => ({
  value: estimate.value,
  plusMinus: expanded(estimate),
});

/** Undefined where it has no such result. */
export function measurableOf(name: ResultId, { results }: Assessment): Measurable | undefined {
  const estimate = results.get(name)?.estimate;
  return estimate && measurable(estimate);
}

/** About 95 %, its two sides each as long as they are. */
export const ends = (estimate: Estimate): Interval => interval(estimate.value, expanded(estimate));

/** a·x + b·y with the shares of the inputs combined alike: the first-order rule for any f(x, y) with those slopes. */
function combine(value: number, a: number, x: Estimate, b: number, y: Estimate): Estimate {
  const contributions = new Float64Array(Math.max(x.contributions.length, y.contributions.length));
  for (let i = 0; i < contributions.length; i++) {
    contributions[i] = a * (x.contributions[i] ?? 0) + b * (y.contributions[i] ?? 0);
  }
  return { value, contributions };
}

export const add = (x: Estimate, y: Estimate): Estimate => combine(x.value + y.value, 1, x, 1, y);

export const subtract = (x: Estimate, y: Estimate): Estimate => combine(x.value - y.value, 1, x, -1, y);

export const multiply = (x: Estimate, y: Estimate): Estimate => combine(x.value * y.value, y.value, x, x.value, y);

/** Undefined where the divisor is zero. */
export function divide(x: Estimate, y: Estimate): Estimate | undefined {
  if (y.value === 0) return undefined;
  const value = x.value / y.value;
  return combine(value, 1 / y.value, x, -value / y.value, y);
}

export const scale = (x: Estimate, factor: number): Estimate => ({
  value: x.value * factor,
  contributions: x.contributions.map((contribution) => contribution * factor),
});

/** A smooth function of a value, its errors propagated by the slope there (central difference). */
export function mapped(x: Estimate, of: (value: number) => number): Estimate {
  const step = 1e-4 * (Math.abs(x.value) || 1);
  const slope = (of(x.value + step) - of(x.value - step)) / (2 * step);
  return { value: of(x.value), contributions: x.contributions.map((contribution) => contribution * slope) };
}

/** The estimate whose value is least (or greatest); its own errors come with it. */
export const least = (estimates: readonly Estimate[]): Estimate | undefined => pick(estimates, (a, b) => a < b);

export const greatest = (estimates: readonly Estimate[]): Estimate | undefined => pick(estimates, (a, b) => a > b);

function pick(estimates: readonly Estimate[], better: (a: number, b: number) => boolean): Estimate | undefined {
  let best: Estimate | undefined;
  for (const estimate of estimates) if (!best || better(estimate.value, best.value)) best = estimate;
  return best;
}

/**
 * How much a result differs between two assessments (of two pack options, or of two builds that share parts). Inputs are
 * matched by their figures' identity: a part that both use has one error, which cancels as far as it acts alike.
 * Undefined when either has no such result.
 */
export function difference(name: ResultId, of: Assessment, from: Assessment): Estimate | undefined {
  const minuend = of.results.get(name)?.estimate;
  const subtrahend = from.results.get(name)?.estimate;
  if (!minuend || !subtrahend) return undefined;
  const shares = new Map<string, number>();
  const collect = (assessment: Assessment, estimate: Estimate, sign: number) => {
    assessment.inputs.forEach((input, i) => {
      shares.set(input.id, (shares.get(input.id) ?? 0) + sign * (estimate.contributions[i] ?? 0));
    });
  };
  collect(of, minuend, 1);
  collect(from, subtrahend, -1);
  return { value: minuend.value - subtrahend.value, contributions: Float64Array.from(shares.values()) };
}
