/** Two values and their difference in a review: the sum is right as printed. What else prints such sums is in `test/report/sums.test.ts`. */
import { expect, it } from 'vitest';
import { areRight, pairsIn } from '../printed-sums.ts';
import { CRAFT } from './rooftop-craft.ts';
import { Change } from './texts-under-review.ts';

it('a sum is right as it is printed', async () => {
  const change = new Change(CRAFT)
    .edit('parts/motors.fettle', 'mass: 12.40 g +- 0.02 g', 'mass: 16.40 g +- 0.02 g')
    .edit('parts/motors.fettle', '3900 rpm/V', '3400 rpm/V')
    .edit('parts/others.fettle', '700 mAh', '1150 mAh')
    .edit('builds/rafter.fettle', 'duty 58 %', 'duty 80 %');
  for (const [out, least] of [
    [await change.text(), 10],
    [await change.markdown(), 40],
  ] as const) {
    const sums = pairsIn(out);
    expect(sums.length).toBeGreaterThan(least);
    areRight(sums);
  }
});
