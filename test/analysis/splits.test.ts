/** The worst rotor is the worst however the lines are written: equal motors on one line or on several, in any order. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { CheckedDocument } from '../../packages/language/src/checks/run.ts';
import { checkedAlone } from '../checks/findings-in.ts';
import { cases } from '../long.ts';
import { ORDINARY } from '../ordinary-craft.ts';

const SEED = 20260;

/** Results and what their ± is, by name, and the ratings with what flows. */
function numbersOf({ builds }: CheckedDocument): Map<string, readonly [number, number]> {
  const assessment = builds[0]?.assessments[0];
  return new Map(
    [...(assessment?.results.values() ?? [])].map(({ name, estimate }) => [
      name,
      [estimate.value, Math.hypot(...estimate.contributions)],
    ]),
  );
}

const findingsOf = ({ findings }: CheckedDocument): string[] =>
  [
    ...new Set(findings.map(({ severity, id, message }) => `${severity} ${id} ${id === 'estimates' ? '' : message}`)),
  ].sort();

async function expectAlike(one: string, other: string): Promise<void> {
  const [first, second] = [await checkedAlone(one), await checkedAlone(other)];
  expect(findingsOf(second), other).toEqual(findingsOf(first));
  const numbers = numbersOf(second);
  expect(numbers.size).toBeGreaterThan(25);
  for (const [name, [value, uncertainty]] of numbersOf(first)) {
    const [otherValue = Number.NaN, otherUncertainty = Number.NaN] = numbers.get(name) ?? [];
    expect(Math.abs(otherValue - value), `${name} of\n${other}`).toBeLessThan(1e-6 * Math.abs(value) + 1e-12);
    expect(Math.abs(otherUncertainty - uncertainty), `± of ${name} of\n${other}`).toBeLessThan(
      2e-3 * uncertainty + 1e-9 * Math.abs(value) + 1e-12,
    );
  }
}

/** `4 x M with P` as several lines with the same sum, by the places at which it is cut. */
function split(text: string, cuts: readonly number[]): string {
  return text.replace(
    /^( *(?:upper_|lower_)?motors: )(\d+) x (.*)$/gm,
    (_, head: string, count: string, what: string) => {
      const ends = [...new Set(cuts.map((cut) => 1 + (cut % Number(count))))].toSorted((a, b) => a - b);
      const bounds = [...new Set([...ends, Number(count)])];
      return bounds.map((end, i) => `${head}${end - (bounds[i - 1] ?? 0)} x ${what}`).join('\n');
    },
  );
}

const cuts = fc.array(fc.nat(7), { minLength: 1, maxLength: 3 });

describe('equal motors on several lines', () => {
  test('the same results, the same ±, the same findings', async () => {
    await fc.assert(
      fc.asyncProperty(fc.constantFrom(...ORDINARY), cuts, async ({ text }, places) => {
        await expectAlike(text, split(text, places));
      }),
      { seed: SEED, numRuns: cases(8, 24) },
    );
  });

  test('the stalled current of four motors on two lines has the ± of four on one', async () => {
    const { text } = ORDINARY.find(({ file }) => file === 'spire.fettle') ?? { text: '' };
    const stalled = async (written: string) => numbersOf(await checkedAlone(written)).get('stall_current')?.[1];
    const one = (await stalled(text)) ?? Number.NaN;
    expect((await stalled(split(text, [1]))) ?? Number.NaN).toBeCloseTo(one, 3);
    expect(one).toBeGreaterThan(1);
  });
});

/** Two kinds of motor, and two kinds that are alike in all but their name. */
const mixed = (lines: readonly string[], kv: number): string => `
motor A { stator: 15 x 7 mm  kv: 3800 rpm/V  resistance: 100 mohm  mass: 13 g }
motor B { stator: 15 x 7 mm  kv: ${kv} rpm/V  resistance: 100 mohm  mass: 13 g }
propeller P { diameter: 76 mm  blades: 3  mass: 1.5 g }
esc Board { channels: 4  continuous: 35 A  mass: 10 g }
airframe Frame { mass: 42 g }
pack Four { cells: 4S  capacity: 850 mAh  discharge: 75C  mass: 98 g }
build Craft {
  airframe: Frame
  ${lines.join('\n  ')}
  esc: Board
  pack: Four
}`;

describe('motors of two kinds', () => {
  test.each([
    ['that differ', 3500],
    ['that tie', 3800],
  ])('%s: the order of the lines decides nothing', async (_, kv) => {
    const lines = ['motors: 1 x A with P', 'motors: 2 x B with P', 'motors: 1 x A with P'];
    await fc.assert(
      fc.asyncProperty(fc.shuffledSubarray(lines, { minLength: 3, maxLength: 3 }), async (shuffled) => {
        await expectAlike(mixed(lines, kv), mixed(shuffled, kv));
      }),
      { seed: SEED, numRuns: cases(3, 6) },
    );
    await expectAlike(mixed(lines, kv), mixed(['motors: 2 x B with P', 'motors: 2 x A with P'], kv));
  });
});
