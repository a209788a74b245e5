/** A comma in a value is a decimal comma, a thousands' comma, or the habit of listing. */
import { isFigureNode } from '../../grammar/generated/ast.ts';
import { isPlausible } from '../../model/plausible.ts';
import type { Place } from '../../syntax/place.ts';
import type { Problem } from '../../syntax/problem.ts';
import { placeOf, placeOfFeature, textOf } from '../../syntax/source.ts';
import { parseUnit } from '../../units/parse.ts';
import { either } from '../../vocabulary/phrasing.ts';
import { type Listing, listedProblem, type WithCommas } from './one-a-line.ts';
import { problem, replace, rewrite } from './problem-words.ts';
import type { Expected } from './quantity-problems.ts';

/** One problem for all commas of a value. */
export function commaProblem(
  node: WithCommas,
  expected: Expected | undefined,
  listing: Listing = {},
): Problem | undefined {
  if (node.commas.length === 0) return undefined;
  return numberWithComma(node, expected) ?? listedProblem(node, listing);
}

/** Digits on both sides of a comma and no space between. */
interface SplitNumber {
  readonly place: Place;
  readonly head: string;
  readonly tail: string;
}

function splitNumbers(node: WithCommas): SplitNumber[] {
  const text = node.$cstNode?.root.fullText ?? '';
  return node.commas.flatMap((_, index) => {
    const comma = placeOfFeature(node, 'commas', index);
    const [head] = /(?:\d+\.)?\d+$/.exec(text.slice(placeOf(node).start, comma.start)) ?? [];
    const [tail] = /^\d+(?:\.\d+)?/.exec(text.slice(comma.end, placeOf(node).end)) ?? [];
    if (head === undefined || tail === undefined) return [];
    const place = { ...comma, start: comma.start - head.length, end: comma.end + tail.length };
    return [{ place, head, tail }];
  });
}

function numberWithComma(node: WithCommas, expected: Expected | undefined): Problem | undefined {
  const [split, ...others] = splitNumbers(node);
  if (!split) return undefined;
  const isGrouped = others.some((other) => other.place.start < split.place.end);
  if (isGrouped) return groupedNumber(node, split.place.start, expected);
  if (node.commas.length > 1 || !isBare(node)) return decimals([split, ...others]);
  const [right] = node.extra;
  const unit = isFigureNode(right) ? right.unit : undefined;
  const decimal = decimalOf(split);
  const grouped = split.head.includes('.') ? [] : [`${split.head}${split.tail}`];
  const mayGroup = /^[1-9]\d{0,2}$/.test(split.head) && /^\d{3}(\.\d+)?$/.test(split.tail);
  if (!mayGroup && canBe(decimal, unit, expected)) return decimals([split]);
  const meant = [...grouped, decimal].filter((number) => canBe(number, unit, expected));
  const offered = meant.length > 0 ? meant : mayGroup ? [...grouped, decimal] : [decimal];
  return problem(
    'number-form',
    `a number has no commas: ${either(offered)}`,
    split.place,
    meant.map((number) => replace(split.place, number)),
  );
}

/** One number, of which the comma is a part. */
function isBare({ value, extra: [right] }: WithCommas): boolean {
  return [value, right].every(
    (side) => isFigureNode(side) && side.times.length === 0 && side.range === undefined && side.more.length === 0,
  );
}

function decimals(split: readonly SplitNumber[]): Problem | undefined {
  const [first] = split;
  if (!first) return undefined;
  const edits = split.map((number) => ({ place: number.place, newText: decimalOf(number) }));
  const written = split.map(decimalOf).join(', ');
  return problem('number-form', `a decimal point, not a comma: ${written}`, first.place, [
    { title: `change to ${written}`, isCertain: true, edits },
  ]);
}

/** `1.000,5`: points between the thousands. */
const decimalOf = ({ head, tail }: SplitNumber): string =>
  `${/^\d{1,3}\.\d{3}$/.test(head) ? head.replace('.', '') : head}.${tail}`;

/** `1,105,000 rpm/V` */
function groupedNumber(node: WithCommas, start: number, expected: Expected | undefined): Problem | undefined {
  const place = placeOf(node);
  const text = textOf(node).slice(start - place.start);
  const [written] = /^\d{1,3}(,\d{3})+(\.\d+)?(?![\d,])/.exec(text) ?? [];
  if (written === undefined) return undefined;
  const number = { ...place, start, end: start + written.length };
  const joined = written.replaceAll(',', '');
  const last = node.extra.at(-1);
  const isPossible = canBe(joined, isFigureNode(last) ? last.unit : undefined, expected);
  const fixes = isPossible ? [rewrite(number, joined)] : [];
  return problem('number-form', `a number has no commas: ${joined}`, number, fixes);
}

function canBe(number: string, unitText: string | undefined, expected: Expected | undefined): boolean {
  if (!expected) return true;
  const unit = unitText === undefined ? undefined : parseUnit(unitText).unit;
  const dimension = unit?.dimension ?? expected.dimensions[0];
  const value = unit ? unit.toSI(Number(number)) : Number(number);
  return dimension === undefined || isPlausible(value, dimension, expected);
}
