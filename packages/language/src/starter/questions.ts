/**
 * What a first build needs: nine numbers that everyone has at hand. Its name and the number of motors have defaults, and are not prompted for.
 * An answer is what a person types; the vocabulary's units and plausible ranges decide what is taken.
 */
import { isName } from '../grammar/reserved-words.ts';
import { type Bounds, isPlausible, unitsThatFit } from '../model/plausible.ts';
import { NONE } from '../units/dimension.ts';
import { parseUnit, unitNamed } from '../units/parse.ts';
import { joined, type Printed } from '../units/print.ts';
import type { Dimension } from '../units/quantity.ts';
import { didYouMean, either } from '../vocabulary/phrasing.ts';
import { type PropertyName, propertyOf } from '../vocabulary/properties.ts';
import type { BlockKind } from '../vocabulary/schema.ts';

export type QuestionId =
  | 'name'
  | 'motors'
  | 'stator'
  | 'kv'
  | 'propeller'
  | 'blades'
  | 'cells'
  | 'capacity'
  | 'esc'
  | 'video'
  | 'dryMass';

export type Answers = Readonly<Partial<Record<QuestionId, string>>>;

/** What was understood, in the language's own writing and as numbers in the usual unit; or why it was not, in a sentence. */
export type ReadAnswer =
  | {
      readonly written: string;
      /** Number and unit of what is written; none of a name. */
      readonly printed?: Printed;
      readonly numbers: readonly number[];
      readonly problem?: undefined;
    }
  | { readonly problem: string; readonly written?: undefined; readonly printed?: undefined };

export interface Question {
  readonly id: QuestionId;
  /** What is requested, in a few words. */
  readonly asks: string;
  /** One sentence: where to find it. */
  readonly description: string;
  /** What to type, one way or another. */
  readonly examples: readonly [string, ...string[]];
  /** The default: what has one is not prompted for, what has none must be answered. */
  readonly usual?: string;
  /** A default that was taken, as a person reads it: "4 motors". */
  readonly inWords?: (taken: string) => string;
  readonly read: (answer: string) => ReadAnswer;
}

/** `1204, or 12 x 4 mm` */
export const exampleOf = ({ examples }: Pick<Question, 'examples'>): string => examples.join(', or ');

/** Those with a default first, then in the order of the prompts. */
export const QUESTIONS: readonly Question[] = [
  {
    id: 'name',
    asks: 'name of the build',
    description: 'What you call the craft.',
    examples: ['Fledgling'],
    usual: 'First',
    inWords: (taken) => `the name ${taken}`,
    read: readName,
  },
  {
    id: 'motors',
    asks: 'number of motors',
    description: 'How many motors it flies on.',
    examples: ['4'],
    usual: '4',
    inWords: (taken) => `${taken} motors`,
    read: (answer) => counted(answer, [3, 8], 'motors', 'multirotors'),
  },
  {
    id: 'stator',
    asks: 'stator size of a motor',
    description: 'Diameter and height of the stator; the four digits of the motor’s name give them: 1204 is 12 x 4 mm.',
    examples: ['1204', '12 x 4 mm'],
    read: readStator,
  },
  {
    id: 'kv',
    asks: 'kV of a motor',
    description: 'No-load speed per volt, as printed on the motor.',
    examples: ['6000 rpm/V'],
    read: figure('motor', 'kv', 'motors', /^(rpm\/v)?kv$/i),
  },
  {
    id: 'propeller',
    asks: 'diameter of the propellers',
    description: 'From tip to tip, in mm or in.',
    examples: ['63.5 mm', '2.5 in'],
    read: figure('propeller', 'diameter', 'propellers', /^mm$/i),
  },
  {
    id: 'blades',
    asks: 'blades of a propeller',
    description: 'How many blades each has.',
    examples: ['3'],
    read: (answer) => counted(answer, propertyOf('propeller', 'blades').plausible ?? [1, 12], 'blades', 'propellers'),
  },
  {
    id: 'cells',
    asks: 'cells of the pack',
    description: 'Cells in series: 3S is three.',
    examples: ['3S'],
    read: readCells,
  },
  {
    id: 'capacity',
    asks: 'capacity of the pack',
    description: 'As printed on its label.',
    examples: ['450 mAh'],
    read: figure('pack', 'capacity', 'packs', /^mah$/i),
  },
  {
    id: 'esc',
    asks: 'continuous current of a speed controller',
    description: 'Continuous rating of one channel: the amperes in its name.',
    examples: ['15 A'],
    read: figure('esc', 'continuous', 'speed controllers', /^a$/i),
  },
  {
    id: 'video',
    asks: 'power of camera and video transmitter',
    description: 'Both together, while transmitting; 0 if there is none.',
    examples: ['4 W'],
    read: readVideo,
  },
  {
    id: 'dryMass',
    asks: 'dry mass',
    description: 'The whole craft on a kitchen scale, without the pack.',
    examples: ['92 g'],
    read: figure('build', 'dry_mass', 'multirotors', /^g$/i),
  },
];

/** Longer ones are no names; a header is read only so far. */
const LONGEST_NAME = 60;

function readName(answer: string): ReadAnswer {
  const name = nameFrom(answer);
  if (answer.trim().length > LONGEST_NAME) return { problem: `a name has at most ${LONGEST_NAME} characters` };
  if (!/\p{L}/u.test(name)) return { problem: 'a name needs a letter' };
  if (!isName(name)) return { problem: `“${name}” is a word of the language; take another name` };
  return { written: name, numbers: [] };
}

/** "Owl, no. 2" → `Owl_no_2`: letters, digits and `_`, a letter first. */
export function nameFrom(answer: string): string {
  const name = answer
    .normalize('NFC')
    .replace(/[^\p{L}\p{M}\p{Nd}_]+/gu, '_')
    .replace(/^_+|_+$/g, '');
  return /^[\p{L}\p{M}]/u.test(name) ? name : `_${name}`;
}

/** `12`, `12.5`, `12,5`, and a unit; `11,000` could be two numbers and is none. */
const AMOUNT = /^(\d+(?:\.\d+|,\d{1,2})?|\.\d+)\s*(\p{L}.*)?$/u;

interface Amount {
  readonly number: number;
  readonly unit: string | undefined;
}

function amountOf(answer: string): Amount | undefined {
  const [, number, unit] = AMOUNT.exec(answer.trim()) ?? [];
  return number === undefined ? undefined : { number: Number(number.replace(',', '.')), unit: unit?.trim() };
}

/** A number of one property, its unit left out or typed. @param usual what else people write for the usual unit */
function figure<Kind extends BlockKind>(
  kind: Kind,
  property: PropertyName<Kind>,
  what: string,
  usual: RegExp,
): (answer: string) => ReadAnswer {
  return (answer) => {
    const { unit = '', dimension = NONE, otherUnits = [], plausible } = propertyOf(kind, property);
    const bounds: Bounds = { dimensions: [dimension], units: [unit, ...otherUnits], ...(plausible && { plausible }) };
    const amount = amountOf(answer);
    if (!amount) return notUnderstood(answer, `a number and its unit, ${unit}`);
    const named = amount.unit === undefined || usual.test(amount.unit) ? unit : amount.unit;
    return readFigure({ ...amount, unit: named }, dimension, bounds, what);
  };
}

function readFigure({ number, unit: named }: Amount, dimension: Dimension, bounds: Bounds, what: string): ReadAnswer {
  const { unit } = parseUnit(named ?? '');
  const [usual = ''] = bounds.units;
  const usually = unitNamed(usual);
  if (!unit || !bounds.units.includes(unit.name)) {
    return { problem: `“${named}” is no unit for this: ${either(bounds.units)}` };
  }
  if (isPlausible(unit.toSI(number), dimension, bounds)) {
    return understood(plain(number), unit.name, [usually.fromSI(unit.toSI(number))]);
  }
  const likely = unitsThatFit(number, bounds).filter((name) => name !== unit.name);
  const meant = likely.slice(0, 1).map((name) => `${plain(number)} ${name}`);
  const outside = `${plain(number)} ${unit.name} is outside what ${what} have${rangeWords(bounds, usual)}`;
  return { problem: `${outside}${didYouMean(meant)}` };
}

const rangeWords = ({ plausible }: Bounds, unit: string): string =>
  plausible ? `, ${plain(plausible[0])} to ${plain(plausible[1])}${unit === '' ? '' : ` ${unit}`}` : '';

function counted(answer: string, [least, most]: readonly [number, number], what: string, of: string): ReadAnswer {
  const [, digits] = /^(\d+)\s*x?$/i.exec(answer.trim()) ?? [];
  if (digits === undefined) return notUnderstood(answer, `a whole number of ${what}`);
  const count = Number(digits);
  if (count < least || count > most) return { problem: `${of} have ${least} to ${most} ${what}` };
  return understood(String(count), '', [count]);
}

function readCells(answer: string): ReadAnswer {
  const [least, most] = propertyOf('pack', 'cells').plausible ?? [1, 14];
  const [, digits] = /^(\d+)\s*S?$/i.exec(answer.trim()) ?? [];
  if (digits === undefined) return notUnderstood(answer, 'a whole number of cells in series, such as 3S');
  const count = Number(digits);
  if (count < least || count > most) return { problem: `packs have ${least} to ${most} cells in series` };
  return understood(String(count), 'S', [count]);
}

/** `12 x 4 mm`, `12x4`; and `1204`, `2207.5` as the trade names motors. */
function readStator(answer: string): ReadAnswer {
  const text = answer.trim().replaceAll(',', '.');
  const [, diameter, height] =
    /^(\d\d)(\d\d(?:\.\d)?)$/.exec(text) ??
    /^(\d+(?:\.\d+)?)(?:\s*mm)?\s*[x×*]\s*(\d+(?:\.\d+)?)\s*(?:mm)?$/i.exec(text) ??
    [];
  if (diameter === undefined || height === undefined) {
    return notUnderstood(answer, 'diameter and height of the stator, such as 12 x 4 mm or 1204');
  }
  const [least, most] = propertyOf('motor', 'stator').plausible ?? [1, 80];
  const sides = [Number(diameter), Number(height)];
  if (sides.some((side) => side < least || side > most)) {
    return {
      problem: `${plain(sides[0])} x ${plain(sides[1])} mm is outside what motors have, ${least} to ${most} mm`,
    };
  }
  const [wide = 0, high = 0] = sides;
  if (high > wide) {
    return { problem: `no stator is higher than it is wide: did you mean ${plain(high)} x ${plain(wide)} mm?` };
  }
  return understood(`${plain(wide)} x ${plain(high)}`, 'mm', sides);
}

function readVideo(answer: string): ReadAnswer {
  if (amountOf(answer)?.number === 0) return { written: '', numbers: [0] };
  return figure('load', 'draw', 'cameras and video transmitters', /^w$/i)(answer);
}

const understood = (number: string, unit: string, numbers: readonly number[]): ReadAnswer => ({
  written: joined({ number, unit }),
  printed: { number, unit },
  numbers,
});

const notUnderstood = (answer: string, wanted: string): ReadAnswer => ({
  problem:
    answer.trim() === ''
      ? `this needs ${wanted}`
      : `“${answer.trim()}” is ${/^[-−]\s*\d/.test(answer.trim()) ? 'below zero' : `not ${wanted}`}`,
});

/** As it was typed, but for what is superfluous. */
const plain = (number: number | undefined): string => String(number ?? '');
