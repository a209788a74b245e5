import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { unitNamed } from '../../packages/language/src/units/parse.ts';
import {
  formatDifference,
  formatEnd,
  formatHundredths,
  formatNumber,
  formatPair,
  formatPlusMinus,
  formatShare,
  formatShares,
  formatValue,
  formatWithin,
  joinedPair,
  plainNumber,
  printedValue,
  stepsOf,
} from '../../packages/language/src/units/print.ts';
import { UNITS } from '../../packages/language/src/units/table.ts';

describe('values', () => {
  it.each([
    [98.4, 'g', '98.4 g'],
    [98, 'mohm', '98 mohm'],
    [10_512, 'rpm/V', '10512 rpm/V'],
    [0.66, '', '0.66'],
    [66.04, '%', '66 %'],
    [2, 'S', '2S'],
    [75, 'C', '75C'],
    [4.6, 'min', '4 min 36 s'],
    [5, 'min', '5 min'],
    [59.9999 / 60, 'min', '60 s'],
    [0.5, 'min', '30 s'],
    [9.8, 'EUR', '9.80 EUR'],
    [-5, 'degC', '-5 degC'],
    [0, 'A', '0 A'],
    [0.000_000_04, 'A', '4.00e-8 A'],
    [1_234_567, 'g', '1234567 g'],
    [123_456_789, 'g', '1.23e8 g'],
    [1e300, 'A', '1e300 A'],
    [Number.NaN, 'A', 'unknown'],
    [20, 'AWG', '20 AWG'],
  ])('%d %s', (value, unit, text) => {
    expect(formatValue(unit === '' ? value : unitNamed(unit).toSI(value), unit)).toBe(text);
  });
});

describe('two values', () => {
  it.each([
    { from: 270, to: 330, unit: 'min', text: '4 min 30 s to 5 min 30 s' },
    { from: 240, to: 300, unit: 'min', text: '4 to 5 min' },
    { from: 240, to: 240, unit: 'min', text: '4 min' },
    { from: 48, to: 60, unit: 'min', text: '48 s to 1 min' },
    { from: 1.2, to: 2, unit: 'A', text: '1.2 to 2 A' },
    { from: 2, to: 4, unit: 'S', text: '2 to 4S' },
  ])('$text have their unit once where it is the same', ({ from, to, unit, text }) => {
    expect(joinedPair(printedValue(from, unit), 'to', printedValue(to, unit))).toBe(text);
  });

  it('of shares what cannot be counted keeps its words', () => {
    expect(formatShares(0.12, 0.45)).toBe('12 → 45 %');
    expect(formatShares(1e9, 0.45)).toBe('a multiple → 45 %');
    expect(formatShares(0.451, 0.449)).toBe('45 %');
  });

  it.each([
    { unit: 'g', one: 0.1, other: 0.088, text: '12.0 g' },
    { unit: 'min', one: 200, other: 310, text: '110 s' },
    { unit: 'min', one: 310, other: 100, text: '3 min 30 s' },
  ])('are $text apart, whichever is larger', ({ unit, one, other, text }) => {
    const steps = stepsOf(unit, [{ value: other - one, halfWidth: 0 }]);
    expect([steps.apart(one, other), steps.apart(other, one)]).toEqual([text, text]);
  });
});

describe('values with their ±', () => {
  it.each([
    [98.43, 1.92, 'g', '98.4 ± 1.9 g'],
    [4.63, 0.51, 'min', '4.6 ± 0.5 min'],
    [12_400, 372, 'rpm/V', '12400 ± 400 rpm/V'],
    [28_537, 1234, 'rpm', '28500 ± 1200 rpm'],
    [98, 39, 'mohm', '98 (66 to 146) mohm'],
    [75, 38, 'A', '75 (45 to 124) A'],
    [98, 20, 'mohm', '98 ± 20 mohm'],
    [1.234e8, 1.23e7, 'g', '1.23e8 ± 1.2e7 g'],
    [23.7, 8.9, 'A', '24 (16 to 35) A'],
    [-23.7, 8.9, 'A', '-24 ± 9 A'],
    [0.08, 0.5, 'A', '0.08 ± 0.50 A'],
    [6.9, 3.2, 'min', '6.9 (4.3 to 11.0) min'],
    [0.62, 0.138, 'A', '0.62 ± 0.14 A'],
    [7.612, 0.118, 'V', '7.61 ± 0.12 V'],
    [99.96, 0.996, 'g', '100.0 ± 1.0 g'],
    [20, 2, 'degC', '20.0 ± 2.0 degC'],
    [66, 0, '%', '66 %'],
    [66, Number.NaN, '%', '66 %'],
    [3.4, 0.02, 'g', '3.400 ± 0.020 g'],
  ])('%d ± %d %s', (value, halfWidth, unit, text) => {
    const known = unitNamed(unit);
    expect(formatPlusMinus(known.toSI(value), halfWidth * (known.scale ?? 1), unit)).toBe(text);
  });

  it('prints every finite number without an exception, NaN or infinity', () => {
    const anyUnit = fc.constantFrom(...UNITS.map((unit) => unit.name));
    const anyNumber = fc.double({ noNaN: true, noDefaultInfinity: true, min: -1e15, max: 1e15 });
    fc.assert(
      fc.property(anyUnit, anyNumber, anyNumber, (unit, value, halfWidth) => {
        expect(formatPlusMinus(value, halfWidth, unit)).not.toMatch(/NaN|Infinity|undefined/);
      }),
    );
  });

  it('keeps the value inside what it shows: rounding moves it by less than half the ±', () => {
    const number = fc.double({ min: 1e-3, max: 1e6, noNaN: true });
    const share = fc.double({ min: 1e-4, max: 0.9, noNaN: true });
    fc.assert(
      fc.property(number, share, (value, relative) => {
        const shown = Number.parseFloat(formatPlusMinus(value, value * relative, 'A'));
        expect(Math.abs(shown - value)).toBeLessThanOrEqual(0.5 * value * relative * (1 + 1e-9));
      }),
    );
  });
});

describe('a difference alone', () => {
  it.each([
    [0.44, 'degC', '0.44 K'],
    [101, 'min', '101 s'],
    [-101, 'min', '-101 s'],
    [130, 'min', '2 min 10 s'],
    [0.002, 'g', '2 g'],
  ])('%s in %s: %s', (si, unit, printed) => {
    expect(formatDifference(si, unit)).toBe(printed);
  });
});

describe('the safe end of a value to fly by', () => {
  it.each([
    [6.8 * 60, 0.6 * 60, 'min', 'lower', '6.2 min'],
    [3.66, 0.03, 'V', 'upper', '3.69 V'],
    // Rounded away from danger, never towards it.
    [3.661, 0.034, 'V', 'upper', '3.70 V'],
    [6.84 * 60, 0.66 * 60, 'min', 'lower', '6.1 min'],
    [4.53, 0.21, '1', 'lower', '4.32'],
    [0.5, 2, '1', 'lower', '0.0'],
    [0.2603, 0, 'g', 'upper', '260 g'],
  ] as const)('of %d ± %d %s the %s one is %s', (value, halfWidth, unit, end, text) => {
    expect(formatEnd(value, halfWidth, unit, end)).toBe(text);
  });
});

describe('numbers of absurd size', () => {
  /** As nobody writes them: `1e+308`, or more digits before the point than a person counts. */
  const UNREAD = /e\+|NaN|Infinity|undefined|\d{17}/;
  const anyUnit = fc.constantFrom(...UNITS.map((unit) => unit.name));
  const anyNumber = fc.oneof(
    fc.double({ noNaN: true }),
    fc.double({ noNaN: true, min: -1e7, max: 1e7 }),
    fc.constantFrom(0, 1e7, 1e15, 1e16, 1e21, 1e22, 1e300, 1e308, Number.MAX_VALUE, -1e308, 5e-324),
  );

  it('are printed by their size, by every way of printing', () => {
    fc.assert(
      fc.property(anyUnit, anyNumber, anyNumber, anyNumber, (unit, value, other, halfWidth) => {
        const steps = stepsOf(unit, [{ value: other, halfWidth }]);
        const printed = [
          formatValue(value, unit),
          formatPlusMinus(value, halfWidth, unit),
          formatWithin(value, halfWidth, unit),
          formatEnd(value, halfWidth, unit, 'lower'),
          formatEnd(value, halfWidth, unit, 'upper'),
          formatPair(value, other, unit),
          steps.level(value, halfWidth),
          steps.pair(value, other),
          steps.difference(value, other, halfWidth),
          formatNumber(value),
          formatShare(value),
          formatShares(value, other),
          ...(Number.isFinite(value) ? [formatHundredths(value), plainNumber(value)] : []),
        ];
        expect(printed.filter((text) => UNREAD.test(text.replace(/(?<=\.)\d+/g, '')))).toEqual([]);
      }),
      { seed: 47, numRuns: 20_000 },
    );
  });

  it.each([
    [1.12, '112 %'],
    [0.004, '0 %'],
    [99_000, '9900000 %'],
    [1e300, 'a multiple'],
    [Number.POSITIVE_INFINITY, 'a multiple'],
  ])('a share of %d reads %s', (share, text) => {
    expect(formatShare(share)).toBe(text);
  });
});
