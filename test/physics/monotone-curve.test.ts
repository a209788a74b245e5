import { describe, expect, test } from 'vitest';
import { monotoneCurve, valueAt } from '../../packages/language/src/physics/monotone-curve.ts';

describe('monotone curve', () => {
  /**
   * Points that are not evenly spaced, so that a weight on the wrong side shows. Values and slopes computed with PchipInterpolator of
   * scipy 1.17.1, which has the same slopes (F. N. Fritsch and J. Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300).
   */
  const curve = monotoneCurve([
    [0, 0],
    [1, 1],
    [3, 2],
    [4, 5],
    [7, 6],
  ]);

  test.each([
    [2, 1.4403183023872677],
    [3.5, 3.5298408488063657],
  ])('at %d it is %d', (x, y) => {
    expect(valueAt(curve, x)).toBeCloseTo(y, 12);
  });

  test.each([
    [1, 0.6923076923076923],
    [3, 0.9310344827586208],
    [4, 0.6923076923076923],
  ])('at %d its slope is %d', (x, slope) => {
    const h = 1e-6;
    expect((valueAt(curve, x + h) - valueAt(curve, x - h)) / (2 * h)).toBeCloseTo(slope, 5);
  });
});
