/**
 * Requirements: the flat list of operands and operators that the grammar yields becomes a tree.
 * From loosest to tightest: or · and · one comparison · + - · * /. Long chains become balanced trees, so that no later reader
 * needs a deep stack.
 */

import { type ExpressionNode, isGroupNode, isQuantity, type Operand } from '../grammar/generated/ast.ts';
import { COMPARISON_SIGNS } from '../syntax/comparison-signs.ts';
import type { Place } from '../syntax/place.ts';
import { placeOf, span, uriOf } from '../syntax/source.ts';
import { nameOfResult, type ResultKey, readResult, schemaOfResult } from '../vocabulary/results.ts';
import { readAmount } from './amounts.ts';
import type { ComparisonOperator, Expression } from './build.ts';
import { exactFigure, OF_A_LINE } from './figures.ts';

/** The result of a build that a requirement refers to: `rail.Board35.video.voltage` may be `rail.video.voltage` there. */
export type ResultInBuild = (written: ResultKey) => ResultKey;

/** The same requirement with results called as a build calls them. */
export function renamed(expression: Expression, resultInBuild: ResultInBuild): Expression {
  switch (expression.kind) {
    case 'quantity':
      return expression;
    case 'result': {
      const of = expression.of && resultInBuild(expression.of);
      return of ? { ...expression, of, name: nameOfResult(of) } : expression;
    }
    case 'not':
      return { ...expression, operand: renamed(expression.operand, resultInBuild) };
    case 'extreme':
      return { ...expression, arguments: expression.arguments.map((one) => renamed(one, resultInBuild)) };
    case 'and':
    case 'or':
      return { ...expression, operands: expression.operands.map((one) => renamed(one, resultInBuild)) };
    default:
      return {
        ...expression,
        left: renamed(expression.left, resultInBuild),
        right: renamed(expression.right, resultInBuild),
      };
  }
}

/** Whether it holds or fails, where other expressions have a value. */
export function isJudgement({ kind }: Expression): boolean {
  return kind === 'comparison' || kind === 'and' || kind === 'or' || kind === 'not';
}

/** The first part of an expression that is where one of the other sort belongs: a bare value next to `and`, a comparison in a sum. */
export function misplacedPart(expression: Expression): Expression | undefined {
  const wantsJudgements = expression.kind === 'and' || expression.kind === 'or' || expression.kind === 'not';
  for (const part of partsOf(expression)) {
    const found = isJudgement(part) === wantsJudgements ? misplacedPart(part) : part;
    if (found) return found;
  }
  return undefined;
}

/**
 * Numbers without a unit that are compared with a share, or added to one: `hover_duty <= 60` may mean 60 % or sixty times the whole.
 * Nought is nought in any unit.
 */
export function bareShares(expression: Expression): Iterable<Expression & { kind: 'quantity' }> {
  return bareIn(expression, false);
}

/** @param isBesideShare whether it is compared with a share or added to one: then all of its own terms are, too */
function* bareIn(expression: Expression, isBesideShare: boolean): Iterable<Expression & { kind: 'quantity' }> {
  if (isBesideShare && expression.kind === 'quantity' && isBare(expression) && expression.figure.value !== 0) {
    yield expression;
  }
  const sides = sidesOf(expression);
  const areShares = isBesideShare || sides.some(isShare);
  for (const part of partsOf(expression)) yield* bareIn(part, areShares && sides.includes(part));
}

/** What must be of one sort: both sides of a comparison or a sum, and what is chosen from. */
function sidesOf(expression: Expression): readonly Expression[] {
  switch (expression.kind) {
    case 'comparison':
      return [expression.left, expression.right];
    case 'extreme':
      return expression.arguments;
    case 'arithmetic':
      return isSum(expression) ? [expression.left, expression.right] : [];
    default:
      return [];
  }
}

const isSum = ({ operator }: Expression & { kind: 'arithmetic' }): boolean => operator === '+' || operator === '-';

/** Read and written in percent. */
function isShare(expression: Expression): boolean {
  switch (expression.kind) {
    case 'quantity':
      return expression.figure.unit === '%';
    case 'result':
      return expression.of !== undefined && schemaOfResult(expression.of).unit === '%';
    case 'arithmetic':
      return isSum(expression) ? sidesOf(expression).some(isShare) : isMultipleOfShare(expression);
    default:
      return sidesOf(expression).some(isShare);
  }
}

/** `2 * hover_duty`, `hover_duty / 2`; but `100 * hover_duty` counts percent already, and a bare number is right behind it. */
function isMultipleOfShare(product: Product): boolean {
  const numbers: number[] = [];
  const others: Factor[] = [];
  for (const factor of factorsOf(product)) {
    const number = numberOf(factor.expression);
    if (number === undefined) others.push(factor);
    else numbers.push(factor.isDivisor ? 1 / number : number);
  }
  const [share, another] = others;
  if (!share || another || share.isDivisor || !isShare(share.expression)) return false;
  // `hover_duty / 0.01`, `5 * 20 * hover_duty`; and half of what counts percent, `100 * hover_duty / 2`, is counted in it, too.
  return ![...numbers, numbers.reduce((whole, number) => whole * number, 1)].some(isHundred);
}

type Product = Expression & { kind: 'arithmetic' };

interface Factor {
  readonly expression: Expression;
  readonly isDivisor: boolean;
}

/** What is multiplied and divided by, through all brackets. */
function factorsOf(expression: Expression, isDivisor = false): readonly Factor[] {
  if (expression.kind !== 'arithmetic' || isSum(expression)) return [{ expression, isDivisor }];
  const { operator, left, right } = expression;
  return [...factorsOf(left, isDivisor), ...factorsOf(right, operator === '/' ? !isDivisor : isDivisor)];
}

/** Of bare numbers and what is computed from nothing else. */
function numberOf(expression: Expression): number | undefined {
  if (expression.kind === 'quantity') return isBare(expression) ? expression.figure.value : undefined;
  if (expression.kind !== 'arithmetic') return undefined;
  const left = numberOf(expression.left);
  const right = numberOf(expression.right);
  if (left === undefined || right === undefined) return undefined;
  switch (expression.operator) {
    case '+':
      return left + right;
    case '-':
      return left - right;
    case '*':
      return left * right;
    case '/':
      return left / right;
  }
}

/** On either side of nought, and as exactly as products of decimals are. */
const isHundred = (factor: number): boolean => Math.abs(Math.abs(factor) - 100) <= 100 * 1e-9;

const isBare = ({ figure }: Expression & { kind: 'quantity' }): boolean => figure.unit === '';

/** The results it refers to. */
export function* resultsIn(expression: Expression): Iterable<Expression & { kind: 'result' }> {
  if (expression.kind === 'result') yield expression;
  for (const part of partsOf(expression)) yield* resultsIn(part);
}

/** The flights whose results it refers to. */
export const flightsIn = (expression: Expression): ReadonlySet<string> =>
  new Set([...resultsIn(expression)].flatMap(({ of }) => (of?.of === 'flight' ? of.owner : [])));

function partsOf(expression: Expression): readonly Expression[] {
  switch (expression.kind) {
    case 'quantity':
    case 'result':
      return [];
    case 'not':
      return [expression.operand];
    case 'extreme':
      return expression.arguments;
    case 'and':
    case 'or':
      return expression.operands;
    default:
      return [expression.left, expression.right];
  }
}

interface Term {
  readonly operator: string;
  readonly expression: Expression;
}

/** Undefined when half of it is missing or it makes no sense yet; the text's own checks report why. */
export function readExpression(node: ExpressionNode | undefined): Expression | undefined {
  if (!node || node.operators.length !== node.operands.length - 1) return undefined;
  const terms: Term[] = [];
  for (const [index, operand] of node.operands.entries()) {
    const expression = readOperand(operand);
    if (!expression) return undefined;
    terms.push({ operator: index === 0 ? '' : (node.operators[index - 1] ?? ''), expression });
  }
  return readEither(terms);
}

function readEither(terms: readonly Term[]): Expression | undefined {
  return junction('or', terms, (part) => junction('and', part, readComparison));
}

function junction(
  kind: 'and' | 'or',
  terms: readonly Term[],
  readPart: (terms: readonly Term[]) => Expression | undefined,
): Expression | undefined {
  const operands: Expression[] = [];
  for (const part of splitAt(terms, [kind])) {
    const operand = readPart(part);
    if (!operand) return undefined;
    operands.push(operand);
  }
  const [only] = operands;
  return operands.length === 1 ? only : { kind, operands, place: whole(operands) };
}

function readComparison(terms: readonly Term[]): Expression | undefined {
  const sides = splitAt(terms, [...COMPARISON_SIGNS]);
  const [left, right] = sides;
  if (!left || sides.length > 2) return undefined;
  if (!right) return readSum(left);
  const operator = right[0]?.operator as ComparisonOperator;
  const first = readSum(left);
  const second = readSum(right);
  if (!first || !second) return undefined;
  return { kind: 'comparison', operator, left: first, right: second, place: whole([first, second]) };
}

function readSum(terms: readonly Term[]): Expression | undefined {
  return signedChain(splitAt(terms, ['+', '-']), '+', '-', readProduct);
}

function readProduct(terms: readonly Term[]): Expression | undefined {
  // Whatever operator is left here (`=`) has no place in arithmetic.
  if (terms.slice(1).some((term) => term.operator !== '*' && term.operator !== '/')) return undefined;
  return signedChain(splitAt(terms, ['*', '/']), '*', '/', (part) => part[0]?.expression);
}

/** `a - b + c` is (a + c) - b, `a / b * c` is (a · c) / b. */
function signedChain(
  parts: readonly (readonly Term[])[],
  forward: '+' | '*',
  backward: '-' | '/',
  readPart: (terms: readonly Term[]) => Expression | undefined,
): Expression | undefined {
  const kept: Expression[] = [];
  const taken: Expression[] = [];
  for (const part of parts) {
    const expression = readPart(part);
    if (!expression) return undefined;
    (part[0]?.operator === backward ? taken : kept).push(expression);
  }
  const left = balanced(kept, forward);
  if (!left || taken.length === 0) return left;
  const right = balanced(taken, forward);
  if (!right) return undefined;
  return { kind: 'arithmetic', operator: backward, left, right, place: whole([...kept, ...taken]) };
}

function balanced(expressions: readonly Expression[], operator: '+' | '*'): Expression | undefined {
  if (expressions.length <= 1) return expressions[0];
  const middle = Math.ceil(expressions.length / 2);
  const left = balanced(expressions.slice(0, middle), operator);
  const right = balanced(expressions.slice(middle), operator);
  if (!left || !right) return undefined;
  return { kind: 'arithmetic', operator, left, right, place: whole(expressions) };
}

/** Cuts before each of the operators; every piece keeps its first operator. */
function splitAt(terms: readonly Term[], operators: readonly string[]): Term[][] {
  const pieces: Term[][] = [];
  for (const term of terms) {
    const piece = pieces.at(-1);
    // The first term of the list may have the operator at which its list was cut.
    if (!piece || operators.includes(term.operator)) pieces.push([term]);
    else piece.push(term);
  }
  return pieces;
}

function readOperand(operand: Operand): Expression | undefined {
  const place = placeOf(operand);
  if (isQuantity(operand)) {
    const amount = readAmount(operand, operand.more);
    if (!amount) return undefined;
    const identity = {
      id: `${uriOf(operand)}@${place.start}`,
      label: 'the number in the requirement',
      whose: OF_A_LINE,
    };
    return { kind: 'quantity', figure: exactFigure(identity, amount, place), place };
  }
  if (isGroupNode(operand)) {
    const inner = readExpression(operand.inner);
    if (!inner || !operand.not) return inner;
    return { kind: 'not', operand: inner, place };
  }
  if (operand.dots.length > operand.tail.length) return undefined;
  const steps = [operand.head, ...operand.tail].map((reference) => reference.$refText);
  const name = steps.join('.');
  if (!operand.call) return { kind: 'result', name, of: readResult(steps), place };
  if (name !== 'min' && name !== 'max') return undefined;
  const values = operand.arguments.map((argument) => readExpression(argument));
  if (values.length === 0 || !values.every((value) => value !== undefined)) return undefined;
  return { kind: 'extreme', call: name, arguments: values, place };
}

function whole(expressions: readonly Expression[]): Place {
  const places = expressions.map((expression) => expression.place);
  return places.reduce((first, second) =>
    span(first.start <= second.start ? first : second, first.end >= second.end ? first : second),
  );
}
