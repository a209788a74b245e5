/** What requirements and margins require, apart from how they state it. */
import type { Build, Expression, Margin, Requirement } from '../../model/build.ts';
import { resultsIn } from '../../model/expressions.ts';
import type { Place } from '../../syntax/place.ts';
import { type Restore, withRules } from './as-before.ts';

/** What a line requires: all of its terms, on one pack or on all. */
export interface Asked {
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
  /** What the subject may be at most, SI; of a lower limit both are negated. None where it is no plain limit. */
  readonly bound?: number;
}

export const requiredOf = ({ rules }: Pick<Build, 'rules'>): Asked[] => [
  ...rules.requirements.map(ofRequirement),
  ...rules.margins.map(ofMargin),
];

const ofRequirement = (requirement: Requirement): Asked => ({
  terms: termsOf(requirement.condition),
  ...(requirement.pack !== undefined && { pack: requirement.pack }),
  about: [...resultsIn(requirement.condition)].map(({ name }) => name),
  place: requirement.place,
  again: (place) =>
    withRules((rules) => ({ ...rules, requirements: [...rules.requirements, { ...requirement, place }] })),
});

const ofMargin = (margin: Margin): Asked => ({
  terms: [{ subject: `in reserve on ${margin.limit}`, bound: -margin.share }],
  about: [`in reserve on ${margin.limit}`],
  place: margin.place,
  again: (place) =>
    withRules((rules) => ({
      ...rules,
      margins: [...rules.margins.filter(({ limit }) => limit !== margin.limit), { ...margin, place }],
    })),
});

/** What the requirement or margin at a place limits, and from which side; the same whatever its numbers are. */
export function requiredAt({ rules }: Build, place: Place): string | undefined {
  const required = requiredOf({ rules }).find((one) => isSame(one.place, place));
  return required?.terms
    .map(({ subject }) => subject.replace(/(?<!\w)-?\d[\d.e+-]*/g, '#'))
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
  return [{ subject: isNegated ? `not ${sense(condition)}` : sense(condition) }];
}

const termOf = (subject: Expression, sign: number, limit: number): Term => ({
  subject: `${sign > 0 ? '' : '-'}${sense(subject)}`,
  bound: sign * limit,
});

/** The same for expressions that differ in units, layout or the side of their terms only. */
function sense(expression: Expression): string {
  switch (expression.kind) {
    case 'quantity':
      return String(Number(expression.figure.value.toPrecision(DIGITS)));
    case 'result':
      return expression.name;
    case 'negate':
    case 'not':
      return `${expression.kind} (${sense(expression.operand)})`;
    case 'extreme':
      return `${expression.call} (${expression.arguments.map(sense).sort().join(', ')})`;
    case 'and':
    case 'or':
      return `(${expression.operands.map(sense).sort().join(` ${expression.kind} `)})`;
    default: {
      const { left, operator, right } = expression;
      if (operator === '>' || operator === '>=')
        return `(${sense(right)} ${operator.replace('>', '<')} ${sense(left)})`;
      return `(${sense(left)} ${operator} ${sense(right)})`;
    }
  }
}

/** Of a quantity that is written in another unit. */
export const DIGITS = 12;

export const isSame = (one: Place, other: Place): boolean => one.uri === other.uri && one.start === other.start;
