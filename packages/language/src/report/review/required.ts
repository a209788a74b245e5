/** What requirements and margins require, apart from how they state it. */

import type { Build, Expression, Margin, Requirement } from '../../model/build.ts';
import { resultsIn } from '../../model/expressions.ts';
import { isSameStart, type Place } from '../../syntax/place.ts';
import { nameOfLimit } from '../../vocabulary/limits.ts';
import { type Restore, withRules } from './as-before.ts';

/** What a line requires: all of its terms, on one pack or on all. */
export interface RequiredLine {
  readonly terms: readonly Term[];
  readonly pack?: string;
  /** What it is about: lines that have some in common may have replaced one another. */
  readonly about: readonly string[];
  readonly place: Place;
  /** With this line required again, as if it were at a place. */
  readonly again: (place: Place) => Restore;
}

export interface Term {
  readonly subject: string;
  /** The same whatever its numbers are. */
  readonly form: string;
  /** What the subject may be at most, SI; of a lower limit both are negated. None where it is no plain limit. */
  readonly bound?: number;
}

export const requiredOf = ({ rules }: Pick<Build, 'rules'>): RequiredLine[] => [
  ...rules.requirements.map(ofRequirement),
  ...rules.margins.map(ofMargin),
];

const ofRequirement = (requirement: Requirement): RequiredLine => ({
  terms: termsOf(requirement.condition),
  ...(requirement.pack !== undefined && { pack: requirement.pack }),
  about: [...resultsIn(requirement.condition)].map(({ name }) => name),
  place: requirement.place,
  again: (place) =>
    withRules((rules) => ({ ...rules, requirements: [...rules.requirements, { ...requirement, place }] })),
});

function reserveOn({ limit }: Margin): Pick<Term, 'subject' | 'form'> {
  const subject = `in reserve on ${nameOfLimit(limit)}`;
  return { subject, form: subject };
}

const ofMargin = (margin: Margin): RequiredLine => ({
  terms: [{ ...reserveOn(margin), bound: -margin.share }],
  about: [reserveOn(margin).subject],
  place: margin.place,
  again: (place) =>
    withRules((rules) => ({
      ...rules,
      margins: [
        ...rules.margins.filter(({ limit }) => nameOfLimit(limit) !== nameOfLimit(margin.limit)),
        { ...margin, place },
      ],
    })),
});

/** What the requirement or margin at a place limits, and from which side; the same whatever its numbers are. */
export function requiredAt({ rules }: Build, place: Place): string | undefined {
  const required = requiredOf({ rules }).find((one) => isSameStart(one.place, place));
  return required?.terms
    .map(({ form }) => form)
    .sort()
    .join('; ');
}

function termsOf(condition: Expression, isNegated = false): Term[] {
  if (condition.kind === 'not') return termsOf(condition.operand, !isNegated);
  if (condition.kind === (isNegated ? 'or' : 'and') && 'operands' in condition)
    return condition.operands.flatMap((operand) => termsOf(operand, isNegated));
  if (condition.kind === 'comparison') {
    const { operator, left, right } = condition;
    const sign = (operator === '<' || operator === '<=') === isNegated ? -1 : 1;
    if (right.kind === 'quantity') return [termOf(left, sign, right.figure.value)];
    if (left.kind === 'quantity') return [termOf(right, -sign, left.figure.value)];
  }
  const sign = isNegated ? 'not ' : '';
  return [{ subject: `${sign}${sense(condition)}`, form: `${sign}${sense(condition, '#')}` }];
}

const termOf = (subject: Expression, sign: number, limit: number): Term => ({
  subject: `${sign > 0 ? '' : '-'}${sense(subject)}`,
  form: `${sign > 0 ? '' : '-'}${sense(subject, '#')}`,
  bound: sign * limit,
});

/**
 * The same for expressions that differ in units, layout or the side of their terms only.
 * @param number in place of each number
 */
function sense(expression: Expression, number?: string): string {
  const of = (inner: Expression) => sense(inner, number);
  switch (expression.kind) {
    case 'quantity':
      return number ?? String(Number(expression.figure.value.toPrecision(WRITTEN_DIGITS)));
    case 'result':
      return expression.name;
    case 'not':
      return `not (${of(expression.operand)})`;
    case 'extreme':
      return `${expression.call} (${expression.arguments.map(of).sort().join(', ')})`;
    case 'and':
    case 'or':
      return `(${expression.operands.map(of).sort().join(` ${expression.kind} `)})`;
    default: {
      const { left, operator, right } = expression;
      if (operator === '>' || operator === '>=') return `(${of(right)} ${operator.replace('>', '<')} ${of(left)})`;
      return `(${of(left)} ${operator} ${of(right)})`;
    }
  }
}

/** Of a quantity that is written in another unit. */
export const WRITTEN_DIGITS = 12;
