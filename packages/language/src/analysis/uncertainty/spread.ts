/**
 * On which scale a figure's error is normal: what is positive in its logarithm, a share in its logit, the rest unchanged. To first order
 * around the figure's own value all three are its standard uncertainty; far off no resistance turns negative and no share exceeds one.
 */
import type { Figure } from '../../model/build.ts';
import { equal, NONE, TEMPERATURE_POINT } from '../../units/dimension.ts';
import { plusMinusOf } from '../../units/interval.ts';
import { formatPlusMinus, formatSymmetric } from '../../units/print.ts';

export type Spread = 'log' | 'share' | 'plain';

/** A figure that is known worse than this, relatively, may as well be of the other sign (the gain of a duct). */
const SIGN_UNSURE = 0.6;

export function spreadOf({ value, standardUncertainty, dimension, unit, spread }: Figure): Spread {
  if (spread) return spread;
  if (value <= 0 || standardUncertainty >= SIGN_UNSURE * value || equal(dimension, TEMPERATURE_POINT)) return 'plain';
  return unit === '%' && equal(dimension, NONE) && value < 1 ? 'share' : 'log';
}

/** A value of a figure, itself or as estimated anew, so many of its standard deviations off. */
export function deviated(figure: Figure, value: number, deviations: number): number {
  const { value: usual, standardUncertainty: u } = figure;
  if (u === 0) return value;
  switch (spreadOf(figure)) {
    case 'plain':
      return value + deviations * u;
    case 'log':
      return value * Math.exp((deviations * u) / usual);
    case 'share': {
      if (value <= 0 || value >= 1) return value;
      const odds = (value / (1 - value)) * Math.exp((deviations * u) / (usual * (1 - usual)));
      return odds / (1 + odds);
    }
  }
}

/** With its ±, or both ends where they differ. */
export function printedFigure(figure: Figure): string {
  const format = spreadOf(figure) === 'plain' ? formatSymmetric : formatPlusMinus;
  return format(figure.value, plusMinusOf(figure.standardUncertainty), figure.unit);
}
