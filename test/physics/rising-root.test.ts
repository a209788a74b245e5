import { describe, expect, test } from 'vitest';
import { risingRoot } from '../../packages/language/src/physics/rising-root.ts';

describe('where a rising function passes zero', () => {
  const smooth: [string, (x: number) => number, number][] = [
    ['a straight line', (x) => 3 * x - 0.6, 0.2],
    ['a cubic', (x) => x ** 3 - 0.027, 0.3],
    ['an exponential', (x) => Math.exp(5 * x) - 20, Math.log(20) / 5],
    ['a steep piece before a flat one', (x) => (x < 0.2 ? 100 * (x - 0.1) : 10 + (x - 0.2)), 0.1],
    ['a root next to the lower end', (x) => x - 1e-9, 1e-9],
  ];
  test.each(smooth)('%s, in a few evaluations', (_, value, root) => {
    let evaluations = 0;
    const found = risingRoot((x) => {
      evaluations++;
      return value(x);
    });
    expect(Math.abs((found ?? Number.NaN) - root)).toBeLessThan(5e-15);
    expect(evaluations).toBeLessThan(14);
  });

  test.each([0.3, 1e-7, 0.999])('a jump at %f is found from above, no slower than by halving', (jump) => {
    let evaluations = 0;
    const found = risingRoot((x) => {
      evaluations++;
      return x < jump ? -1 : 1;
    });
    expect(found).toBeGreaterThanOrEqual(jump);
    expect(found).toBeLessThan(jump + 5e-15);
    expect(evaluations).toBeLessThan(54);
  });

  test('never below zero is 0, always below is none', () => {
    expect(risingRoot((x) => x)).toBe(0);
    expect(risingRoot((x) => x - 1.5)).toBeUndefined();
  });

  test('values too large to be subtracted are halved between', () => {
    expect(risingRoot((x) => (x < 0.25 ? -1e308 : 1e308))).toBeCloseTo(0.25, 14);
  });
});
