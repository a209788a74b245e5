/**
 * What all the others make of some lines: of the residuals at the mean, by the inverse of 1 + G·Gᵀ, the covariance of what was read before anything was
 * learnt, in the lines' own standard deviations (C. E. Rasmussen, C. K. I. Williams, Gaussian Processes for Machine Learning, 2006, 5.4.2).
 */
import { dot, type Posterior } from './gauss-newton.ts';
import { cholesky, type Matrix, solveLower, solveTransposed } from './symmetric.ts';

export interface LeftOut {
  /** Read less what the others make of it, each line in its own standard deviations. */
  readonly off: Float64Array;
  /** Of that, the lines' own errors included. */
  readonly covariance: Matrix;
}

export function leavingOut({ residuals, gradients }: Posterior): (lines: readonly number[]) => LeftOut {
  const before = gradients.map((one, i) =>
    Float64Array.from(gradients, (other, j) => dot(one, other) + (i === j ? 1 : 0)),
  );
  const solve = solvedBy(before);
  const precision = gradients.map((_, i) => solve(Float64Array.from(gradients, (__, j) => (i === j ? 1 : 0))));
  return (lines) => {
    const within = solvedBy(lines.map((line) => Float64Array.from(lines, (other) => precision[line]?.[other] ?? 0)));
    return {
      off: within(Float64Array.from(lines, (line) => residuals[line] ?? 0)),
      covariance: lines.map((_, i) => within(Float64Array.from(lines, (__, j) => (i === j ? 1 : 0)))),
    };
  };
}

/** x with matrix·x = right. */
export function solvedBy(matrix: Matrix): (right: Float64Array) => Float64Array {
  const lower = cholesky(matrix);
  return (right) => solveTransposed(lower, solveLower(lower, right));
}
