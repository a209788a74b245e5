/** A comma in a value is a decimal comma, a thousands' comma, or the habit of listing. */
import type { AstNode } from 'langium';
import type { Property } from '../../grammar/generated/ast.ts';
import { isFigure } from '../../grammar/generated/ast.ts';
import { lineBreakOf } from '../../grammar/value-texts.ts';
import { isPlausible } from '../../model/plausible.ts';
import type { Place } from '../../syntax/place.ts';
import type { Problem } from '../../syntax/problem.ts';
import { placeOf, placeOfFeature, textOf } from '../../syntax/source.ts';
import { parseUnit } from '../../units/parse.ts';
import { problem, replace, rewrite } from './problem-text.ts';
import type { Expected } from './quantity-problems.ts';

export interface WithCommas extends AstNode {
  readonly value?: NonNullable<Property['value']>;
  readonly commas: readonly string[];
  readonly extra: readonly NonNullable<Property['value']>[];
}

export interface Listing {
  /** The word to begin further lines with, where the line is allowed several times. */
  readonly key?: string;
  /** What comes between the numbers of its shape. */
  readonly parting?: 'x' | '..';
}

/** One problem for all commas of a value. */
export function commaProblem(
  node: WithCommas,
  expected: Expected | undefined,
  listing: Listing = {},
): Problem | undefined {
  if (node.commas.length === 0) return undefined;
  return numberWithComma(node, expected) ?? listed(node, listing);
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
  const unit = isFigure(right) ? right.unit : undefined;
  const decimal = decimalOf(split);
  const grouped = split.head.includes('.') ? [] : [`${split.head}${split.tail}`];
  const mayGroup = /^[1-9]\d{0,2}$/.test(split.head) && /^\d{3}(\.\d+)?$/.test(split.tail);
  if (!mayGroup && canBe(decimal, unit, expected)) return decimals([split]);
  const meant = [...grouped, decimal].filter((number) => canBe(number, unit, expected));
  const offered = meant.length > 0 ? meant : mayGroup ? [...grouped, decimal] : [decimal];
  return problem(
    'number-form',
    `a number has no commas: ${offered.join(' or ')}`,
    split.place,
    meant.map((number) => replace(split.place, number)),
  );
}

/** One number, of which the comma is a part. */
function isBare({ value, extra: [right] }: WithCommas): boolean {
  return [value, right].every(
    (side) => isFigure(side) && side.times.length === 0 && side.range === undefined && side.more.length === 0,
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
  const isPossible = canBe(joined, isFigure(last) ? last.unit : undefined, expected);
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

const PARTINGS = {
  x: { description: 'sides are parted by x: 62 x 17 x 14 mm', newText: ' x' },
  '..': { description: 'a range is written with two points: 7 V .. 26 V', newText: ' ..' },
} as const;

function listed(node: WithCommas, { key, parting }: Listing): Problem {
  const comma = placeOfFeature(node, 'commas');
  const isWhole = isFigure(node.value) && node.extra.length === node.commas.length && node.extra.every(isFigure);
  const mayPart = isWhole && (parting === 'x' || (parting === '..' && node.commas.length === 1));
  if (parting && mayPart) {
    const { description, newText } = PARTINGS[parting];
    const edits = node.commas.map((_, index) => ({ place: placeOfFeature(node, 'commas', index), newText }));
    return problem('one-a-line', description, comma, [{ title: `change to ${parting}`, edits }]);
  }
  if (key === undefined)
    return problem('one-a-line', 'only one value is allowed here: what is after the comma for?', comma);
  const description = 'one statement per line: write the line again for the next';
  if (node.extra.length < node.commas.length || node.value === undefined)
    return problem('one-a-line', description, comma);
  const indent = indentOf(node);
  const line = node.$cstNode?.text ?? '';
  const start = node.$cstNode?.offset ?? 0;
  const values = [node.value, ...node.extra];
  const behind = line.slice(placeOf(values.at(-1) as AstNode).end - start);
  const before = line.slice(0, placeOf(node.value).start - start);
  const lines = values.map((value, index) => `${index === 0 ? before : `${key}: `}${textOf(value)}`);
  const rewritten = lines.join(lineBreakOf(node.$cstNode?.root.fullText ?? '') + indent) + behind;
  return problem('one-a-line', description, comma, [replace(placeOf(node), rewritten, 'write one line for each')]);
}

function indentOf(node: AstNode): string {
  const cst = node.$cstNode;
  if (!cst) return '';
  const text = cst.root.fullText;
  const lineStart = text.lastIndexOf('\n', cst.offset - 1) + 1;
  return /^[ \t]*/.exec(text.slice(lineStart, cst.offset))?.[0] ?? '';
}
