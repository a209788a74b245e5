/** What is known to a ±, and its ends: about 95 %. */

/** Coverage factor of every ± that is shown. */
export const COVERAGE = 2;

/** Of one standard deviation. */
export const plusMinusOf = (deviation: number): number => COVERAGE * deviation;

/** One standard deviation of a ±. */
export const deviationOf = (plusMinus: number): number => plusMinus / COVERAGE;

/** Relatively; what is positive and known worse than this is log-normal. */
const BADLY_KNOWN = 0.2;

/** Relatively; farther off it is a difference of two that are nearly alike, such as a current at rest, and its sign is open. */
const OF_OPEN_SIGN = 3;

export interface Interval {
  readonly low: number;
  readonly high: number;
}

/** Value ± half-width; of what is positive and known badly the same on its logarithm, so that no end is below zero. */
export function interval(value: number, plusMinus: number): Interval {
  const isLogNormal = value > 0 && plusMinus >= BADLY_KNOWN * value && plusMinus <= OF_OPEN_SIGN * value;
  if (!isLogNormal) return { low: value - plusMinus, high: value + plusMinus };
  const factor = Math.exp(plusMinus / value);
  return { low: value / factor, high: value * factor };
}

/** From here on one side is worth telling from the other. */
const LOPSIDED = 1.25;

/** The ends, where one side is so much longer than the other; else a ± is enough. */
export function lopsided(value: number, plusMinus: number): Interval | undefined {
  const { low, high } = interval(value, plusMinus);
  return high - value > LOPSIDED * (value - low) ? { low, high } : undefined;
}
