/** Two values and their difference, as they are printed: read, and added up. */
import { expect } from 'vitest';

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

export interface Sum {
  readonly reported: string;
  readonly before: string;
  readonly after: string;
  readonly difference: string;
}

export function pairsIn(text: string): Sum[] {
  return [...text.matchAll(PAIR)].map(([reported, before = '', after = '', difference = '']) => ({
    reported,
    before,
    after,
    difference,
  }));
}

/** Of a row "label  213.0 ± 0.5 g  221.4 ± 0.5 g  (+8.4 ± 0.5 g *)": each cell with a difference, with the first. */
export function rowsIn(text: string): Sum[] {
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

export const areRight = (sums: readonly Sum[]): void => {
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
export const areRightWithinRounding = (sums: readonly Sum[]): void => {
  for (const { reported, before, after, difference } of sums) {
    const digits = [before, after, difference].map(digitOf);
    const left = exact(after) - exact(before) - exact(difference);
    const isAlike = digits.every((digit) => digit === digits[0]);
    const allowed = isAlike ? 0n : digits.reduce((sum, digit) => sum + digit, 0n) / 2n;
    expect(left < 0n ? -left : left, reported).toBeLessThanOrEqual(allowed);
  }
};

/** "98.4 ± 1.9 g" and "4.7 (3.3 to 6.7)": decimals of the value, and of its ± or ends. */
export function finerThanTheirPlusMinus(text: string): string[] {
  const decimals = (number: string): number => number.split('.')[1]?.length ?? 0;
  return [...text.matchAll(/(?<![\d.])(\d+(?:\.\d+)?) (?:± (\d+(?:\.\d+)?)|\((\d+(?:\.\d+)?) to (\d+(?:\.\d+)?)\))/g)]
    .filter(([, value = '', ...ends]) => ends.some((end) => end !== undefined && decimals(value) > decimals(end)))
    .map(([reported]) => reported);
}

export const numberIn = (text: string): string => new RegExp(`^${VALUE}`).exec(text)?.[0] ?? '';
