/**
 * What all the others make of some lines: of the residuals at the mean, by the inverse of 1 + G·Gᵀ, the covariance of what was read before anything was
 * learnt, in the lines' own standard deviations (C. E. Rasmussen, C. K. I. Williams, Gaussian Processes for Machine Learning, 2006, 5.4.2).
 */
import { dot, type Posterior } from './gauss-newton.ts';
import { cholesky, type Matrix, solveLower, solveTransposed } from './symmetric.ts';

export interface LeftOut {
  /** Read less what the prior makes of it, each line in its own standard deviations. */
  readonly offPrior: Float64Array;
  /** Read less what the others make of it. */
  readonly off: Float64Array;
  /** Of that, the lines' own errors included. */
  readonly covariance: Matrix;
}

/**
 * The residuals are computed from what was read less what the prior makes of it, along the slopes at the mean: of a line that decides nearly everything
 * about itself next to nothing is left, less than what the last round of the fit leaves open, and dividing by it would make that large.
 */
export function leavingOut({
  mean,
  residuals: found,
  gradients,
}: Pick<Posterior, 'mean' | 'residuals' | 'gradients'>): (lines: readonly number[]) => LeftOut {
  const before = gradients.map((one, i) =>
    Float64Array.from(gradients, (other, j) => dot(one, other) + (i === j ? 1 : 0)),
  );
  const solve = solvedBy(before);
  const offPrior = Float64Array.from(found, (residual, i) => residual + dot(gradients[i] as Float64Array, mean));
  const residuals = solve(offPrior);
  const precision = gradients.map((_, i) => solve(Float64Array.from(gradients, (__, j) => (i === j ? 1 : 0))));
  return (lines) => {
    const within = solvedBy(lines.map((line) => Float64Array.from(lines, (other) => precision[line]?.[other] ?? 0)));
    const of = (values: Float64Array) => Float64Array.from(lines, (line) => values[line] ?? 0);
    return {
      offPrior: of(offPrior),
      off: within(of(residuals)),
      covariance: lines.map((_, i) => within(Float64Array.from(lines, (__, j) => (i === j ? 1 : 0)))),
    };
  };
}

/** x with matrix·x = right. */
export function solvedBy(matrix: Matrix): (right: Float64Array) => Float64Array {
  const lower = cholesky(matrix);
  return (right) => solveTransposed(lower, solveLower(lower, right));
}
