/** Wherever two values and their difference are printed, the sum is right as printed. Needs the build. */
import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import { formatPair, stepsOf } from '../../packages/language/src/units/print.ts';
import { UNITS } from '../../packages/language/src/units/table.ts';
import { oneIn } from '../long.ts';
import { CRAFT, Repository, runIn } from '../review/repository.ts';

/** In units of 10⁻¹², exactly; minutes and seconds of a clock as seconds. */
function exact(text: string): bigint {
  const clock = /^([+-]?)(?:(\d+) min)?(?: ?(\d+) s)?$/.exec(text);
  if (clock && (clock[2] ?? clock[3]) !== undefined) {
    const seconds = 60n * BigInt(clock[2] ?? 0) + BigInt(clock[3] ?? 0);
    return (clock[1] === '-' ? -seconds : seconds) * 10n ** 12n;
  }
  // Minutes with decimals, too.
  const minutes = /^(\d+)\.(\d)(?: ± [\d.]+)? min$/.exec(text);
  if (minutes) return 6n * 10n ** 12n * (10n * BigInt(minutes[1] ?? 0) + BigInt(minutes[2] ?? 0));
  const [, sign, whole = '0', decimals = ''] = /^([+-]?)(\d+)(?:\.(\d+))?/.exec(text) ?? [];
  const value = BigInt(whole + decimals.padEnd(12, '0'));
  return sign === '-' ? -value : value;
}

const CLOCK = String.raw`[+-]?\d+ min(?: \d+ s)?`;
const NUMBER = String.raw`[+-]?\d+(?:\.\d+)?`;
const VALUE = `(?:${CLOCK}|${NUMBER}(?: s(?![/\\w]))?)`;
/** "91.48 → 103.48 g, +12.00 ± 0.05 g" */
const PAIR = new RegExp(`(${VALUE}) → (${VALUE})[^,|\\n\\d]*, (${VALUE})(?: ± ${VALUE})?`, 'g');

interface Sum {
  readonly reported: string;
  readonly before: string;
  readonly after: string;
  readonly difference: string;
}

function pairsIn(text: string): Sum[] {
  return [...text.matchAll(PAIR)].map(([reported, before = '', after = '', difference = '']) => ({
    reported,
    before,
    after,
    difference,
  }));
}

/** Of a row "label  213.0 ± 0.5 g  221.4 ± 0.5 g  (+8.4 ± 0.5 g *)": each cell with a difference, with the first. */
function rowsIn(text: string): Sum[] {
  return text.split('\n').flatMap((line) => {
    const cells = line
      .split(/\s{3,}| \| /)
      .slice(1)
      .filter((cell) => new RegExp(`^${VALUE}`).test(cell))
      // The ends of a value that is known badly.
      .map((cell) => cell.replace(/ \([^()]* to [^()]*\)/, ''));
    const [first = ''] = cells;
    return cells.slice(1).flatMap((cell): Sum[] => {
      const [, difference] = /\(([+-]?\d[^)±]*?)(?: ±[^)]*)?(?: \\?\*)?\)/.exec(cell) ?? [];
      if (difference === undefined) return [];
      const readIn = (of: string) => new RegExp(`^(?:${NUMBER} (?:± ${NUMBER} )?min\\b|${VALUE})`).exec(of)?.[0] ?? '';
      return [{ reported: line, before: readIn(first), after: readIn(cell), difference: readIn(difference) }];
    });
  });
}

const areRight = (sums: readonly Sum[]): void => {
  for (const { reported, before, after, difference } of sums)
    expect(exact(after) - exact(before), reported).toBe(exact(difference));
};

/** Of the last digit that is printed, in units of 10⁻¹². */
function digitOf(text: string): bigint {
  if (/ min$/.test(text)) return 60n * digitOf(text.replace(/(?: ±.*)? min$/, ''));
  if (/\b(?:min|s)\b/.test(text)) return 10n ** 12n;
  const decimals = /^[+-]?\d+\.(\d+)/.exec(text)?.[1]?.length;
  // Zeros at the end of a large number are no digits of it.
  const zeros = /^[+-]?\d*?(0*)(?!\d)/.exec(text)?.[1]?.length ?? 0;
  return 10n ** BigInt(12 + (decimals === undefined ? zeros : -decimals));
}

/** Levels have the digits of their own ±: where the difference has others, the sum is right as far as the rounding goes. */
const areRightWithinRounding = (sums: readonly Sum[]): void => {
  for (const { reported, before, after, difference } of sums) {
    const digits = [before, after, difference].map(digitOf);
    const left = exact(after) - exact(before) - exact(difference);
    const isAlike = digits.every((digit) => digit === digits[0]);
    const allowed = isAlike ? 0n : digits.reduce((sum, digit) => sum + digit, 0n) / 2n;
    expect(left < 0n ? -left : left, reported).toBeLessThanOrEqual(allowed);
  }
};

/** "98.4 ± 1.9 g" and "4.7 (3.3 to 6.7)": decimals of the value, and of its ± or ends. */
function finerThanTheirPlusMinus(text: string): string[] {
  const decimals = (number: string): number => number.split('.')[1]?.length ?? 0;
  return [...text.matchAll(/(?<![\d.])(\d+(?:\.\d+)?) (?:± (\d+(?:\.\d+)?)|\((\d+(?:\.\d+)?) to (\d+(?:\.\d+)?)\))/g)]
    .filter(([, value = '', ...ends]) => ends.some((end) => end !== undefined && decimals(value) > decimals(end)))
    .map(([reported]) => reported);
}

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

  it('adds up in every unit over all powers of ten, 20000 random ones', () => {
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
      { numRuns: 20_000, seed: 1107 },
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
      { numRuns: 2000, seed: 1107 },
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

const numberIn = (text: string): string => new RegExp(`^${VALUE}`).exec(text)?.[0] ?? '';

describe('every output', () => {
  const examples = mkdtempSync(join(tmpdir(), 'fettle-sums-'));
  cpSync(join(import.meta.dirname, '../../examples'), examples, { recursive: true });
  afterAll(() => rmSync(examples, { recursive: true, force: true }));

  it('of a review is right as it is printed', () => {
    using repository = new Repository(CRAFT);
    repository
      .edit('parts/motors.fettle', 'mass: 12.40 g +- 0.02 g', 'mass: 16.40 g +- 0.02 g')
      .edit('parts/motors.fettle', '3900 rpm/V', '3400 rpm/V')
      .edit('parts/others.fettle', '700 mAh', '1150 mAh')
      .edit('builds/rafter.fettle', 'duty 58 %', 'duty 80 %');
    for (const format of ['text', 'markdown']) {
      const sums = pairsIn(repository.review('--base', 'main', '--format', format).out);
      expect(sums.length).toBeGreaterThan(format === 'text' ? 10 : 40);
      areRight(sums);
    }
  });

  it('has no value with more decimals than its ±', () => {
    const printed = [
      ['compare', 'Rafter', 'Gable', 'Spire'],
      ['compare', 'Spire'],
      ['check', '.'],
      ['sheet', 'Spire'],
      ['sensitivity', 'Spire'],
      ['explain', 'Spire', 'hover_time'],
    ].map((words) => runIn(examples, ...words).out);
    expect(printed.join('').match(/ ± /g)?.length).toBeGreaterThan(300);
    expect(printed.flatMap(finerThanTheirPlusMinus)).toEqual([]);
  });

  it('of a comparison is right as it is printed', () => {
    for (const format of oneIn(2, ['text', 'markdown'])) {
      const sums = ['Rafter', 'Belfry', 'Gable', 'Spire'].flatMap((build) =>
        rowsIn(runIn(examples, 'compare', build, '--format', format).out),
      );
      const across = rowsIn(runIn(examples, 'compare', 'Rafter', 'Gable', 'Spire', '--format', format).out);
      expect(sums.length).toBeGreaterThan(30);
      expect(across.length).toBeGreaterThan(50);
      areRightWithinRounding([...sums, ...across]);
    }
  });
});
