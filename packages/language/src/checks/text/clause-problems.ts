/** Checks of what comes after a value: ±, conditions, origin, second name. */

import type { AstNode } from 'langium';
import {
  type Condition,
  isAlias,
  isCondition,
  isFigureNode,
  isNamedNode,
  isOriginNode,
  isText,
  isToleranceNode,
  type PropertyNode,
  type ToleranceNode,
} from '../../grammar/generated/ast.ts';
import { readAmount } from '../../model/amounts.ts';
import { declaredHalfWidth, reachesNothing } from '../../model/figures.ts';
import { isInline } from '../../model/inline.ts';
import type { Clause } from '../../syntax/clauses.ts';
import type { Place } from '../../syntax/place.ts';
import type { Problem } from '../../syntax/problem.ts';
import { isHalfNamed, placeOf, placeOfFeature, textOf } from '../../syntax/source.ts';
import { isCount } from '../../syntax/written-number.ts';
import { alike, describe, NONE } from '../../units/dimension.ts';
import { parseUnit } from '../../units/parse.ts';
import { didYouMean, either } from '../../vocabulary/phrasing.ts';
import type { ClauseRule, Property, Shape } from '../../vocabulary/schema.ts';
import { commaProblem } from './comma-problems.ts';
import { multipleOfHover, notHover } from './hover-problems.ts';
import { problem, replace } from './problem-words.ts';
import { anyQuantity } from './quantity-problems.ts';
import { expectedOf, figureProblem } from './value-problems.ts';

/** Shapes whose value is a number that can be measured. */
const UNCERTAIN: ReadonlySet<Shape> = new Set([
  'quantity',
  'range',
  'size',
  'share',
  'money',
  'air',
  'run',
  'multiple',
  'flown',
]);

export function clauseProblems(line: PropertyNode, schema: Property): Problem[] {
  const stated = new Set<string>();
  const problems: Problem[] = [];
  for (const clause of line.clauses) {
    const word = wordOf(clause);
    const found = stated.has(word)
      ? problem('duplicate', `${word} is written twice`, placeOf(clause))
      : clauseProblem(clause, line, schema);
    stated.add(word);
    if (found) problems.push(found);
  }
  return problems;
}

function wordOf(clause: Clause): string {
  if (isToleranceNode(clause)) return '±';
  if (isOriginNode(clause)) return 'where the figure comes from';
  return isAlias(clause) ? 'as' : clause.word;
}

function clauseProblem(clause: Clause, line: PropertyNode, schema: Property): Problem | undefined {
  const isNumber = UNCERTAIN.has(schema.shape) || isInline(line);
  if (isToleranceNode(clause))
    return isNumber ? toleranceProblem(clause, line, schema) : notTaken(clause, line.key, '±', schema);
  if (isOriginNode(clause)) return isNumber ? undefined : notTaken(clause, line.key, clause.word, schema);
  if (isAlias(clause)) {
    if (!schema.clauses?.as) return notTaken(clause, line.key, 'as', schema);
    return clause.name === undefined
      ? problem('missing-value', 'a second name is missing after as', placeOf(clause))
      : undefined;
  }
  const rules: Readonly<Record<string, ClauseRule>> = schema.clauses ?? {};
  const rule = rules[clause.word];
  if (rule && schema.shape === 'money') return piecesProblem(clause, rule);
  return rule ? conditionProblem(clause, rule) : notTaken(clause, line.key, clause.word, schema);
}

/** `9.80 EUR for 8` */
function piecesProblem(clause: Condition, rule: ClauseRule): Problem | undefined {
  const { value } = clause;
  const isNone = isFigureNode(value) && value.unit === undefined && !isCount(value);
  if (isNone) return problem('number-form', 'how many pieces is a whole number, at least 1', placeOf(value));
  return conditionProblem(clause, rule);
}

function notTaken(clause: Clause, key: string, word: string, schema: Property): Problem {
  const taken = Object.keys(schema.clauses ?? {});
  const hint = taken.length > 0 ? `; it takes ${either(taken.map((name) => `“${name}”`))}` : '';
  return problem('clause', `${key} takes no “${word}”${hint}`, placeOf(clause));
}

function toleranceProblem(tolerance: ToleranceNode, line: PropertyNode, schema: Property): Problem | undefined {
  const place = placeOf(tolerance);
  if (tolerance.number === undefined) return problem('missing-value', 'how much? a ± reads +- 3 %', place);
  const own = isFigureNode(line.value) ? (line.value.unit ?? schema.unit) : schema.unit;
  if (tolerance.unit === undefined) return toleranceWithoutUnit(tolerance, own) ?? tooWide(tolerance, line, schema);
  if (tolerance.unit === '%') return tooWide(tolerance, line, schema);
  const unitPlace = placeOfFeature(tolerance, 'unit');
  const parsed = parseUnit(tolerance.unit);
  if (parsed.problem) {
    const offered = parsed.suggestions.slice(0, 1);
    return problem(
      'unknown-unit',
      `no such unit: ${tolerance.unit}${didYouMean(offered)}`,
      unitPlace,
      offered.map((name) => replace(unitPlace, name)),
    );
  }
  const ownUnit = own === undefined ? undefined : parseUnit(own).unit;
  const wanted = ownUnit?.dimension ?? schema.dimension ?? NONE;
  if (alike(parsed.unit.dimension, wanted)) return tooWide(tolerance, line, schema);
  const description = `the ± of ${describe(wanted)} is ${describe(wanted)} or a share, found ${describe(parsed.unit.dimension)}`;
  return problem(
    'wrong-dimension',
    description,
    unitPlace,
    own === undefined ? [] : [replace(unitPlace, own), replace(unitPlace, '%')],
  );
}

/** The figure could be nothing at all: a slip, such as a lost decimal point. */
function tooWide(tolerance: ToleranceNode, { value }: PropertyNode, schema: Property): Problem | undefined {
  const amount = isFigureNode(value) ? readAmount(value, value.more, schema.dimension) : undefined;
  const half = amount && declaredHalfWidth(tolerance, amount);
  if (!amount || half === undefined || !reachesNothing(half, amount, schema)) return undefined;
  const description = `${textOf(tolerance)} reaches down to nothing: without a ± the usual one is taken`;
  const place = placeOf(tolerance);
  return problem('implausible-value', description, place);
}

function toleranceWithoutUnit(tolerance: ToleranceNode, own: string | undefined): Problem | undefined {
  if (own === undefined || own === '') return undefined;
  const place = placeOf(tolerance);
  const after = { ...place, start: place.end };
  // A gauge has no even steps: only a share of the copper's area makes sense.
  const isEven = parseUnit(own).unit?.scale !== undefined;
  const units = own === '%' || !isEven ? ['%'] : ['%', own];
  const fixes = units.map((unit) => replace(after, ` ${unit}`, `change to ${textOf(tolerance)} ${unit}`));
  return problem(
    'missing-unit',
    `a ± has a unit: ${either(units.map((unit) => `${tolerance.number} ${unit}`))}?`,
    place,
    fixes,
  );
}

/** Names of parts, rails and choices are looked after where names are resolved. */
function conditionProblem(clause: Condition, rule: ClauseRule): Problem | undefined {
  const of = `what comes after “${clause.word}”`;
  const isNumber = rule.shape === 'quantity' || rule.shape === 'range' || rule.shape === 'size';
  const expected = expectedOf(of, rule);
  const comma = commaProblem(clause, isNumber ? expected : undefined);
  if (comma) return comma;
  const { value } = clause;
  if (rule.shape === 'bare') return value && problem('clause', `nothing comes after “${clause.word}”`, placeOf(value));
  if (value === undefined)
    return problem('missing-value', `something is missing after “${clause.word}”`, placeOf(clause));
  const place = placeOf(value);
  if (isNamedNode(value) && isHalfNamed(value))
    return problem('missing-value', `a name is missing after ${textOf(value)}`, place);
  if (!isNumber)
    return isFigureNode(value) && !(rule.counted && value.times.length > 0)
      ? problem('wrong-dimension', `expected a name after “${clause.word}”, found a number`, place)
      : undefined;
  if (isFigureNode(value) && isMultiple(clause, rule)) return multipleOfHover(value);
  if (isFigureNode(value)) return figureProblem(value, of, rule.shape, expected);
  if (isMultiple(clause, rule) && isNamedNode(value)) return notHover(value);
  const what = isText(value) ? 'a text' : `the name ${textOf(value)}`;
  return problem(
    'wrong-dimension',
    `expected ${describe(rule.dimension ?? NONE)} after “${clause.word}”, found ${what}`,
    place,
  );
}

/** `at 1.4 x hover`: the one condition that is a multiple. */
function isMultiple(clause: Condition, rule: ClauseRule): boolean {
  const line = clause.$container;
  return rule.dimension === NONE && 'key' in line && line.key === 'flown';
}

/** Clauses of a sentence (`require`, `keep`, `accept`, `raise`, `note`, `observed`): only these words. */
export function sentenceClauseProblems(
  clauses: readonly Clause[],
  sentence: string,
  rules: Readonly<Partial<Record<Condition['word'], ClauseRule | 'any quantity'>>>,
): Problem[] {
  const stated = new Set<string>();
  return clauses.flatMap((clause) => {
    const word = wordOf(clause);
    if (stated.has(word)) return [problem('duplicate', `${word} is written twice`, placeOf(clause))];
    stated.add(word);
    const rule = isCondition(clause) ? rules[clause.word] : undefined;
    if (!isCondition(clause) || !rule) {
      if (isCondition(clause) && clause.word === 'on' && rules.with && isNamedNode(clause.value)) {
        const place = placeOfFeature(clause, 'word');
        return [problem('clause', `for one pack ${sentence} takes “with”, not “on”`, place, [replace(place, 'with')])];
      }
      const taken = either(Object.keys(rules).map((name) => `“${name}”`));
      return [problem('clause', `${sentence} takes no “${word}”; it takes ${taken}`, placeOf(clause))];
    }
    if (rule === 'any quantity') return anyQuantityProblem(clause);
    if (rule.shape === 'text' && clause.value !== undefined && !isText(clause.value)) {
      const place = restOfRow(clause.value);
      const quoted = `"${rowText(clause.value).replaceAll('"', "'")}"`;
      return [
        problem('wrong-dimension', `“${clause.word}” takes a text in quotes: ${quoted}`, place, [
          replace(place, quoted),
        ]),
      ];
    }
    const found = conditionProblem(clause, rule);
    return found ? [found] : [];
  });
}

/** What follows on the row was meant to be in the quotes as well. */
function rowText(node: AstNode): string {
  const text = node.$cstNode?.root.fullText.slice(node.$cstNode.offset) ?? '';
  return /^.*?(?=\s*(\/\/|[\r\n}]|$))/.exec(text)?.[0] ?? textOf(node);
}

function restOfRow(node: AstNode): Place {
  const place = placeOf(node);
  return { ...place, end: place.start + rowText(node).length };
}

/** Whether a sentence ends in a text without quotes, whose other words look like a line of their own. */
export function endsUnquoted(clauses: readonly Clause[]): boolean {
  const last = clauses.at(-1);
  return isCondition(last) && last.word === 'because' && last.value !== undefined && !isText(last.value);
}

/** `below 30 A`: its dimension is that of the finding's own number. */
function anyQuantityProblem(clause: Condition): Problem[] {
  const { value } = clause;
  const of = `what comes after “${clause.word}”`;
  if (value === undefined)
    return [problem('missing-value', `something is missing after “${clause.word}”`, placeOf(clause))];
  if (!isFigureNode(value))
    return [problem('wrong-dimension', `expected a number after “${clause.word}”`, placeOf(value))];
  const expected = anyQuantity(of, value);
  const comma = commaProblem(clause, expected);
  const found = comma ?? figureProblem(value, of, 'quantity', expected);
  return found ? [found] : [];
}
