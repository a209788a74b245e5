/** Texts that a hand, an editor, a merge or an enemy could make of ours; the same ones for the same seed. */
import { pick, type Random } from '../seeded.ts';

export const OF_OBJECTS = [...Object.getOwnPropertyNames(Object.prototype), 'prototype', 'length', 'name'];
const UNITS = [
  'Q',
  'mAhh',
  'g/g',
  'V/V/V',
  'degC',
  'kg^9',
  'ohm/',
  '/g',
  'µ',
  '°',
  '"',
  '%%',
  'S',
  'C',
  'P',
  'rpm/V',
  'toString',
];
export const NUMBERS = [
  '0',
  '-0',
  '-1',
  '1e308',
  '1e999',
  '1e-320',
  '0.0000001',
  '999999999999999999999',
  '1.',
  '.5',
  '1,5',
  '1 000',
  '0x10',
  '1e',
  '--1',
  '00012',
  '3S9P',
  '0S',
  '100 %',
  '0 %',
];
/** Control, direction, width, joining, a lone surrogate, an astral letter. */
export const CHARACTERS = [
  '\u0000',
  '\u0007',
  '\u001b[31m',
  '\u0085',
  '\u061c',
  '\u200b',
  '\u200d',
  '\u202e',
  '\u2066',
  '\u2028',
  '\ufeff',
  '\ud800',
  '\u{1f987}',
  'e\u0301',
  '\r',
  '\t',
  '\u00a0',
];
export const WORDS = [
  'like',
  'with',
  'from',
  'as',
  'none',
  'rail',
  'build',
  'motor',
  'pack',
  'rows',
  'require',
  'accept',
  'observed',
  'use',
  'without',
  'measured',
  '+-',
  '..',
  'x',
  '{',
  '}',
  '(',
  ')',
  ':',
  ',',
  '.',
  '"',
  '//',
  '/*',
  '*/',
  '=',
  '<<<<<<<',
  '=======',
  '-',
  '--',
];

type Mutation = (text: string, random: Random, others: readonly string[]) => string;

const TOKEN = /[\p{L}_][\p{L}\p{Nd}_]*|\d+(?:\.\d+)?|"[^"\n]*"|\S/gu;

function tokenOf(text: string, random: Random): { start: number; end: number; word: string } {
  const all = [...text.matchAll(TOKEN)];
  const found = all.length === 0 ? undefined : pick(random, all);
  const start = found?.index ?? 0;
  const word = found?.[0] ?? '';
  return { start, end: start + word.length, word };
}

const put = (text: string, start: number, end: number, piece: string): string =>
  text.slice(0, start) + piece + text.slice(end);

const exchanged =
  (pieces: readonly string[]): Mutation =>
  (text, random) => {
    const { start, end } = tokenOf(text, random);
    return put(text, start, end, pick(random, pieces));
  };

const inserted =
  (pieces: readonly string[]): Mutation =>
  (text, random) => {
    const at = Math.floor(random() * (text.length + 1));
    return put(text, at, at, pick(random, pieces));
  };

const numberExchanged: Mutation = (text, random) => {
  const all = [...text.matchAll(/\d+(?:\.\d+)?/g)];
  if (all.length === 0) return text;
  const { index, 0: digits } = pick(random, all);
  const moved = [
    digits.replace(/\d/, (digit) => String((Number(digit) + 1) % 10)),
    `${digits}0`,
    `0.0${digits}`,
    digits.slice(1),
  ];
  return put(text, index, index + digits.length, pick(random, [...moved, ...NUMBERS]));
};

const MUTATIONS: readonly Mutation[] = [
  exchanged(['']),
  (text, random) => {
    const { start, end, word } = tokenOf(text, random);
    return put(text, start, end, `${word} ${word}`);
  },
  (text, random) => {
    const [one, other] = [tokenOf(text, random), tokenOf(text, random)].sort((a, b) => a.start - b.start);
    if (!one || !other || one.end > other.start) return text;
    return put(put(text, other.start, other.end, one.word), one.start, one.end, other.word);
  },
  numberExchanged,
  numberExchanged,
  exchanged(OF_OBJECTS),
  exchanged(UNITS),
  exchanged(WORDS),
  inserted(CHARACTERS),
  inserted(WORDS),
  (text, random) => text.slice(0, Math.floor(random() * text.length)),
  (text, random) => text.slice(Math.floor(random() * text.length)),
  (text, random, others) => text.slice(0, Math.floor(random() * text.length)) + pick(random, others),
  (text, random) => {
    const lines = text.split('\n');
    const [from, to] = [Math.floor(random() * lines.length), Math.floor(random() * lines.length)];
    lines.splice(to, 0, lines[from] ?? '');
    return lines.join('\n');
  },
  (text, random) => {
    const lines = text.split('\n');
    lines.splice(Math.floor(random() * lines.length), 1 + Math.floor(random() * 3));
    return lines.join('\n');
  },
];

/** Rare, because each costs as much as many of the others. */
const LARGE: readonly Mutation[] = [
  (text, random) =>
    inserted([pick(random, ['{', '(', 'rail x { ', 'min(', '-']).repeat(10 + Math.floor(random() * 400))])(
      text,
      random,
      [],
    ),
  (text, random) =>
    inserted([pick(random, ['x ', '9', 'a', ' ', '"', '\t', '1 g ', ', ', '+ 1 g ', '.x']).repeat(2000)])(
      text,
      random,
      [],
    ),
];

/** One to four changes, one after the other. */
export function mutated(texts: readonly string[], random: Random): string {
  let text = pick(random, texts);
  const changes = 1 + Math.floor(random() ** 2 * 4);
  for (let i = 0; i < changes; i += 1) text = pick(random, MUTATIONS)(text, random, texts);
  return random() < 0.005 ? pick(random, LARGE)(text, random, texts) : text;
}
