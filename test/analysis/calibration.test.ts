/** What an observed flight teaches a build: a text in, moved values and a narrower ± out. */
import { describe, expect, test } from 'vitest';
import { measuresOf } from '../../packages/language/src/analysis/assess.ts';
import type { Assessment } from '../../packages/language/src/analysis/assessment.ts';
import { setupTemplate } from '../../packages/language/src/analysis/craft.ts';
import { derivationOf } from '../../packages/language/src/analysis/derivation.ts';
import { difference, expanded } from '../../packages/language/src/analysis/estimate.ts';
import { evaluate } from '../../packages/language/src/analysis/evaluation.ts';
import type { Setup } from '../../packages/language/src/analysis/setup.ts';
import { fill, withShifts } from '../../packages/language/src/analysis/template.ts';
import type { Figure } from '../../packages/language/src/model/build.ts';
import { formatValue } from '../../packages/language/src/units/print.ts';
import { checkedIn, findingsIn } from '../checks/findings-in.ts';
import { SMALL_CRAFT } from '../small-craft.ts';
import { normal, randomNumbers } from './random-builds.ts';

/** Weighed, so that what is left open is how it flies. */
const WEIGHED = SMALL_CRAFT.replace('mass: 28.1 g', 'mass: 28.1 g +- 0.1 % measured').replace(
  '  airframe: Duct90\n',
  '  airframe: Duct90\n  dry_mass: 67.9 g +- 0.1 % measured\n',
);

const flying = (...lines: string[]): string =>
  `${WEIGHED.replace('  pack: Slim480_2S\n}', '  pack: Slim480_2S\n  pack: Slim420_3S duty 66 %\n')}${
    lines.length > 0 ? `  observed "old granary" with Slim480_2S {\n    ${lines.join('\n    ')}\n  }\n` : ''
  }}\n`;

async function assessed(text: string): Promise<readonly [Assessment, Assessment]> {
  const [two, three] = (await checkedIn({ 'a.fettle': text }))['a.fettle']?.builds[0]?.assessments ?? [];
  if (!two || !three) throw new Error('two packs are expected');
  return [two, three];
}

const result = ({ results }: Assessment, name: string) => {
  const estimate = results.get(name)?.estimate;
  if (!estimate) throw new Error(name);
  return { value: estimate.value, plusMinus: expanded(estimate) };
};

const relative = (assessment: Assessment, name: string): number => {
  const { value, plusMinus } = result(assessment, name);
  return plusMinus / value;
};

const [plain, plainOn3S] = await assessed(flying());
const amperes = (assessment: Assessment, name: string, factor = 1) =>
  formatValue(factor * result(assessment, name).value, 'A', 5);

describe('a current observed in hover', () => {
  const AS_PREDICTED = `hover_current: ${amperes(plain, 'hover_current')} +- 4 %`;

  test('and another one that contradicts it leave a ± as wide as they are apart, and are told', async () => {
    const amps = (factor: number) => `hover_current: ${amperes(plain, 'hover_current', factor)} +- 3 %`;
    const two = (factor: number) =>
      flying(amps(1.15)).replace(/}\n$/, `  observed "barn" with Slim480_2S {\n    ${amps(factor)}\n  }\n}\n`);
    const said = async (text: string) =>
      ((await findingsIn({ 'a.fettle': text }))['a.fettle'] ?? []).filter(({ id }) => id === 'observed-disagrees');
    const [agreeing] = await assessed(two(1.16));
    const [contradicting] = await assessed(two(0.8));
    expect(await said(two(1.16))).toEqual([]);
    expect(relative(agreeing, 'hover_current')).toBeLessThan(0.06);
    const told = (await said(two(0.8))).map(({ severity, message }) => `${severity}: ${message}`);
    expect(told).toEqual([expect.stringMatching(/^warning: .*contradict each other/)]);
    const { value, plusMinus } = result(contradicting, 'hover_current');
    const { value: predicted } = result(plain, 'hover_current');
    expect(value - plusMinus).toBeLessThan(0.85 * predicted);
    expect(value + plusMinus).toBeGreaterThan(1.1 * predicted);
  });

  test('leaves a value that it agrees with, and narrows its ±, but not below what one flight is worth', async () => {
    const [two] = await assessed(flying(AS_PREDICTED));
    expect(result(two, 'hover_current').value / result(plain, 'hover_current').value).toBeCloseTo(1, 3);
    expect(relative(plain, 'hover_current')).toBeGreaterThan(0.25);
    // ±4 % of the instrument and ±5 % between two flights.
    expect(relative(two, 'hover_current')).toBeLessThan(0.07);
    expect(relative(two, 'hover_current')).toBeGreaterThan(0.06);
  });

  test('is worth what its own ± is', async () => {
    const widths = await Promise.all(
      ['2 %', '10 %', '20 %'].map(async (width) => {
        const [two] = await assessed(flying(AS_PREDICTED.replace('4 %', width)));
        return relative(two, 'hover_current');
      }),
    );
    expect(widths).toEqual(widths.toSorted((a, b) => a - b));
    const prior = relative(plain, 'hover_current');
    for (const [i, own] of [0.02, 0.1, 0.2].entries()) {
      // Two independent witnesses: the inverse squares of their ± add up.
      const line = Math.hypot(own, 0.05);
      const both = 1 / Math.hypot(1 / prior, 1 / line);
      expect(widths[i]).toBeGreaterThan(both);
      // The air and the weight stay as unsure as they are.
      expect(widths[i]).toBeLessThan(Math.hypot(both, 0.03));
    }
  });

  test('moves the value nearly all of the way, and the minutes with it', async () => {
    const factor = 1.2;
    const [two] = await assessed(flying(`hover_current: ${amperes(plain, 'hover_current', factor)} +- 4 %`));
    const moved = result(two, 'hover_current').value / result(plain, 'hover_current').value;
    expect(moved).toBeGreaterThan(1.15);
    expect(moved).toBeLessThan(factor);
    // Charge over current.
    const minutes = result(two, 'hover_time').value / result(plain, 'hover_time').value;
    expect(minutes * moved).toBeCloseTo(1, 1);
    expect(relative(two, 'hover_time')).toBeLessThan(0.5 * relative(plain, 'hover_time'));
    expect(result(two, 'all_up_weight').value).toBe(result(plain, 'all_up_weight').value);
  });

  test('teaches the other pack too, and their difference', async () => {
    const [two, three] = await assessed(flying(`hover_current: ${amperes(plain, 'hover_current', 1.2)} +- 4 %`));
    expect(result(three, 'hover_current').value).toBeGreaterThan(1.08 * result(plainOn3S, 'hover_current').value);
    expect(relative(three, 'hover_current')).toBeLessThan(0.6 * relative(plainOn3S, 'hover_current'));
    expect(relative(three, 'hover_current')).toBeGreaterThan(relative(two, 'hover_current'));
    const apart = difference('hover_current', three, two);
    const before = difference('hover_current', plainOn3S, plain);
    if (!apart || !before) throw new Error('no difference');
    expect(expanded(apart)).toBeLessThan(expanded(before));
    expect(expanded(apart)).toBeGreaterThan(0);
  });

  test('says so: the observation by its title, what a figure was before', async () => {
    const [two] = await assessed(flying(AS_PREDICTED));
    expect(two.learnt?.from).toEqual(['old granary']);
    const derivation = derivationOf('hover_duty', two);
    expect(derivation?.calibratedBy).toEqual(['old granary']);
    const because = (symbol: string) => derivation?.terms.find((term) => term.symbol === symbol)?.because;
    expect(because('C_P')).toMatch(/before it was observed$/);
    expect(because('D') ?? '').not.toContain('before');
  });

  test('that disagrees is a finding and teaches nothing', async () => {
    const text = flying('hover_current: 19 A');
    const [two] = await assessed(text);
    expect(two.learnt).toBeUndefined();
    expect(result(two, 'hover_time')).toEqual(result(plain, 'hover_time'));
    const ids = (await findingsIn({ 'a.fettle': text }))['a.fettle']?.map(({ id }) => id);
    expect(ids).toContain('observed-disagrees');
  });
});

describe('a burst observed', () => {
  test('takes the place of the model’s own term at full duty', async () => {
    const [two, three] = await assessed(
      flying(`burst_current: ${amperes(plain, 'full_current')} +- 5 %`, 'burst_voltage: 6.9 V'),
    );
    expect(relative(plain, 'full_current')).toBeGreaterThan(0.2);
    expect(relative(two, 'full_current')).toBeLessThan(0.08);
    expect(relative(two, 'full_current')).toBeGreaterThan(0.06);
    expect(relative(two, 'thrust_to_weight')).toBeLessThan(relative(plain, 'thrust_to_weight'));
    // C_T was not observed: thrust stays less sure than the current is.
    expect(relative(two, 'thrust_to_weight')).toBeGreaterThan(relative(two, 'full_current'));
    expect(relative(three, 'full_current')).toBeLessThan(0.7 * relative(plainOn3S, 'full_current'));
  });

  test('and a hover together bring the figures to what one logged flight is worth', async () => {
    const [two] = await assessed(
      flying(
        `hover_current: ${amperes(plain, 'hover_current', 0.95)}`,
        `burst_current: ${amperes(plain, 'full_current', 1.08)}`,
      ),
    );
    expect(relative(two, 'hover_time')).toBeLessThan(0.13);
    expect(relative(two, 'full_current')).toBeLessThan(0.085);
  });

  test('in whatever order its lines stand', async () => {
    const lines = [
      `hover_current: ${amperes(plain, 'hover_current', 0.95)}`,
      `burst_current: ${amperes(plain, 'full_current', 1.08)}`,
      'rested: 7.5 V',
      'put_back: 251 mAh',
    ];
    const [forth] = await assessed(flying(...lines));
    const [back] = await assessed(flying(...lines.toReversed()));
    for (const name of ['hover_time', 'full_current', 'thrust_to_weight']) {
      expect(result(back, name).value / result(forth, name).value).toBeCloseTo(1, 9);
      expect(result(back, name).plusMinus / result(forth, name).plusMinus).toBeCloseTo(1, 9);
    }
  });
});

describe('whatever was observed', () => {
  test('values stay numbers, and no ± grows', async () => {
    const random = randomNumbers(11);
    const near = (name: string, unit: string) =>
      `${formatValue(result(plain, name).value * (0.55 + 0.9 * random()), unit, 4)}`;
    for (let flight = 0; flight < 12; flight++) {
      const [two, three] = await assessed(
        flying(
          `hover_current: ${near('hover_current', 'A')}`,
          `hover_output: ${near('hover_duty', '%')}`,
          `hover_speed: ${near('hover_speed', 'rpm')}`,
          `burst_current: ${near('full_current', 'A')}`,
          `burst_voltage: ${near('full_voltage', 'V')}`,
          `cell_resistance: ${(9 + 10 * random()).toFixed(1)} mohm`,
        ),
      );
      for (const assessment of [two, three]) {
        expect(assessment.results.size).toBe(plain.results.size);
        for (const { name, estimate } of assessment.results.values()) {
          expect(Number.isFinite(estimate.value) && Number.isFinite(expanded(estimate)), name).toBe(true);
        }
      }
      expect(relative(two, 'hover_current')).toBeLessThan(1.05 * relative(plain, 'hover_current'));
    }
  });
});

describe('the voltage after landing', () => {
  // 251 of 480 mAh out leave 48 %: 3.83 V a cell rested.
  test('agrees with the charge put back', async () => {
    const text = flying('put_back: 251 mAh', 'rested: 7.67 V');
    expect((await findingsIn({ 'a.fettle': text }))['a.fettle']?.map(({ id }) => id)).not.toContain(
      'observed-disagrees',
    );
    const [two] = await assessed(text);
    expect(two.learnt?.from).toEqual(['old granary']);
  });

  test('too low for it says that the pack holds less than its label', async () => {
    const found = await findingsIn({ 'a.fettle': flying('put_back: 251 mAh', 'rested: 7.2 V') });
    const [finding] = found['a.fettle']?.filter(({ id }) => id === 'observed-disagrees') ?? [];
    expect(finding?.message).toMatch(
      /resting voltage after landing 7.2 V; predicted: 7.6\d ± [\d.]+ V.*less charge than its label/,
    );
  });
});

describe('against drawing all figures at random and keeping what fits the observation (Bayes)', () => {
  const DRAWS = 1500;
  const NAMES = ['hover_current', 'hover_time', 'full_current', 'thrust_to_weight'];

  test('values and ± agree', async () => {
    const observed = 1.12 * result(plain, 'hover_current').value;
    const [two] = await assessed(flying(`hover_current: ${observed.toFixed(5)} A +- 8 %`));
    // k = 2: the instrument, and two flights of one craft.
    const error = (observed * Math.hypot(0.08, 0.05)) / 2;

    const { build, option, inputs } = plain;
    const { template } = setupTemplate(build, option, inputs.find(({ id }) => id === 'model.part_duty') as Figure);
    const measures = measuresOf(build).filter(({ name }) => NAMES.includes(name));
    const random = randomNumbers(4);
    const sums = new Map(NAMES.map((name) => [name, { value: 0, square: 0 }]));
    let weights = 0;
    for (let draw = 0; draw < DRAWS; draw++) {
      const shifts = new Map(inputs.map(({ id, standardUncertainty: u }) => [id, u * normal(random)]));
      const evaluation = evaluate(fill<Setup>(template, withShifts(shifts)).filled);
      const values = new Map(measures.map(({ name, of }) => [name, of(evaluation)]));
      const current = values.get('hover_current');
      // Far out in the tails a resistance comes out below zero.
      if (current === undefined || ![...values.values()].every(Number.isFinite)) continue;
      const weight = Math.exp(-(((current - observed) / error) ** 2) / 2);
      weights += weight;
      for (const [name, value = 0] of values) {
        const sum = sums.get(name);
        if (!sum) continue;
        sum.value += weight * value;
        sum.square += weight * value ** 2;
      }
    }
    for (const [name, { value, square }] of sums) {
      const mean = value / weights;
      const deviation = Math.sqrt(square / weights - mean ** 2);
      const found = result(two, name);
      expect(Math.abs(found.value - mean), name).toBeLessThan(0.3 * deviation);
      expect(found.plusMinus / 2 / deviation, name).toBeGreaterThan(0.8);
      expect(found.plusMinus / 2 / deviation, name).toBeLessThan(1.3);
    }
  });
});
