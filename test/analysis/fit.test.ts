/** The fit itself, compared with sums done another way. */

import { describe, expect, test } from 'vitest';
import { gaussNewton, type Linearised } from '../../packages/language/src/analysis/learn/gauss-newton.ts';
import { leavingOut } from '../../packages/language/src/analysis/learn/left-out.ts';
import {
  cholesky,
  eigenOf,
  solveLower,
  solveTransposed,
} from '../../packages/language/src/analysis/learn/symmetric.ts';
import { normal, randomNumbers } from '../seeded.ts';

const matrix = (size: number, of: (i: number, j: number) => number) =>
  Array.from({ length: size }, (_, i) => Float64Array.from({ length: size }, (__, j) => of(i, j)));

/** Positive definite. */
function random(size: number, seed: number) {
  const next = randomNumbers(seed);
  const root = matrix(size, () => normal(next));
  return matrix(size, (i, j) => {
    let sum = i === j ? 0.1 : 0;
    for (let k = 0; k < size; k++) sum += (root[i]?.[k] ?? 0) * (root[j]?.[k] ?? 0);
    return sum;
  });
}

describe('symmetric matrices', () => {
  test.each([1, 2, 5, 20, 60])('of %i rows: factor and eigenvectors make them again', (size) => {
    const whole = random(size, size);
    const lower = cholesky(whole);
    const { values, vectors } = eigenOf(whole);
    for (let i = 0; i < size; i++) {
      for (let j = 0; j < size; j++) {
        let product = 0;
        let spectral = 0;
        let angle = 0;
        for (let k = 0; k < size; k++) {
          product += (lower[i]?.[k] ?? 0) * (lower[j]?.[k] ?? 0);
          spectral += (values[k] ?? 0) * (vectors[k]?.[i] ?? 0) * (vectors[k]?.[j] ?? 0);
          angle += (vectors[i]?.[k] ?? 0) * (vectors[j]?.[k] ?? 0);
        }
        expect(product).toBeCloseTo(whole[i]?.[j] ?? Number.NaN, 9);
        expect(spectral).toBeCloseTo(whole[i]?.[j] ?? Number.NaN, 9);
        expect(angle).toBeCloseTo(i === j ? 1 : 0, 9);
      }
    }
  });

  test('solve what they are given', () => {
    const whole = random(6, 3);
    const lower = cholesky(whole);
    const right = Float64Array.of(1, -2, 3, 0, 5, 1);
    const x = solveTransposed(lower, solveLower(lower, right));
    for (const [i, row] of whole.entries())
      expect(row.reduce((sum, entry, j) => sum + entry * (x[j] ?? 0), 0)).toBeCloseTo(right[i] ?? 0, 8);
  });
});

describe('the fit', () => {
  test('of one input and one line is the mean weighted by inverse variances', () => {
    // z ~ N(0, 1), and z = 3 ± 0.5.
    const error = 0.5;
    const residualsAt = (z: Float64Array) => Float64Array.of((3 - (z[0] ?? 0)) / error);
    const linearise = (z: Float64Array): Linearised => ({
      residuals: residualsAt(z),
      gradients: [Float64Array.of(1 / error)],
    });
    const { mean, directions, leverages } = gaussNewton({ inputs: 1, linearise, residualsAt });
    expect(mean[0]).toBeCloseTo(3 / error ** 2 / (1 + 1 / error ** 2), 12);
    expect(1 - (directions[0]?.share ?? 0)).toBeCloseTo(1 / Math.sqrt(1 + 1 / error ** 2), 12);
    expect(leverages[0]).toBeCloseTo(1 / error ** 2 / (1 + 1 / error ** 2), 12);
  });

  test('finds the least squares of a curve: its slope there is zero', () => {
    // exp(z₀ + z₁/2) = 2 ± 0.1, z₀ − z₁ = 1 ± 0.2, z₁² = 0.3 ± 0.3
    const values = ([a = 0, b = 0]: ArrayLike<number> & Iterable<number>) => [
      (2 - Math.exp(a + b / 2)) / 0.1,
      (1 - a + b) / 0.2,
      (0.3 - b * b) / 0.3,
    ];
    const residualsAt = (z: Float64Array) => Float64Array.from(values(z));
    const linearise = (z: Float64Array): Linearised => {
      const [a = 0, b = 0] = z;
      const grown = Math.exp(a + b / 2);
      return {
        residuals: residualsAt(z),
        gradients: [
          Float64Array.of(grown / 0.1, grown / 0.2),
          Float64Array.of(1 / 0.2, -1 / 0.2),
          Float64Array.of(0, (2 * b) / 0.3),
        ],
      };
    };
    const { mean } = gaussNewton({ inputs: 2, linearise, residualsAt }, { rounds: 60 });
    const cost = (a: number, b: number) => values([a, b]).reduce((sum, r) => sum + r * r, 0) + a * a + b * b;
    const [a = 0, b = 0] = mean;
    for (const [da, db] of [
      [1e-3, 0],
      [-1e-3, 0],
      [0, 1e-3],
      [0, -1e-3],
    ] as const)
      expect(cost(a + da, b + db)).toBeGreaterThan(cost(a, b) - 1e-3);
  });

  test('more lines than inputs, and a line without information, are no trouble', () => {
    const residualsAt = (z: Float64Array) => Float64Array.of(1 - (z[0] ?? 0), 2 - (z[0] ?? 0), 0);
    const linearise = (z: Float64Array): Linearised => ({
      residuals: residualsAt(z),
      gradients: [Float64Array.of(1), Float64Array.of(1), Float64Array.of(0)],
    });
    const { mean, directions } = gaussNewton({ inputs: 1, linearise, residualsAt });
    expect(mean[0]).toBeCloseTo(1, 12);
    expect(directions).toHaveLength(1);
  });

  test('of a line left out: what the others make of it, however near the end the rounds came', () => {
    // z₀ = 3 ± 0.001, z₀ + z₁ = 1 ± 0.5: the first decides nearly everything about itself.
    const gradients = [Float64Array.of(1000, 0), Float64Array.of(2, 2)];
    const residualsAt = ([a = 0, b = 0]: Float64Array) => Float64Array.of((3 - a) * 1000, (1 - a - b) * 2);
    const problem = {
      inputs: 2,
      residualsAt,
      linearise: (z: Float64Array) => ({ residuals: residualsAt(z), gradients }),
    };
    const whole = gaussNewton(problem);
    const others = gaussNewton(problem, { without: 0, from: whole });
    const mean = whole.mean.map((z, i) => (i === 0 ? z + 1e-3 : z));
    for (const posterior of [whole, { ...whole, mean, residuals: residualsAt(mean) }]) {
      const { off, covariance } = leavingOut(posterior)([0]);
      expect((off[0] ?? 0) / (others.residuals[0] ?? 0)).toBeCloseTo(1, 6);
      expect((covariance[0]?.[0] ?? 0) / (1 + others.varianceOf(Float64Array.of(1000, 0)))).toBeCloseTo(1, 6);
    }
  });
});
