/** A comma in a value is a decimal comma, a thousands' comma, or the habit of listing. */
import type { AstNode } from 'langium';
import type { Figure, Named, Text } from '../../grammar/generated/ast.ts';
import { isFigure } from '../../grammar/generated/ast.ts';
import { lineBreakOf } from '../../grammar/values.ts';
import { parseUnit } from '../../units/parse.ts';
import type { Place } from '../place.ts';
import { isPlausible } from '../plausible.ts';
import type { Problem } from '../problem.ts';
import { placeOf, placeOfFeature, span, textOf } from '../source.ts';
import type { Expected } from './quantities.ts';
import { problem, replace, rewrite } from './report.ts';

export interface WithCommas extends AstNode {
  readonly value?: Figure | Named | Text;
  readonly commas: readonly string[];
  readonly extra: readonly (Figure | Named | Text)[];
}

/** One problem for all commas of a value. `key` is the word to begin further lines with, when the line has one. */
export function commaProblem(node: WithCommas, expected: Expected | undefined, key?: string): Problem | undefined {
  if (node.commas.length === 0) return undefined;
  return numberWithComma(node, expected) ?? listed(node, key);
}

interface SplitNumber {
  readonly place: Place;
  readonly head: string;
  readonly tail: string;
  readonly unit?: string;
}

/** Digits on both sides of the comma and no space between. */
function splitNumber(node: WithCommas): SplitNumber | undefined {
  const [right] = node.extra;
  if (!isFigure(node.value) || !isFigure(right) || node.value.unit !== undefined || right.negative) return undefined;
  const last = node.value.more.at(-1) ?? node.value;
  const head = placeOfFeature(last, 'number');
  const tail = placeOfFeature(right, 'number');
  const comma = placeOfFeature(node, 'commas');
  if (last.unit !== undefined || head.end !== comma.start || comma.end !== tail.start) return undefined;
  const unit = right.unit === undefined ? {} : { unit: right.unit };
  return { place: span(head, tail), head: last.number, tail: right.number, ...unit };
}

function numberWithComma(node: WithCommas, expected: Expected | undefined): Problem | undefined {
  const split = splitNumber(node);
  if (!split) return undefined;
  if (node.commas.length > 1) return groupedNumber(node, split.place.start);
  // `1.000,5`: points between the thousands.
  const decimal = /^\d{1,3}\.\d{3}$/.test(split.head)
    ? `${split.head.replace('.', '')}.${split.tail}`
    : `${split.head}.${split.tail}`;
  const grouped = `${split.head}${split.tail}`;
  const mayGroup = /^[1-9]\d{0,2}$/.test(split.head) && /^\d{3}(\.\d+)?$/.test(split.tail);
  if (!mayGroup) {
    return problem('number-form', `a decimal point, not a comma: ${decimal}`, split.place, [
      rewrite(split.place, decimal),
    ]);
  }
  const meant = [grouped, decimal].filter((number) => canBe(number, split.unit, expected));
  const offered = meant.length > 0 ? meant : [grouped, decimal];
  const says = `a number has no commas: ${offered.join(' or ')}`;
  return problem(
    'number-form',
    says,
    split.place,
    offered.map((number) => replace(split.place, number)),
  );
}

/** `1,105,000 rpm/V` */
function groupedNumber(node: WithCommas, start: number): Problem | undefined {
  const place = placeOf(node);
  const text = textOf(node).slice(start - place.start);
  const [written] = /^\d{1,3}(,\d{3})+(\.\d+)?(?![\d,])/.exec(text) ?? [];
  if (written === undefined) return undefined;
  const number = { ...place, start, end: start + written.length };
  const joined = written.replaceAll(',', '');
  return problem('number-form', `a number has no commas: ${joined}`, number, [rewrite(number, joined)]);
}

function canBe(number: string, unitText: string | undefined, expected: Expected | undefined): boolean {
  if (!expected) return true;
  const unit = unitText === undefined ? undefined : parseUnit(unitText).unit;
  const dimension = unit?.dimension ?? expected.dimensions[0];
  const value = unit ? unit.toSI(Number(number)) : Number(number);
  return dimension === undefined || isPlausible(value, dimension, expected);
}

function listed(node: WithCommas, key: string | undefined): Problem {
  const comma = placeOfFeature(node, 'commas');
  const says = 'one thing a line: write the line again for the next';
  if (key === undefined || node.extra.length < node.commas.length || node.value === undefined) {
    return problem('one-a-line', says, comma);
  }
  const indent = indentOf(node);
  const line = node.$cstNode?.text ?? '';
  const start = node.$cstNode?.offset ?? 0;
  const values = [node.value, ...node.extra];
  const behind = line.slice(placeOf(values.at(-1) as AstNode).end - start);
  const before = line.slice(0, placeOf(node.value).start - start);
  const lines = values.map((value, index) => `${index === 0 ? before : `${key}: `}${textOf(value)}`);
  const rewritten = lines.join(lineBreakOf(node.$cstNode?.root.fullText ?? '') + indent) + behind;
  return problem('one-a-line', says, comma, [replace(placeOf(node), rewritten, 'write one line for each')]);
}

function indentOf(node: AstNode): string {
  const cst = node.$cstNode;
  if (!cst) return '';
  const text = cst.root.fullText;
  const lineStart = text.lastIndexOf('\n', cst.offset - 1) + 1;
  return /^[ \t]*/.exec(text.slice(lineStart, cst.offset))?.[0] ?? '';
}
