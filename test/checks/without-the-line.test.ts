/** What a line that contradicts is compared with: what would be predicted for it, had it never been read. */

import { describe, expect, test } from 'vitest';
import { EXAMPLE_CRAFT } from '../../packages/language/src/checks/example-craft.ts';
import type { ResultId } from '../../packages/language/src/vocabulary/results.ts';
import { flown } from '../analysis/learning-craft.ts';
import { checkedIn } from './findings-in.ts';

/** Rows of a propeller that takes so much of the amperes that it should. */
const stand = (share: number): string => `bench Stand {
  motor: M1805
  propeller: P4024x3
  rows duty in %, voltage in V, current in A, thrust in gf {
    30, 15.4, ${(0.62 * share).toFixed(3)}, 51
    60, 15.4, ${(2.6 * share).toFixed(3)}, 182
    100, 15.4, ${(8.6 * share).toFixed(3)}, 432
  }
}
`;

async function checked(text: string) {
  const { findings = [], builds = [] } = (await checkedIn({ 'a.fettle': text }))['a.fettle'] ?? {};
  const [assessment] = builds[0]?.assessments ?? [];
  const result = (name: ResultId) => assessment?.results.get(name)?.estimate.value ?? Number.NaN;
  return { contradicting: findings.filter(({ id }) => id === 'observed-disagrees'), result };
}

describe('what else is known', () => {
  test.each([0.45, 0.55])('of amperes that are %f of what they should be is what follows from them', async (share) => {
    const { result } = await checked(`${stand(share)}${EXAMPLE_CRAFT}`);
    const minutes = 4;
    const expected = (result('charge_used') * minutes * 60) / result('hover_time');

    // Flown as a healthy craft does: by the parts alone that is what is expected.
    const parts = await checked(EXAMPLE_CRAFT);
    const back = (parts.result('charge_used') * minutes * 60) / parts.result('hover_time');
    const { contradicting } = await checked(
      `${stand(share)}${flown(`airborne: ${minutes} min`, `put_back: ${(back / 3.6).toFixed(0)} mAh`)}`,
    );
    expect(contradicting).toHaveLength(1);
    const { value = 0, plusMinus = 0 } = contradicting[0]?.numbers.find(({ name }) => name === 'otherwise') ?? {};
    expect(value / expected).toBeGreaterThan(0.95);
    expect(value / expected).toBeLessThan(1.05);
    // What is known otherwise does not contain what contradicts it.
    expect(back).toBeGreaterThan(value + plusMinus);
    expect(contradicting[0]?.message).toMatch(/; bent or wrong propellers.* each ± includes both/);
  });
});

test('the figure that would explain it has its ±, and is no finer', async () => {
  const text = flown('airborne: 5 min', 'put_back: 330 mAh', 'counted: 420 mAh');
  const { contradicting } = await checked(text);
  const [, value = '', plusMinus = ''] =
    /amperes \(([\d.]+) ± ([\d.]+) in place of 1\)/.exec(contradicting[0]?.message ?? '') ?? [];
  const decimals = (number: string) => number.split('.')[1]?.length ?? 0;
  expect(decimals(value)).toBe(decimals(plusMinus));
  // 420 of 330 is 1.27: what explains it all lies within.
  expect(Math.abs(Number(value) - 420 / 330)).toBeLessThan(Number(plusMinus));
  expect(Number(plusMinus)).toBeGreaterThan(0);
});

test('a mistyped duty puts its row off: what is named leaves open which cell it was', async () => {
  const text = stand(1).replace('60, 15.4', '49, 15.4').replace('100, 15.4', '80, 15.4, 5.300, 312\n    100, 15.4');
  const { findings = [] } = (await checkedIn({ 'a.fettle': `${text}${EXAMPLE_CRAFT}` }))['a.fettle'] ?? {};
  const rows = findings.filter(({ id, message }) => id === 'claims-disagree' && message.includes('row 2'));
  expect(rows.map(({ message }) => message)).toEqual([
    expect.stringMatching(/contradicts the others, .*It or another cell of its row/),
  ]);
});
