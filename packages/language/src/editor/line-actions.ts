/** Changes of one line: a figure in another unit, or measured instead of claimed, and the lines that a part still needs. */
import { AstUtils, CstUtils, GrammarUtils, isLeafCstNode, TextDocument } from 'langium';
import { type SnippetTextEdit, StringValue, type TextEdit } from 'vscode-languageserver-types';
import { lackingProperties } from '../checks/text/missing-value.ts';
import {
  type AmountNode,
  type Bound,
  type FigureNode,
  isFigureNode,
  isPartNode,
  isPropertyNode,
  isRailNode,
  type PartNode,
} from '../grammar/generated/ast.ts';
import { lineBreakOf } from '../grammar/value-texts.ts';
import { originOf } from '../syntax/clauses.ts';
import type { FileDocument } from '../syntax/nodes.ts';
import { alike, NONE } from '../units/dimension.ts';
import { otherUnitsOf, parseUnit, type Unit, unitNamed } from '../units/parse.ts';
import { joined } from '../units/print.ts';
import { placeholderOf } from './completion/line-completion.ts';
import { rangeOf } from './place-ranges.ts';

export interface TextRefactoring {
  readonly title: string;
  readonly edits: readonly (TextEdit | SnippetTextEdit)[];
}

/** Units worth offering: those in which every number stays readable. */
const MOST_UNITS = 4;
const SMALLEST = 1e-2;
const LARGEST = 1e5;

/** The figure under the cursor in each other unit that the trade uses for it. */
export function inOtherUnits(document: FileDocument, offset: number): TextRefactoring[] {
  const figure = figureAt(document, offset);
  const written = figure && amountsOf(figure);
  // Behind a decimal comma there is half a number.
  const isHalf = /[\d,.'_]$/.test(document.textDocument.getText().slice(0, figure?.$cstNode?.offset));
  const name = isHalf ? undefined : written?.find(({ unit }) => unit !== undefined)?.unit;
  const unit = name === undefined ? undefined : parseUnit(name).unit;
  // Of minutes and seconds neither is converted alone; a gauge has no even steps.
  if (!figure || !written || !unit?.scale || alike(unit.dimension, NONE) || figure.more.length > 0) return [];
  if (written.some((one) => one.unit !== undefined && one.unit !== name)) return [];
  return otherUnitsOf(unit)
    .map(unitNamed)
    .filter(({ scale }) => scale !== undefined)
    .map((other) => ({ other, numbers: written.map(({ number }) => converted(number, unit, other)) }))
    .filter(({ numbers }) => numbers.every((number) => number === '0' || isReadable(Number(number))))
    .slice(0, MOST_UNITS)
    .map(({ other, numbers }) => {
      const edits = written.flatMap(({ node, unit: own }, index) => {
        const number = GrammarUtils.findNodeForProperty(node.$cstNode, 'number');
        const behind = GrammarUtils.findNodeForProperty(node.$cstNode, 'unit');
        if (number === undefined) return [];
        const sign = 'negative' in node ? GrammarUtils.findNodeForProperty(node.$cstNode, 'negative') : undefined;
        const end = own === undefined ? number.end : (behind?.end ?? number.end);
        const inOther = numbers[index] ?? '';
        const newText = own === undefined ? inOther : joined({ number: inOther, unit: other.name });
        return [{ range: rangeOf(document, sign?.offset ?? number.offset, end), newText }];
      });
      const text = document.textDocument.getText();
      const label = GrammarUtils.findNodeForProperty(figure.$cstNode, 'label');
      const behind = text.length - (label?.offset ?? figure.$cstNode?.end ?? 0);
      const after = TextDocument.applyEdits(document.textDocument, edits);
      const value = after.slice(figure.$cstNode?.offset, after.length - behind).trimEnd();
      return { title: `Write it in ${other.name}: ${value}`, edits };
    });
}

const isReadable = (value: number): boolean => Math.abs(value) >= SMALLEST && Math.abs(value) < LARGEST;

/** With the cursor in its number, its sign or its unit. */
export function figureAt(document: FileDocument, offset: number): FigureNode | undefined {
  const root = document.parseResult.value.$cstNode;
  const leaf = root && CstUtils.findLeafNodeAtOffset(root, offset);
  const before = root && CstUtils.findLeafNodeAtOffset(root, Math.max(0, offset - 1));
  for (const one of [leaf, before]) {
    const isWritten =
      one &&
      isLeafCstNode(one) &&
      ['NUMBER', 'UNIT', ...(isFigureNode(one.astNode) ? ['-'] : [])].includes(one.tokenType.name);
    const figure = isWritten ? AstUtils.getContainerOfType(one.astNode, isFigureNode) : undefined;
    if (figure !== undefined) return figure;
  }
  return undefined;
}

function amountsOf(
  figure: FigureNode,
): { node: FigureNode | AmountNode | Bound; number: string; unit: string | undefined }[] {
  return [figure, ...figure.sides, ...(figure.to ? [figure.to] : [])].map((node) => ({
    node,
    number: 'negative' in node && node.negative ? `-${node.number}` : node.number,
    unit: node.unit,
  }));
}

/** Beyond these digits nobody measures. */
const MOST_DIGITS = 9;
/** Of half a step of the last digit written. */
const SAME = 0.02;

/** With as many digits as it takes to mean the same as what is written. */
function converted(number: string, from: Unit, to: Unit): string {
  const value = Number(number);
  const exact = to.fromSI(from.toSI(value));
  const step = 10 ** -(number.split('.')[1]?.length ?? 0);
  for (let digits = 1; digits < MOST_DIGITS; digits++) {
    const rounded = Number(exact.toPrecision(digits));
    if (Math.abs(from.fromSI(to.toSI(rounded)) - value) <= SAME * step) return plainDigits(rounded);
  }
  return plainDigits(Number(exact.toPrecision(MOST_DIGITS)));
}

/** The language knows no powers of ten. */
const plainDigits = (value: number): string => {
  const text = String(value);
  return /e/.test(text) ? value.toFixed(12).replace(/\.?0+$/, '') : text;
};

/** The lines that the part around the cursor still needs, with their units, before its end. */
export function missingLines(document: FileDocument, offset: number, snippets: boolean): TextRefactoring[] {
  const part = document.parseResult.value.parts.find(
    ({ $cstNode: node }) => node !== undefined && node.offset <= offset && node.end >= offset,
  );
  const brace = part && closingBrace(part);
  if (!isPartNode(part) || brace === undefined) return [];
  const lacking = lackingProperties(part);
  if (lacking.length === 0) return [];
  const text = document.textDocument.getText();
  const lineStart = text.lastIndexOf('\n', brace - 1) + 1;
  const newline = lineBreakOf(text);
  const isOwnLine = text.slice(lineStart, brace).trim() === '';
  const end = text.slice(0, brace).trimEnd().length;
  const isOneRow = !isOwnLine && text[end - 1] !== '{';
  let stop = 0;
  const lines = lacking.map((property) => `  ${property.name}: ${placeholderOf(property, () => ++stop)}`);
  const rows = `${lines.join(newline)}${newline}`;
  // A block on one row stays on it.
  const block = isOneRow ? lines.join('') : isOwnLine ? rows : `${newline}${rows}`;
  const range = isOwnLine ? rangeOf(document, lineStart, lineStart) : rangeOf(document, end, isOneRow ? end : brace);
  const names = lacking.map(({ name }) => name).join(', ');
  const edit: TextEdit | SnippetTextEdit = snippets
    ? { range, snippet: StringValue.createSnippet(block) }
    : { range, newText: block.replace(/\$\{\d+\|([^,|]*)[^}]*\}/g, '$1').replace(/\$\{\d+\}/g, '') };
  return [{ title: `Add what ${part.name} still needs: ${names}`, edits: [edit] }];
}

function closingBrace(part: PartNode): number | undefined {
  return part.closed ? GrammarUtils.findNodeForProperty(part.$cstNode, 'closed')?.offset : undefined;
}

/** At a figure that a page claims: it was measured today. What was claimed is replaced, its ± becomes that of a measurement. */
export function measuredToday(document: FileDocument, offset: number, today: string): TextRefactoring[] {
  const lines = document.parseResult.value.parts.flatMap((part) => [
    ...part.lines,
    ...part.lines.filter(isRailNode).flatMap((rail) => rail.lines),
  ]);
  const line = lines.find(
    (one) =>
      isPropertyNode(one) && one.$cstNode !== undefined && one.$cstNode.offset <= offset && one.$cstNode.end >= offset,
  );
  const stated = line && isPropertyNode(line) ? originOf(line) : undefined;
  const origin = stated?.$cstNode;
  if (!origin || stated.word !== 'claimed') return [];
  const newText = `measured "${today}"`;
  return [
    {
      title: `Change ${origin.text} to ${newText}`,
      edits: [{ range: rangeOf(document, origin.offset, origin.end), newText }],
    },
  ];
}
