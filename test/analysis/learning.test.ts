/** What an observed flight teaches a build: a text in, moved values and a narrower ± out. The laws are in `test/simulated`. */

import { describe, expect, test } from 'vitest';
import { templateOf } from '../../packages/language/src/analysis/assess.ts';
import { evaluate } from '../../packages/language/src/analysis/evaluate/evaluation.ts';
import { derivationOf } from '../../packages/language/src/analysis/explain/derivation.ts';
import { beforeLearning, measuredOf } from '../../packages/language/src/analysis/learn/learn.ts';
import { resultMeasures } from '../../packages/language/src/analysis/results/all-results.ts';
import type { Setup } from '../../packages/language/src/analysis/setup/setup.ts';
import { fill, withDeviations } from '../../packages/language/src/analysis/setup/template.ts';
import { difference, expanded } from '../../packages/language/src/analysis/uncertainty/estimate.ts';
import { EXAMPLE_CRAFT } from '../../packages/language/src/checks/example-craft.ts';
import { formatValue } from '../../packages/language/src/units/print.ts';
import type { ResultId } from '../../packages/language/src/vocabulary/results.ts';
import { assessedIn, findingsIn } from '../checks/findings-in.ts';
import { cases } from '../long.ts';
import { normal, randomNumbers } from '../seeded.ts';
import { amperes, assessed, flying, plain, plainOn3S, relative, result } from './learning-craft.ts';

describe('a current observed in hover', () => {
  const AS_PREDICTED = `hover_current: ${amperes(plain, 'hover_current')} at 60 % +- 4 %`;

  test('leaves a value that it agrees with, and narrows its ±, but not below what one reading is worth', async () => {
    const [two] = await assessed(flying(AS_PREDICTED));
    // Coefficients change a little over speed where something is known of it.
    expect(result(two, 'hover_current').value / result(plain, 'hover_current').value).toBeCloseTo(1, 2);
    expect(relative(plain, 'hover_current')).toBeGreaterThan(0.25);
    expect(relative(two, 'hover_current')).toBeLessThan(0.06);
    expect(relative(two, 'hover_current')).toBeGreaterThan(0.04);
  });

  test('is worth what its own ± is', async () => {
    const widths = await Promise.all(
      ['2 %', '8 %', '20 %'].map(async (width) => {
        const [two] = await assessed(flying(AS_PREDICTED.replace('+- 4 %', `+- ${width}`)));
        return relative(two, 'hover_current');
      }),
    );
    expect(widths).toEqual(widths.toSorted((a, b) => a - b));
    const prior = relative(plain, 'hover_current');
    // Beyond what recorders usually are off a stated ± is that of the reading itself.
    for (const [i, own] of [0.02, 0.08].entries()) {
      // Two independent witnesses: the inverse squares of their ± add up.
      const both = 1 / Math.hypot(1 / prior, 1 / Math.hypot(own, 0.02));
      expect(widths[i]).toBeGreaterThan(0.97 * both);
      // The air and the weight stay as unsure as they are.
      expect(widths[i]).toBeLessThan(Math.hypot(both, 0.05));
    }
  });

  test('moves the value nearly all of the way, and the minutes with it', async () => {
    const factor = 1.2;
    const [two] = await assessed(flying(`hover_current: ${amperes(plain, 'hover_current', factor)} at 60 % +- 4 %`));
    const moved = result(two, 'hover_current').value / result(plain, 'hover_current').value;
    expect(moved).toBeGreaterThan(1.15);
    expect(moved).toBeLessThan(factor);
    // Charge over current.
    const minutes = result(two, 'hover_time').value / result(plain, 'hover_time').value;
    expect(minutes * moved).toBeCloseTo(1, 1);
    expect(relative(two, 'hover_time')).toBeLessThan(0.5 * relative(plain, 'hover_time'));
    // It was weighed: what it takes states nothing of what it weighs.
    expect(result(two, 'all_up_weight').value).toBeCloseTo(result(plain, 'all_up_weight').value, 5);
  });

  test('teaches the other pack too, and their difference', async () => {
    const [two, three] = await assessed(
      flying(`hover_current: ${amperes(plain, 'hover_current', 1.2)} at 60 % +- 4 %`),
    );
    expect(result(three, 'hover_current').value).toBeGreaterThan(1.08 * result(plainOn3S, 'hover_current').value);
    expect(relative(three, 'hover_current')).toBeLessThan(0.6 * relative(plainOn3S, 'hover_current'));
    expect(relative(three, 'hover_current')).toBeGreaterThan(relative(two, 'hover_current'));
    const apart = difference('hover_current', three, two);
    const before = difference('hover_current', plainOn3S, plain);
    if (!apart || !before) throw new Error('no difference');
    expect(expanded(apart)).toBeLessThan(expanded(before));
    expect(expanded(apart)).toBeGreaterThan(0);
  });

  test('reports it: the observation by its title, what a figure was before', async () => {
    const [two] = await assessed(flying(AS_PREDICTED));
    expect(two.learnt?.from).toEqual(['old granary']);
    const derivation = derivationOf('hover_duty', two);
    expect(derivation?.calibration).toMatchObject({ sources: [{ title: 'old granary' }] });
    expect(derivation?.calibration?.contradiction).toBeUndefined();
    const because = (symbol: string) => derivation?.terms.find((term) => term.symbol === symbol)?.because;
    expect(because('C_P0')).toMatch(/before it was observed$/);
    expect(because('D') ?? '').not.toContain('before');
  });

  test('that is far off what the figures of the parts make it moves the results, and is reported as that: there is no cliff', async () => {
    const text = flying('hover_current: 9.8 A at 60 %');
    const [two] = await assessed(text);
    expect(result(two, 'hover_time').value).toBeLessThan(0.6 * result(plain, 'hover_time').value);
    const ids = (await findingsIn({ 'a.fettle': text }))['a.fettle']?.map(({ id }) => id);
    expect(ids).toContain('estimate-gives-way');
    expect(ids).not.toContain('observed-disagrees');
  });

  test('states what the result was before, and which lines taught it', async () => {
    const [two] = await assessed(
      flying(AS_PREDICTED, `burst_voltage: ${formatValue(result(plain, 'full_voltage').value, 'V', 5)}`),
    );
    const taught = derivationOf('hover_time', two)?.taught;
    expect(taught?.before.value).toBeCloseTo(result(plain, 'hover_time').value, 6);
    expect(taught?.by.map(({ line }) => line.reading)).toEqual(['hover_current']);
    expect(taught?.by[0]?.share).toBeGreaterThan(0.5);
  });
});

describe('a burst observed', () => {
  test('takes the place of the model’s own term at full duty', async () => {
    const [two, three] = await assessed(
      flying(
        `burst_current: ${amperes(plain, 'full_current')} +- 5 %`,
        `burst_voltage: ${formatValue(result(plain, 'full_voltage').value, 'V', 5)}`,
      ),
    );
    expect(relative(plain, 'full_current')).toBeGreaterThan(0.2);
    expect(relative(two, 'full_current')).toBeLessThan(0.11);
    expect(relative(two, 'full_current')).toBeGreaterThan(0.05);
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
    // The recorder's amperes alone, ±10 %, are in both.
    expect(relative(two, 'hover_time')).toBeLessThan(0.16);
    expect(relative(two, 'full_current')).toBeLessThan(0.13);
  });

  test('of which the speed alone was read, at the duty that it states', async () => {
    const [, , limited] =
      (
        await assessedIn({
          'a.fettle': flying().replace('duty 80 %\n', 'duty 80 %\n  pack: Mast900_4S duty 60 % as Gentle\n'),
        })
      )['a.fettle']?.[0]?.assessments ?? [];
    if (!limited) throw new Error('three packs are expected');
    const line = `burst_speed: ${formatValue(result(limited, 'full_speed').value, 'rpm', 5)} at 60 %`;
    const [two] = await assessed(flying(line));
    expect(result(two, 'full_speed').value / result(plain, 'full_speed').value).toBeCloseTo(1, 2);
    const ids = (await findingsIn({ 'a.fettle': flying(line) }))['a.fettle']?.map(({ id }) => id);
    expect(ids).not.toContain('observed-disagrees');
    expect(ids).not.toContain('estimate-gives-way');
  });

  test('in whatever order its lines are', async () => {
    const lines = [
      `hover_current: ${amperes(plain, 'hover_current', 0.95)}`,
      `burst_current: ${amperes(plain, 'full_current', 1.08)}`,
      'rested: 15.1 V',
      'put_back: 471 mAh',
    ];
    const [forth] = await assessed(flying(...lines));
    const [back] = await assessed(flying(...lines.toReversed()));
    for (const name of ['hover_time', 'full_current', 'thrust_to_weight'] as const) {
      expect(result(back, name).value / result(forth, name).value).toBeCloseTo(1, 9);
      expect(result(back, name).plusMinus / result(forth, name).plusMinus).toBeCloseTo(1, 9);
    }
  });
});

describe('the same again', () => {
  test('costs nothing where an edit elsewhere makes new objects, and follows one that matters', async () => {
    const lines = `hover_current: ${amperes(plain, 'hover_current', 1.2)} at 60 %`;
    const [one] = await assessed(flying(lines));
    const [again] = await assessed(`// a word\n${flying(lines)}`);
    // The very numbers of the first fit.
    expect(again.learnt?.deviations).toBe(one.learnt?.deviations);
    expect(again.learnt?.lines[0]?.place.start).toBe((one.learnt?.lines[0]?.place.start ?? 0) + 10);
    const [other] = await assessed(flying(`${lines} +- 8 %`));
    expect(other.learnt?.deviations).not.toBe(one.learnt?.deviations);
  });
});

describe('whatever was observed', () => {
  test('values stay numbers, and no ± grows but where readings contradict each other', async () => {
    const random = randomNumbers(11);
    const near = (name: ResultId, unit: string) =>
      `${formatValue(result(plain, name).value * (0.55 + 0.9 * random()), unit, 4)}`;
    for (let flight = 0; flight < cases(4, 12); flight++) {
      const [two, three] = await assessed(
        flying(
          `hover_current: ${near('hover_current', 'A')}`,
          `hover_output: ${near('hover_duty', '%')}`,
          `hover_speed: ${near('hover_speed', 'rpm')}`,
          `burst_current: ${near('full_current', 'A')}`,
          `burst_voltage: ${near('full_voltage', 'V')}`,
          `cell_resistance: ${(7 + 5 * random()).toFixed(1)} mohm`,
        ),
      );
      for (const assessment of [two, three]) {
        expect(assessment.results.size).toBe(plain.results.size);
        for (const { name, estimate } of assessment.results.values()) {
          expect(Number.isFinite(estimate.value) && Number.isFinite(expanded(estimate)), name).toBe(true);
        }
      }
      if (!two.learnt?.doubts.length)
        expect(relative(two, 'hover_current')).toBeLessThan(1.05 * relative(plain, 'hover_current'));
    }
  });
});

describe('two readings of one pack', () => {
  test.each(['2027', '2031', '2062', '2099'])(
    'the later in %s: a mistyped year contradicts no figure',
    async (year) => {
      const shown = (on: string, value: string) =>
        `observed "charge of ${on}" with Mast900_4S {\n on: ${on}-03-12\n cell_resistance: ${value} at 20 degC\n}`;
      const text = EXAMPLE_CRAFT.replace(/\}\s*$/, `${shown('2026', '12 mohm')}\n${shown(year, '12.6 mohm')}\n}`);
      const found = (await findingsIn({ 'a.fettle': text }))['a.fettle']?.map(({ id }) => id) ?? [];
      expect(found.filter((id) => id !== 'estimates')).toEqual([]);
    },
  );
});

describe('the voltage after landing', () => {
  // 471 of 900 mAh out leave 48 %: 3.83 V per cell rested.
  test('agrees with the charge put back', async () => {
    const text = flying('put_back: 471 mAh', 'rested: 15.34 V');
    expect((await findingsIn({ 'a.fettle': text }))['a.fettle']?.map(({ id }) => id)).not.toContain(
      'observed-disagrees',
    );
    const [two] = await assessed(text);
    expect(two.learnt?.from).toEqual(['old granary']);
  });

  test('too low for it is reported', async () => {
    const found = await findingsIn({ 'a.fettle': flying('put_back: 471 mAh', 'rested: 14.4 V') });
    const [finding] = found['a.fettle']?.filter(({ id }) => id === 'observed-disagrees') ?? [];
    expect(finding?.message).toMatch(
      /resting voltage after landing 14.4 V.*makes it 15\.\d+ ± [\d.]+ V.*less charge than its label/,
    );
  });
});

describe('against drawing all figures at random and keeping what fits the observation (Bayes)', () => {
  const DRAWS = cases(1000, 3000);
  const NAMES: readonly ResultId[] = ['hover_current', 'hover_time', 'full_current', 'thrust_to_weight'];

  test('values and ± agree', async () => {
    const observed = 1.12 * result(plain, 'hover_current').value;
    const [two] = await assessed(flying(`hover_current: ${observed.toFixed(5)} A at 60 % +- 8 %`));
    const { build, option, inputs, learnt } = two;
    const [scene] = measuredOf(build, templateOf).scenes;
    const [line] = scene?.lines ?? [];
    if (!learnt || !scene || !line) throw new Error('nothing learnt');

    const ids = new Set([...inputs, ...learnt.figures].map(({ id }) => id));
    const { template } = templateOf(beforeLearning(build), option);
    const measures = resultMeasures(build).filter(({ name }) => NAMES.includes(name));
    const random = randomNumbers(4);
    const sums = new Map(NAMES.map((name) => [name, { value: 0, square: 0 }]));
    let weights = 0;
    for (let draw = 0; draw < DRAWS; draw++) {
      const drawn = new Map([...ids].map((id) => [id, normal(random)]));
      const predicted = scene.linearise(drawn, false)[0]?.value;
      const evaluation = evaluate(fill<Setup>(template, withDeviations(drawn)).filled);
      const values = new Map(measures.map(({ name, of }) => [name, of(evaluation)]));
      if (predicted === undefined || ![...values.values()].every(Number.isFinite)) continue;
      const weight = Math.exp(-((Math.log(predicted / observed) / line.error) ** 2) / 2);
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
