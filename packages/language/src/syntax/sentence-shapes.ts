/**
 * What a line consists of, slot by slot: `pack: PACK [with PACK] [duty NUMBER %] [as NAME]`. Lines with a colon have their shape from the
 * vocabulary; the sentences are listed here.
 */

import { clauseWords } from '../vocabulary/clause-words.ts';
import { upperFirst } from '../vocabulary/phrasing.ts';
import type { PropertyName } from '../vocabulary/properties.ts';
import type { ClauseRule, ClauseWord, Property } from '../vocabulary/schema.ts';
import { SEVERITIES } from '../vocabulary/severities.ts';

export interface Slot {
  /** As it is shown: `with PACK`. */
  readonly text: string;
  /** The word that begins it; without one it is at the beginning of the line. */
  readonly word?: string;
  readonly isOptional?: true;
  readonly description: string;
}

export interface LineShape {
  /** `pack:`, `require`. */
  readonly start: string;
  readonly description: string;
  readonly slots: readonly Slot[];
  /** What the line ends with, such as its block. */
  readonly end?: string;
}

const optional = (word: string, text: string, description: string): Slot => ({
  text,
  word,
  isOptional: true,
  description,
});
const needed = (word: string, text: string, description: string): Slot => ({ text, word, description });

export const BECAUSE = optional('because', 'because "REASON"', 'The reason, in quotes.');
export const ON_PACK = optional('with', 'with PACK', 'On this pack only.');
export const UP_TO = optional('below', 'below NUMBER UNIT', 'Up to this number; a worse one comes back as a finding.');
export const NEW_SEVERITY = needed('to', `to ${SEVERITIES.join(' | ')}`, 'Its new severity.');
export const OCCASION = optional('for', 'for assembly | preflight', 'The list it is shown on.');

const FINDING: Slot = { text: 'FINDING', description: 'The id of a finding, as it is shown with its message.' };

const change = (start: 'raise' | 'lower'): LineShape => ({
  start,
  description: `${start === 'raise' ? 'Raises' : 'Lowers'} the severity of a finding.`,
  slots: [FINDING, NEW_SEVERITY, BECAUSE],
});

/** By the word that begins the line. */
export const SENTENCE_SHAPES: ReadonlyMap<string, LineShape> = new Map(
  [
    {
      start: 'require',
      description: 'Something that must hold.',
      slots: [
        { text: 'RESULT', description: 'A result, `rail.NAME.voltage`, or an expression of several.' },
        { text: '>= | <= NUMBER UNIT', word: '>=', description: 'The limit, in the unit of the result.' },
        ON_PACK,
        BECAUSE,
      ],
    },
    {
      start: 'keep',
      description: 'A margin to a limit.',
      slots: [
        { text: 'NUMBER %', description: 'How much of the limit is not used.' },
        needed(
          'on',
          'in reserve on LIMIT',
          'What it is a margin to: `esc.continuous`, `motor.burst`, `pack.discharge` and others.',
        ),
        BECAUSE,
      ],
    },
    {
      start: 'accept',
      description: 'Accepts a finding, with a reason; it is reported again when it gets worse.',
      slots: [FINDING, UP_TO, ON_PACK, needed('because', BECAUSE.text, BECAUSE.description)],
    },
    change('raise'),
    change('lower'),
    {
      start: 'note',
      description: 'A sentence for the list of assembly or pre-flight.',
      slots: [{ text: '"TEXT"', description: 'The sentence, in quotes.' }, OCCASION],
    },
    {
      start: 'observed',
      description: 'Readings of scale, charger and clock from one flight.',
      slots: [
        { text: '"TITLE"', description: 'Place and day, in quotes.' },
        optional('with', 'with PACK', 'The pack that was flown.'),
      ],
      end: '{ … }',
    },
    {
      start: 'log',
      description: 'The log of a flight, a CSV file.',
      slots: [
        { text: 'COLUMN "HEADING", …', description: 'What a column is, and what the file calls it.' },
        needed('from', 'from "FILE"', 'Where the file is, as seen from this one.'),
      ],
    },
    {
      start: 'use',
      description: 'Makes the parts of a folder or a file available here.',
      slots: [
        { text: '"PATH"', description: 'A folder or a file, as seen from this one.' },
        optional('as', 'as NAME', 'Its parts are then named `NAME.PART`.'),
      ],
    },
  ].map((shape): [string, LineShape] => [shape.start, shape]),
);

/** From the vocabulary: its value, then its clauses, then how far it is known and from where. */
export function shapeOf(property: Property): LineShape {
  // A pattern has its measures in its value.
  const clauses = Object.entries(property.shape === 'pattern' ? {} : (property.clauses ?? {})).map(([word, rule]) =>
    clauseSlot(property, word as ClauseWord, rule),
  );
  const basis =
    property.tolerance === undefined || property.shape === 'part'
      ? []
      : [
          optional(
            '+-',
            `+- NUMBER ${withPercent(property.unit)}`,
            'How far it may be off, with a confidence of 95 %.',
          ),
          optional('measured', 'measured | claimed | estimated "SOURCE"', 'Where it comes from, and on whose word.'),
        ];
  return {
    start: `${property.name}:`,
    description: property.description,
    slots: [...valueSlots(property), ...clauses, ...basis],
  };
}

const withPercent = (unit: string | undefined): string => (unit === undefined || unit === '%' ? '%' : `% | ${unit}`);

function clauseSlot(property: Property, word: ClauseWord, rule: ClauseRule | undefined): Slot {
  const value = rule === undefined ? '' : valueText(rule);
  return optional(word, value === '' ? word : `${word} ${value}`, `${upperFirst(clauseWords(property, word))}.`);
}

function valueSlots(property: Property): Slot[] {
  const { description, shape, name, repeats } = property;
  const value = { text: valueText(property), description };
  if (shape !== 'part' || repeats !== true || SINGLE.has(name)) return [value];
  // Several of one sort on a line: `4 x M1606 with P3024x3`.
  const count = { text: 'COUNT x', description: 'How many.' };
  return [MOTORS.has(name) ? count : { ...count, isOptional: true }, value];
}

/** Their count is never left out. */
const MOTORS: ReadonlySet<string> = new Set<PropertyName<'build'>>(['motors', 'upper_motors', 'lower_motors']);
/** Of several lines, without a count. */
const SINGLE: ReadonlySet<string> = new Set<PropertyName<'build'>>(['rules', 'flight', 'without']);

/** A list longer than this is no shape any more. */
const MOST_WORDS = 5;

function valueText({
  shape,
  unit,
  words,
  parts,
  sides,
}: Pick<Property, 'shape' | 'unit' | 'words' | 'parts' | 'sides'> | (ClauseRule & { sides?: never })): string {
  const number = unit === undefined ? 'NUMBER' : `NUMBER ${unit}`;
  switch (shape) {
    case 'name':
      return 'NAME';
    case 'text':
      return '"TEXT"';
    case 'date':
      return 'YYYY-MM-DD';
    case 'word':
      return words === undefined || words.length > MOST_WORDS ? 'WORD' : words.join(' | ');
    case 'part':
      return [...(words ?? []), ...(parts ?? []).map((kind) => kind.toUpperCase())].slice(0, MOST_WORDS).join(' | ');
    case 'range':
      return `${number} .. ${number}`;
    case 'size':
      return `${(sides ?? ['NUMBER', 'NUMBER']).map((side) => side.toUpperCase()).join(' x ')} ${unit ?? 'mm'}`;
    case 'pattern':
      return 'COUNT x THREAD on NUMBER [x NUMBER] mm';
    case 'count':
      return 'COUNT';
    case 'multiple':
      return 'NUMBER x hover';
    case 'vary':
      return `${(words ?? []).slice(0, MOST_WORDS).join(' | ')} | …`;
    case 'bare':
      return '';
    case 'leg':
      return 'NUMBER min | km';
    default:
      return number;
  }
}

/** `motor NAME "TITLE" like MOTOR { … }` */
export function headerShape(kind: string, description: string): LineShape {
  return {
    start: kind,
    description,
    slots: [
      { text: 'NAME', description: 'Letters, digits and _, a letter first.' },
      { text: '"TITLE"', word: '"', isOptional: true, description: 'What people read, in quotes.' },
      optional('like', `like ${kind.toUpperCase()}`, 'Takes over its lines; what is stated here replaces them.'),
    ],
    end: '{ … }',
  };
}
