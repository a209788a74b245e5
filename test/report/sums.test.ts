/** Wherever two values and their difference are printed, the sum is right as printed. Of reviews it is tested in `test/report/review`. */
import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import { sensitivities } from '../../packages/language/src/analysis/decide/sensitivities.ts';
import { assessmentsOn, buildNamed } from '../../packages/language/src/cli/named-builds.ts';
import { comparisonMarkdown, comparisonText } from '../../packages/language/src/report/compare/compare.ts';
import { compared } from '../../packages/language/src/report/compare/compare-data.ts';
import { sensitivityText } from '../../packages/language/src/report/decide/sensitivity-text.ts';
import { explanationText } from '../../packages/language/src/report/present/explanation-text.ts';
import { formatPair, stepsOf } from '../../packages/language/src/units/print.ts';
import { UNITS } from '../../packages/language/src/units/table.ts';
import { cases, oneIn } from '../long.ts';
import { CheckedFolder } from './checked-folder.ts';
import { areRight, areRightWithinRounding, finerThanTheirPlusMinus, numberIn, rowsIn } from './printed-sums.ts';

describe('a value before and after, and their difference', () => {
  it.each([
    [91.48, 103.48, 0, 'g', '91.5 → 103.5 g', '+12.0 g'],
    [91.48, 103.48, 0.05, 'g', '91.48 → 103.48 g', '+12.00 ± 0.05 g'],
    [9.996, 10.004, 0.02, 'A', '9.996 → 10.004 A', '+0.008 ± 0.020 A'],
    [999.6, 1000.4, 0.3, 'g', '999.60 → 1000.40 g', '+0.80 ± 0.30 g'],
    [24_984, 25_486, 150, 'rpm', '24980 → 25490 rpm', '+510 ± 150 rpm'],
    [20, 25.04, 2, 'degC', '20.0 → 25.0 degC', '+5.0 ± 2.0 K'],
    [6.433, 6.1667, 0.1, 'min', '6 min 26 s → 6 min 10 s', '-16 ± 6 s'],
    [0.98, 1.02, 0.01, 'min', '59 s → 1 min 1 s', '+2 ± 0.6 s'],
    [5, 9.2, 0.5, 'min', '5 min → 9 min 12 s', '+4 min 12 s ± 30 s'],
    [1, 1, 0.5, 'g', '1.00 → 1.00 g', '0.00 ± 0.50 g'],
  ])('%d, %d ± %d %s', (before, after, halfWidth, unit, pair, difference) => {
    const scale = unit === 'min' ? 60 : unit === 'g' ? 1e-3 : unit === 'rpm' ? Math.PI / 30 : 1;
    const zero = unit === 'degC' ? 273.15 : 0;
    const [from, to] = [before * scale + zero, after * scale + zero];
    const steps = stepsOf(unit, [{ value: to - from, halfWidth: halfWidth * scale }]);
    expect([steps.pair(from, to), steps.difference(from, to, halfWidth * scale)]).toEqual([pair, difference]);
  });

  const RANDOM = cases(4000, 20_000);
  it(`adds up in every unit over all powers of ten, ${RANDOM} random ones`, () => {
    const units = fc.constantFrom(...UNITS.filter(({ scale }) => scale !== undefined).map(({ name }) => name));
    const magnitude = fc.double({ min: -5, max: 7, noNaN: true });
    const share = fc.double({ min: -1.5, max: 1.5, noNaN: true });
    const width = fc.oneof(fc.constant(0), fc.double({ min: 1e-4, max: 2, noNaN: true }));
    fc.assert(
      fc.property(units, magnitude, share, width, (unit, power, apart, wide) => {
        const before = 10 ** power;
        const after = before * (1 + apart);
        const halfWidth = wide * Math.abs(after - before);
        const steps = stepsOf(unit, [{ value: after - before, halfWidth }]);
        const [reported, more] = [steps.pair(before, after), steps.difference(before, after, halfWidth)];
        expect(`${reported}, ${more}`).not.toMatch(/NaN|Infinity|undefined|unknown/);
        const [from = '', to = ''] = reported.split(' → ');
        const sums = [
          { reported: `${reported}, ${more}`, before: numberIn(from), after: numberIn(to), difference: numberIn(more) },
        ];
        areRight(sums);
      }),
      { numRuns: RANDOM, seed: 1107 },
    );
  });

  it('differs by what it differs, to the last digit that is printed', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-3, max: 1e5, noNaN: true }),
        fc.double({ min: -1e3, max: 1e3, noNaN: true }),
        (from, apart) => {
          fc.pre(Math.abs(apart) > 1e-6);
          const steps = stepsOf('A', [{ value: apart, halfWidth: Math.abs(apart) / 7 }]);
          const shown = Number(/[+-]?[\d.]+/.exec(steps.difference(from, from + apart, 0))?.[0]);
          expect(Math.abs(shown - apart)).toBeLessThan(Math.abs(apart) * 0.11);
        },
      ),
      { numRuns: cases(500, 2000), seed: 1107 },
    );
  });

  it.each([
    [0.09148, 0.10348, 'g', '91 → 103 g'],
    [0.096, 0.0988, 'g', '96.0 → 98.8 g'],
    [5.22, 5.0, '1', '5.22 → 5.00'],
  ])('alone is printed with as many digits as it takes: %d, %d %s', (before, after, unit, reported) => {
    expect(formatPair(before, after, unit)).toBe(reported);
  });
});

describe('every output', () => {
  const craft = new CheckedFolder();
  afterAll(() => craft.remove());

  async function comparisonOf(...names: string[]) {
    const checked = await craft.checked('examples/builds');
    return compared(names.flatMap((name) => assessmentsOn(undefined, buildNamed(name, checked))));
  }

  it('has no value with more decimals than its ±', async () => {
    const checked = await craft.checked('examples/builds');
    const spire = assessmentsOn(undefined, buildNamed('Spire', checked));
    const tables = spire.flatMap(({ build, option, results }) => {
      const level = results.get('hover_time');
      const turns = sensitivities('hover_time', build, option);
      if (!level || !turns) return [];
      const { label, unit, estimate } = level;
      return [
        { build: build.name, pack: option.name, result: 'hover_time', label, unit, level: estimate.value, turns },
      ];
    });
    const printed = [
      comparisonText(await comparisonOf('Rafter', 'Gable', 'Spire')),
      comparisonText(await comparisonOf('Spire')),
      ...(await Promise.all(oneIn(2, ['examples/builds', 'examples']).map((path) => craft.print('text', path)))),
      await craft.sheet('html', 'Spire', 'examples/builds'),
      sensitivityText(tables),
      ...spire.map((assessment) => explanationText('hover_time', assessment, checked) ?? ''),
    ];
    for (const text of printed) expect(text).toMatch(/\d ± \d/);
    expect(printed.join('').match(/ ± /g)?.length).toBeGreaterThan(300);
    expect(printed.flatMap(finerThanTheirPlusMinus)).toEqual([]);
  });

  it('of a comparison is right as it is printed', async () => {
    const print = { text: comparisonText, markdown: comparisonMarkdown };
    for (const format of oneIn(2, ['text', 'markdown'] as const)) {
      const each = await Promise.all(['Rafter', 'Belfry', 'Gable', 'Spire'].map((name) => comparisonOf(name)));
      const sums = each.flatMap((comparison) => rowsIn(print[format](comparison)));
      const across = rowsIn(print[format](await comparisonOf('Rafter', 'Gable', 'Spire')));
      expect(sums.length).toBeGreaterThan(30);
      expect(across.length).toBeGreaterThan(50);
      areRightWithinRounding([...sums, ...across]);
    }
  });
});
