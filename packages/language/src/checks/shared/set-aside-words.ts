/** What was measured and cannot be, in words: which reading, what would be right, and the likeliest slip. */
import { readingPlusMinus } from '../../analysis/learn/scene.ts';
import type { SetAside } from '../../analysis/learn/set-aside.ts';
import { formatMeasurable } from '../../analysis/uncertainty/print-estimate.ts';
import { listed } from '../../vocabulary/phrasing.ts';
import { formatExact } from './finding-numbers.ts';

/** Three sentences: what is set aside, what it should be about, what slip makes it so. @param rows all of the stand that are, in one message */
export function setAsideWords(one: SetAside, rows: readonly number[] = []): string {
  const { line, expected, deviation, least } = one;
  const { label, value, unit } = line;
  const plusMinus = readingPlusMinus(line, deviation, expected);
  const should = `by the figures of the parts it is ${formatMeasurable({ value: expected, plusMinus }, unit)}`;
  const bound =
    least === undefined
      ? ''
      : `; moving the air takes ${formatExact(least, unit)} at the very least, with so much weight`;
  return `${headOf(one, rows)} set aside, and nothing is learnt from ${one.what === 'line' || one.what === 'log' ? 'it' : 'them'}: ${label} is ${formatExact(value, unit)}; ${should}${bound}. ${slipOf(one)} If it is right all the same, a figure of a part is as far out.`;
}

function headOf({ what, line: { from, row, reading } }: SetAside, rows: readonly number[]): string {
  switch (what) {
    case 'line':
      return 'This line is';
    case 'log':
      return 'This log is';
    case 'row':
      return `The readings of ${rows.length > 1 ? `rows ${listed(rows.map(String))}` : `row ${row}`} of ${from} are`;
    case 'column':
      return `The readings of ${reading.replace('hover_', '')} of ${row === undefined ? `“${from}”` : from} are`;
    case 'stand':
      return `The rows of ${from} are`;
  }
}

interface Slip {
  readonly ratio: number;
  readonly words: string;
  /** Units in which it happens. */
  readonly units?: readonly string[];
}

const THOUSANDTH: Readonly<Record<string, string>> = {
  A: 'milliamperes taken for amperes',
  mAh: 'a charge in microampere hours, or a thousand too many',
  V: 'millivolts taken for volts',
  W: 'milliwatts taken for watts',
  g: 'grams taken for kilograms',
  gf: 'grams taken for kilograms',
  mohm: 'milliohms taken for ohms',
};
const THOUSANDFOLD: Readonly<Record<string, string>> = {
  A: 'amperes taken for milliamperes',
  mAh: 'ampere hours taken for milliampere hours',
  V: 'volts taken for millivolts',
  W: 'watts taken for milliwatts',
  g: 'kilograms taken for grams',
  gf: 'kilograms taken for grams',
  mohm: 'ohms taken for milliohms',
};

const slipsOf = (unit: string): readonly Slip[] =>
  [
    { ratio: 10, words: 'It is about ten times that: likely a digit too many.' },
    { ratio: 0.1, words: 'It is about a tenth of that: likely a digit too few.' },
    { ratio: 100, words: 'It is about a hundred times that: likely two digits too many, or a share in per cent.' },
    { ratio: 0.01, words: 'It is about a hundredth of that: likely two digits too few.' },
    {
      ratio: 1000,
      words: `It is about a thousand times that: likely ${THOUSANDTH[unit] ?? 'a unit taken for one of a thousandth'}.`,
    },
    {
      ratio: 1e-3,
      words: `It is about a thousandth of that: likely ${THOUSANDFOLD[unit] ?? 'a unit taken for one a thousand times as large'}.`,
    },
    {
      ratio: 6.5,
      units: ['rpm'],
      words: 'It is six to seven times that: likely electrical turns, which are the rotor’s times its pole pairs.',
    },
    {
      ratio: 60,
      units: ['rpm'],
      words: 'It is about sixty times that: likely turns per minute taken for turns per second.',
    },
    {
      ratio: 1 / 60,
      units: ['rpm'],
      words: 'It is about a sixtieth of that: likely turns per second taken for turns per minute.',
    },
    { ratio: 1 / 28.35, units: ['g', 'gf'], words: 'It is about a 28th of that: likely ounces taken for grams.' },
  ].filter(({ units }: Slip) => !units || units.includes(unit));

/** Of a logarithm: nearer to what a slip makes, or within so many standard deviations of what is not known anyhow. */
const NEAR = 0.3;
const UNKNOWN = 3;

function slipOf({ line: { reading, value, unit, isPlain, isOpen }, what, expected, deviation }: SetAside): string {
  const ratio = Math.log(value / expected);
  if (what === 'log' && reading === 'hover_current' && ratio < 0)
    return 'Likely it was recorded on the ground or with the motors idle, or its amperes are in another unit.';
  if (what === 'stand' && !isOpen)
    return 'Likely one of its columns is another quantity, or it is another motor or propeller.';
  if (isPlain || !Number.isFinite(ratio))
    return 'Likely it is an output that is not the duty, or a share in another unit.';
  if (unit === 'V')
    return ratio < -1 && ratio > Math.log(0.05)
      ? 'Likely these are the volts of one cell.'
      : 'Likely it was another pack, of another number of cells.';
  const off = (slip: Slip) => Math.abs(ratio - Math.log(slip.ratio));
  const [nearest] = [...slipsOf(unit)].sort((a, b) => off(a) - off(b));
  // What a flight takes follows from the time that is stated for it.
  const orTime =
    reading === 'put_back' || reading === 'counted' ? ' Or the time in the air (`airborne`) is mistyped.' : '';
  if (nearest && off(nearest) < Math.max(NEAR, UNKNOWN * deviation)) return `${nearest.words}${orTime}`;
  return 'Likely it is in the wrong column or unit, or it is a reading of something else.';
}
