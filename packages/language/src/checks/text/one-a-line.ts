/** A comma that lists: there are no lists. */
import type { AstNode } from 'langium';
import { isFigureNode, type PropertyNode } from '../../grammar/generated/ast.ts';
import { lineBreakOf } from '../../grammar/value-texts.ts';
import type { Problem } from '../../syntax/problem.ts';
import { placeOf, placeOfFeature, textOf } from '../../syntax/source.ts';
import { problem, replace } from './problem-words.ts';
import type { TextCheck } from './text-check.ts';

export const ONE_A_LINE: TextCheck = {
  id: 'one-a-line',
  severity: 'error',
  isReportedByReaders: true,
  page: {
    title: 'One statement per line',
    cause: 'There are no lists, so a comma is either a decimal comma or a habit.',
    criterion: 'Read from the text alone.',
    standing: 'The language.',
    remedy: 'Write one line for each.',
    fixes: ['choice'],
    fails: `build Listed like Healthy {
  item: Strap, Strap
}`,
    passes: `build Lined like Healthy {
  item: Strap
  item: Strap
}`,
  },
};

export interface WithCommas extends AstNode {
  readonly value?: NonNullable<PropertyNode['value']>;
  readonly commas: readonly string[];
  readonly extra: readonly NonNullable<PropertyNode['value']>[];
}

export interface Listing {
  /** The word to begin further lines with, where the line is allowed several times. */
  readonly key?: string;
  /** What comes between the numbers of its shape. */
  readonly parting?: 'x' | '..';
}

const PARTINGS = {
  x: { description: 'sides are parted by x: 62 x 17 x 14 mm', newText: ' x' },
  '..': { description: 'a range is written with two points: 7 V .. 26 V', newText: ' ..' },
} as const;

export function listedProblem(node: WithCommas, { key, parting }: Listing): Problem {
  const comma = placeOfFeature(node, 'commas');
  const isWhole =
    isFigureNode(node.value) && node.extra.length === node.commas.length && node.extra.every(isFigureNode);
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
  const behind = line.slice(placeOf(node.extra.at(-1) ?? node.value).end - start);
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
