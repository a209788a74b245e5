/** Checks of what comes after `require`: half-written comparisons, several in a row, sides of different sorts. */

import {
  type ExpressionNode,
  isGroupNode,
  isQuantity,
  isResultNode,
  isUnknownNode,
  type Operand,
  type Quantity,
  type Require,
} from '../../grammar/generated/ast.ts';
import type { Expression } from '../../model/build.ts';
import { bareShares, isJudgement, misplacedPart, readExpression } from '../../model/expressions.ts';
import { COMPARING_SIGNS } from '../../syntax/comparison-signs.ts';
import type { Problem } from '../../syntax/problem.ts';
import { endOf, nameText, placeOf, placeOfFeature, textOf } from '../../syntax/source.ts';
import { alike, describe, divideDimension, multiplyDimension } from '../../units/dimension.ts';
import type { Dimension } from '../../units/quantity.ts';
import { either } from '../../vocabulary/phrasing.ts';
import {
  FLIGHT_RESULTS,
  isFlightResultName,
  isRailResultName,
  isResultName,
  RAIL_RESULTS,
  type ResultSchema,
  resultOf,
  schemaOfResult,
} from '../../vocabulary/results.ts';
import type { ClauseRule } from '../../vocabulary/schema.ts';
import { sentenceClauseProblems } from './clause-problems.ts';
import { problem, replace, rewrite } from './problem-words.ts';
import { amountProblem, anyQuantity, inPercent } from './quantity-problems.ts';

const WITH: ClauseRule = { shape: 'part', parts: ['pack'] };
const BECAUSE: ClauseRule = { shape: 'text' };

/** `require hover_time >= 3,5 min`: the comma ends the line, and what follows it seems to be another one. */
export function commaInRequire(line: Require): Problem | undefined {
  const { condition } = line;
  const siblings = 'lines' in line.$container ? line.$container.lines : [];
  const next = siblings[siblings.indexOf(line) + 1];
  const last = condition && [...operandsOf(condition)].at(-1);
  if (
    !next ||
    !isUnknownNode(next) ||
    !isQuantity(last) ||
    last.number === undefined ||
    last.unit !== undefined ||
    line.clauses.length > 0
  )
    return undefined;
  const [, digits] = /^,(\d+)/.exec(textOf(next)) ?? [];
  const number = placeOfFeature(last, 'number');
  if (digits === undefined || number.end !== placeOf(next).start) return undefined;
  const place = { ...number, end: number.end + 1 + digits.length };
  const decimal = `${last.number}.${digits}`;
  return problem('number-form', `a decimal point, not a comma: ${decimal}`, place, [rewrite(place, decimal)]);
}

export function requireProblems(line: Require): Problem[] {
  const comma = commaInRequire(line);
  if (comma) return [comma];
  const { condition } = line;
  if (!condition) {
    const start = placeOf(line).start;
    const place = { ...placeOf(line), end: start + 'require'.length };
    return [problem('missing-value', 'require what? for instance: require hover_time >= 4 min', place)];
  }
  const clauses = sentenceClauseProblems(line.clauses, 'require', { with: WITH, because: BECAUSE });
  const form = formProblem(condition);
  return form ? [form, ...clauses] : [...sortProblems(condition), ...clauses];
}

/** `require rail.video`, `require flight.Round`: names that are all known, and no result behind them. Checked once names refer to something. */
export function unfinishedResults({ condition }: Require): Problem[] {
  const results = condition ? [...operandsOf(condition)].filter(isResultNode) : [];
  return results.flatMap((result) => {
    const { head, tail, dots, call } = result;
    const known = OF_BLOCKS.get(head.$refText);
    const isWhole = !call && dots.length === tail.length && tail.every(({ ref }) => ref);
    if (!known || !isWhole || known.isResult(tail.at(-1)?.$refText ?? '')) return [];
    const block = tail.length > 0 ? nameText(result) : `${head.$refText}.NAME`;
    const description = `which value of it? ${either(known.results.map(({ name }) => `${block}.${name}`))}`;
    return [problem('missing-value', description, placeOf(result))];
  });
}

/** What has results of its own, by the word that they begin with. */
const OF_BLOCKS = new Map<string, { results: readonly ResultSchema<string>[]; isResult: (name: string) => boolean }>([
  ['rail', { results: RAIL_RESULTS, isResult: isRailResultName }],
  ['flight', { results: FLIGHT_RESULTS, isResult: isFlightResultName }],
]);

const JOINTS = new Set(['and', 'or']);

function formProblem(node: ExpressionNode): Problem | undefined {
  return orderProblem(node) ?? (isCompared(node) || isUnsettled(node) ? undefined : notCompared(node));
}

/** The first thing wrong with the order of operands and operators. Inside brackets an arithmetic value will do. */
function orderProblem(node: ExpressionNode): Problem | undefined {
  const dangling = node.operators.length - node.operands.length + 1;
  if (dangling > 0) return danglingOperator(node);
  const equals = node.operators.indexOf('=');
  if (equals >= 0) {
    const place = placeOfFeature(node, 'operators', equals);
    const description = 'a computed value is never exactly equal: use >= or <=';
    return problem('syntax', description, place, [replace(place, '>='), replace(place, '<=')]);
  }
  for (const operand of node.operands) {
    const inner = innerProblem(operand);
    if (inner) return inner;
  }
  return chained(node);
}

function danglingOperator(node: ExpressionNode): Problem {
  const last = node.operators.length - 1;
  const operator = node.operators[last] ?? '';
  return problem('missing-value', `something is missing after ${operator}`, placeOfFeature(node, 'operators', last));
}

function innerProblem(operand: Operand): Problem | undefined {
  if (isGroupNode(operand)) {
    if (!operand.inner)
      return operand.open ? problem('missing-value', 'the brackets are empty', placeOf(operand)) : undefined;
    return orderProblem(operand.inner);
  }
  if (!isResultNode(operand)) return undefined;
  if (operand.dots.length > operand.tail.length) {
    return problem('missing-value', `a name is missing after ${textOf(operand)}`, placeOf(operand));
  }
  const name = operand.head.$refText;
  if (!operand.call) {
    const isCallable = (name === 'min' || name === 'max') && operand.tail.length === 0;
    return isCallable ? problem('missing-value', `${name} of what? ${name}(…, …)`, placeOf(operand)) : undefined;
  }
  if (name !== 'min' && name !== 'max') {
    // A name that nobody knows is looked after where names are resolved.
    return isResultName(name)
      ? problem('unknown-name', `only min and max take brackets, not ${name}`, placeOf(operand))
      : undefined;
  }
  if (operand.arguments.length === 0)
    return problem('missing-value', `${name} of what? ${name}(…, …)`, placeOf(operand));
  return operand.arguments.map(orderProblem).find((found) => found !== undefined);
}

/** `3 <= thrust_to_weight <= 5` */
function chained(node: ExpressionNode): Problem | undefined {
  let compared = false;
  for (const operator of node.operators) {
    if (JOINTS.has(operator)) compared = false;
    if (!COMPARING_SIGNS.has(operator)) continue;
    if (compared) {
      return problem('syntax', 'one comparison at a time: write two requires, or join them by and', placeOf(node));
    }
    compared = true;
  }
  return undefined;
}

/** Whether the whole can pass or fail. */
function isCompared(node: ExpressionNode): boolean {
  if (node.operators.some((operator) => COMPARING_SIGNS.has(operator) || JOINTS.has(operator))) return true;
  const [only] = node.operands;
  if (!isGroupNode(only) || node.operands.length > 1) return false;
  return only.not || (only.inner !== undefined && isCompared(only.inner));
}

/** A name that nobody knows or a bracket that is open: one problem is enough. */
function isUnsettled(node: ExpressionNode): boolean {
  return [...operandsOf(node)].some((operand) => {
    if (isGroupNode(operand)) return !operand.closed;
    if (!isResultNode(operand)) return false;
    return operand.call ? !operand.closed : !resultOf(nameText(operand));
  });
}

const NOT_COMPARED = 'compare it with something: >= or <= and a value';

function notCompared(node: ExpressionNode): Problem {
  return problem('missing-value', NOT_COMPARED, placeOf(node));
}

// ---- dimensions ----

/** Numbers without or with unknown units first, then sides that cannot be compared. */
function sortProblems(condition: ExpressionNode): Problem[] {
  const units = quantitiesOf(condition).flatMap((quantity) => unitProblemOf(quantity));
  if (units.length > 0) return units;
  const tree = readExpression(condition);
  if (!tree) return [];
  const misplaced = misplacedPart(tree);
  if (misplaced) return isUnsettled(condition) ? [] : [misplacedProblem(misplaced)];
  const found: Problem[] = [...bareShares(tree)].map(bareShareProblem);
  if (found.length === 0) dimensionOf(tree, found);
  return found.slice(0, 1);
}

function bareShareProblem({ figure, place }: Expression & { kind: 'quantity' }): Problem {
  const meant = inPercent(figure.value);
  const description = `a share is written in percent: ${either(meant)}?`;
  return problem(
    'missing-unit',
    description,
    place,
    meant.map((percent) => replace(place, percent)),
  );
}

function misplacedProblem(part: Expression): Problem {
  if (isJudgement(part)) return problem('syntax', 'a comparison has no value to calculate with', part.place);
  return problem('missing-value', NOT_COMPARED, part.place);
}

function* operandsOf(node: ExpressionNode): Iterable<Operand> {
  for (const operand of node.operands) {
    yield operand;
    if (isGroupNode(operand) && operand.inner) yield* operandsOf(operand.inner);
    if (isResultNode(operand)) for (const argument of operand.arguments) yield* operandsOf(argument);
  }
}

function quantitiesOf(node: ExpressionNode): Quantity[] {
  return [...operandsOf(node)].filter(isQuantity);
}

/** Only whether units exist and amounts add up: what is wanted depends on the other side. */
function unitProblemOf(quantity: Quantity): Problem[] {
  const isBare = quantity.unit === undefined && quantity.more.length === 0;
  if (isBare && Number.isFinite(Number(quantity.number ?? 0))) return [];
  const expected = anyQuantity('the number', quantity);
  const found = amountProblem(quantity, quantity.more, expected);
  return found ? [found] : [];
}

/** Undefined when a result has no known dimension: then it cannot be judged. */
function dimensionOf(expression: Expression, found: Problem[]): Dimension | undefined {
  switch (expression.kind) {
    case 'quantity':
      return expression.figure.dimension;
    case 'result':
      // The parts state the currency.
      return expression.name === 'price' ? undefined : expression.of && schemaOfResult(expression.of).dimension;
    case 'not':
      dimensionOf(expression.operand, found);
      return undefined;
    case 'and':
    case 'or':
      for (const operand of expression.operands) dimensionOf(operand, found);
      return undefined;
    case 'extreme':
      return sameDimension(expression.arguments, expression, found);
    case 'comparison':
      sameDimension([expression.left, expression.right], expression, found);
      return undefined;
    default:
      return arithmeticDimension(expression, found);
  }
}

function arithmeticDimension(expression: Expression & { kind: 'arithmetic' }, found: Problem[]): Dimension | undefined {
  const { operator, left, right } = expression;
  if (operator === '+' || operator === '-') return sameDimension([left, right], expression, found);
  const [one, other] = [dimensionOf(left, found), dimensionOf(right, found)];
  if (!one || !other) return undefined;
  return operator === '*' ? multiplyDimension(one, other) : divideDimension(one, other);
}

function sameDimension(expressions: readonly Expression[], whole: Expression, found: Problem[]): Dimension | undefined {
  const dimensions = expressions.map((expression) => dimensionOf(expression, found));
  const [first] = dimensions;
  const [left] = expressions;
  if (!first || !left) return undefined;
  for (const [index, dimension] of dimensions.entries()) {
    const right = expressions[index];
    if (!dimension || !right || alike(dimension, first)) continue;
    found.push(differentSorts(left, first, right, dimension, whole));
    return undefined;
  }
  return first;
}

function differentSorts(
  left: Expression,
  first: Dimension,
  right: Expression,
  second: Dimension,
  whole: Expression,
): Problem {
  const bare = [left, right].find((side) => side.kind === 'quantity' && side.figure.unit === '');
  const other = bare === left ? right : left;
  if (bare?.kind === 'quantity' && other.kind === 'result') {
    const unit = other.of ? schemaOfResult(other.of).unit : '';
    const description = `a unit is needed: ${other.name} is ${describe(bare === left ? second : first)}`;
    const after = endOf(bare.place);
    return problem(
      'missing-unit',
      description,
      bare.place,
      unit === '' ? [] : [replace(after, ` ${unit}`, `change to ${unit}`)],
    );
  }
  const description = `these cannot be compared: ${nameOf(left)} is ${describe(first)}, ${nameOf(right)} is ${describe(second)}`;
  return problem('wrong-dimension', description, right.kind === 'quantity' ? right.place : whole.place);
}

function nameOf(expression: Expression): string {
  if (expression.kind === 'result') return expression.name;
  return expression.kind === 'quantity' ? 'the number' : 'the calculation';
}
