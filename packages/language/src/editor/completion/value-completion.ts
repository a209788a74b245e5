/** What may be behind `key:`: words, names, units, clauses and origins, as the vocabulary allows. */

import type { IToken } from 'chevrotain';
import { CompletionItemKind } from 'vscode-languageserver-types';
import { LEG_WORDS } from '../../grammar/reserved-words.ts';
import { writtenDay } from '../../model/days.ts';
import { NONE } from '../../units/dimension.ts';
import { keysOf } from '../../units/lookup-table.ts';
import { otherUnitsOf, unitNamed, unitsOf } from '../../units/parse.ts';
import { gapBefore } from '../../units/print.ts';
import type { Dimension } from '../../units/quantity.ts';
import { clauseWords } from '../../vocabulary/clause-words.ts';
import { kindsWithFigure, variedFigure } from '../../vocabulary/kinds/shortlist-kind.ts';
import { propertyOf } from '../../vocabulary/properties.ts';
import type { BlockKind, ClauseRule, Property } from '../../vocabulary/schema.ts';
import { WORDS } from '../../vocabulary/words.ts';
import { tokenEnd } from './cursor.ts';
import type { Offer } from './offer.ts';

/** What the line's value is about: the property itself, or the clause the cursor is in. */
export interface Expectation {
  readonly shape: Property['shape'] | ClauseRule['shape'];
  readonly dimension?: Dimension | undefined;
  readonly units: readonly string[];
  readonly words: readonly string[];
  readonly parts: readonly BlockKind[];
}

export function expectationOf(rule: Property | ClauseRule): Expectation {
  const others = 'otherUnits' in rule ? (rule.otherUnits ?? []) : [];
  return {
    shape: rule.shape,
    dimension: rule.dimension,
    units: rule.unit === undefined ? others : [rule.unit, ...others],
    words: rule.words ?? [],
    parts: rule.parts ?? [],
  };
}

/** The last clause word in front of the cursor, and what is behind it. */
export function segmentAt(before: readonly IToken[]): { clause: string | undefined; behind: readonly IToken[] } {
  const index = before.findLastIndex((token) => CLAUSE_WORDS.has(token.tokenType.name));
  const behind = before.slice(index + 1).filter((token) => token.tokenType.name !== ':');
  return { clause: before[index]?.tokenType.name, behind };
}

const CLAUSE_WORDS: ReadonlySet<string> = new Set([
  ...[
    'at',
    'after',
    'for',
    'of',
    'on',
    'with',
    'from',
    'to',
    'in',
    'duty',
    'below',
    'because',
    'as',
    'like',
    'step',
    ...LEG_WORDS,
    '+-',
  ],
  ...['measured', 'claimed', 'estimated'],
]);

export function wordsOf(expectation: Expectation): Offer[] {
  return expectation.words.map((label) => {
    const documentation = WORDS.get(label);
    return { label, kind: CompletionItemKind.EnumMember, group: 0, ...(documentation && { documentation }) };
  });
}

/** Units behind a number: those the trade writes first, then all others of the dimension. */
export function unitOffers(expectation: Expectation, number: IToken, offset: number): Offer[] {
  const [usual] = expectation.units;
  const fitting =
    expectation.dimension === undefined || isPlain(expectation)
      ? []
      : usual === undefined
        ? unitsOf(expectation.dimension)
        : otherUnitsOf(unitNamed(usual));
  const names = new Set([...expectation.units, ...fitting]);
  const isTouched = tokenEnd(number) === offset;
  return [...names].map((label, index) => ({
    label,
    kind: CompletionItemKind.Unit,
    text: isTouched ? gapBefore(label) + label : label,
    group: index === 0 ? 0 : index < expectation.units.length ? 1 : 2,
  }));
}

/** What is missing between a number and what is offered straight behind it. */
const gapBehind = (number: IToken, offset: number): string => (tokenEnd(number) === offset ? ' ' : '');

/** Behind a number: `4 x M1606`, `11 x 4 mm`. */
export function timesOffer(number: IToken, offset: number): Offer {
  const text = `${gapBehind(number, offset)}x `;
  return { label: 'x', kind: CompletionItemKind.Operator, text, detail: 'times', group: 0 };
}

export function todayOffer(now = new Date()): Offer {
  const day = writtenDay(now);
  return { label: day, kind: CompletionItemKind.Value, detail: 'today', group: 0 };
}

/** `1.4 x hover`, `hover`; undefined when it is complete. */
export function multipleOffers(last: IToken | undefined, offset: number): Offer[] | undefined {
  const hover: Offer = { label: 'hover', kind: CompletionItemKind.Keyword, detail: 'the thrust of hover', group: 0 };
  if (last === undefined) return [hover];
  switch (last.tokenType.name) {
    case 'TIMES':
      return [hover];
    case 'NUMBER':
      return [{ ...hover, label: 'x hover', text: `${gapBehind(last, offset)}x hover` }];
    default:
      return undefined;
  }
}

/** Of plain numbers only what the table lists: `%` for a share, `S` for cells, nothing for a count. */
function isPlain({ dimension }: Expectation): boolean {
  return dimension === NONE;
}

/** Behind a complete value: the clauses this property takes, the ± and the origin, each once. */
export function clauseOffers(rule: Property, before: readonly IToken[]): Offer[] {
  const used = new Set(before.map((token) => token.tokenType.name));
  const clauses = keysOf(rule.clauses ?? {})
    .filter((word) => !used.has(word) && (rule.shape !== 'leg' || isOfThisLeg(word, used)))
    .map((word) => ({
      label: word,
      kind: CompletionItemKind.Keyword,
      text: `${word} `,
      detail: clauseWords(rule, word),
      group: 0,
    }));
  const isRange = rule.shape === 'range' && !used.has('..');
  const isFigure = rule.dimension !== undefined && !UNMEASURED.has(rule.shape);
  const hasOrigin = ORIGINS.some(({ label }) => used.has(label));
  return [
    ...clauses,
    ...(isRange ? [UP_TO] : []),
    ...(isFigure && !used.has('+-') ? [PLUS_MINUS] : []),
    ...(isFigure && !hasOrigin ? ORIGINS : []),
  ];
}

/** Of these no ± and no origin is stated. */
const UNMEASURED: ReadonlySet<Property['shape']> = new Set(['flown', 'part', 'leg']);

/** Legs that begin with a word; the others begin with how long they are. */
export const LEG_STARTS: readonly Offer[] = (['home', 'release'] as const).map((label) => ({
  label,
  kind: CompletionItemKind.Keyword,
  text: label === 'home' ? 'home at ' : `${label} `,
  detail: clauseWords(propertyOf('flight', 'leg'), label),
  group: 0,
}));

/** Of a `vary:` line, which begins with a part, a kind, a figure or this. */
export const DUTY_START: Offer = {
  label: 'duty',
  kind: CompletionItemKind.Keyword,
  text: 'duty ',
  detail: 'the duty limit: `duty 60 % .. 100 % step 5 %`',
  group: 0,
};

/** What a `vary:` line tries values of, in front of the cursor: it has the units of the range and of its step. */
function figureBefore(before: readonly IToken[]): Property | undefined {
  const words = before.map(({ image }) => image);
  const figure = words.find((word) => kindsWithFigure(word).length > 0);
  if (figure === undefined) return undefined;
  const kinds = kindsWithFigure(figure);
  const kind = kinds.find((one) => words.includes(one)) ?? kinds[0];
  return kind && variedFigure(kind, figure);
}

/** What a clause of a line takes; of a `vary:` line the range and its step are those of what is varied. */
export function clauseRuleOf(rule: Property, clause: string, before: readonly IToken[]): ClauseRule | undefined {
  const isVaried = rule.shape === 'vary' && (clause === 'in' || clause === 'step');
  const varied = isVaried ? figureBefore(before) : undefined;
  if (varied) return { ...varied, shape: 'range' };
  const isStepOfDuty = clause === 'step' && before.some(({ tokenType }) => tokenType.name === 'duty');
  const clauses: Readonly<Record<string, ClauseRule>> = rule.clauses ?? {};
  return clauses[isStepOfDuty ? 'duty' : clause];
}

/** One leg is one thing, and hovering has no speed. */
function isOfThisLeg(word: string, used: ReadonlySet<string>): boolean {
  if (used.has('release') || word === 'release' || word === 'home') return false;
  const isFlown = used.has('at') || ['hover', 'climb', 'descent', 'home'].some((manner) => used.has(manner));
  if (word === 'at') return !used.has('hover');
  if (word === 'against' || word === 'with')
    return isFlown && !used.has('home') && !used.has('against') && !used.has('with');
  return !isFlown;
}

const UP_TO: Offer = { label: '..', kind: CompletionItemKind.Operator, text: '.. ', detail: 'up to', group: 0 };

const PLUS_MINUS: Offer = {
  label: '+-',
  kind: CompletionItemKind.Operator,
  text: '+- ',
  detail: 'its uncertainty (k = 2)',
  group: 1,
};

const ORIGINS: readonly Offer[] = [
  { label: 'measured', kind: CompletionItemKind.Keyword, detail: 'read from an instrument', group: 1 },
  { label: 'claimed', kind: CompletionItemKind.Keyword, detail: 'stated in a data sheet or on a label', group: 1 },
  { label: 'estimated', kind: CompletionItemKind.Keyword, detail: 'a guess', group: 1 },
];
