import type { PartKind } from './generated/ast.ts';

const OF_GRAMMAR: Readonly<Record<PartKind, true>> = {
  airframe: true,
  motor: true,
  propeller: true,
  esc: true,
  regulator: true,
  pack: true,
  load: true,
  item: true,
  lead: true,
  plug: true,
  mount: true,
  bench: true,
  rules: true,
  build: true,
  shortlist: true,
  flight: true,
};

/** The kinds of part: keywords only where a header is (`motor M1 {`), ordinary names elsewhere (`load: Lamp from pack`). */
export const PART_WORDS: ReadonlySet<string> = new Set(Object.keys(OF_GRAMMAR));

export const isPartWord = (word: string): word is PartKind => PART_WORDS.has(word);

/** Words that begin a line without a colon: ordinary names wherever a name is wanted (`rail.note.voltage`). */
export const SENTENCE_WORDS: ReadonlySet<string> = new Set([
  'use',
  'require',
  'keep',
  'accept',
  'raise',
  'lower',
  'note',
  'observed',
  'rows',
  'log',
]);

/** Words that join values, and so can never be a name. */
export const JOINING_WORDS: ReadonlySet<string> = new Set([
  'after',
  'and',
  'as',
  'at',
  'because',
  'below',
  'claimed',
  'duty',
  'estimated',
  'for',
  'from',
  'in',
  'like',
  'measured',
  'not',
  'of',
  'on',
  'or',
  'to',
  'with',
]);

/** What a leg of a flight is, and what blows against it: words of that line only, ordinary names elsewhere. */
export const LEG_WORDS: ReadonlySet<string> = new Set(['hover', 'climb', 'descent', 'home', 'release', 'against']);

const NAME = /^[\p{L}\p{M}_][\p{L}\p{M}\p{Nd}_]*$/u;

/** Whether `text` can be the name of a part, a rail or an alias. */
export function isName(text: string): boolean {
  return NAME.test(text) && !JOINING_WORDS.has(text) && text !== 'none';
}
