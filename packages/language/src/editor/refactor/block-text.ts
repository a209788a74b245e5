/** A block as rows of text: what of it belongs to which line, comments included. */
import { GrammarUtils } from 'langium';
import {
  isObservedNode,
  isRailNode,
  isRows,
  isUnknownNode,
  type Line,
  type PartNode,
  type RailNode,
} from '../../grammar/generated/ast.ts';
import type { FileDocument } from '../../syntax/nodes.ts';
import type { TextChange } from './text-change.ts';

/** A statement with the comments above it and behind it: whole rows, or where a block is on one row the statement alone. */
export interface LineText {
  readonly node: Line;
  readonly from: number;
  readonly to: number;
}

export interface BlockText {
  /** Of the block's own rows, comments right above it included. */
  readonly from: number;
  /** Behind the row on which it ends. */
  readonly to: number;
  /** Of the `{` and the `}`. */
  readonly open: number;
  readonly close: number;
  readonly isOneRow: boolean;
  readonly lines: readonly LineText[];
  /** Where the rows of its lines begin, behind the row of the `{`. */
  readonly first: number;
  /** Comments behind the last line begin here. */
  readonly last: number;
}

/** Undefined for a block that is not written to its end, has lines that cannot be read, or shares a row with something else. */
export function blockTextOf(document: FileDocument, node: PartNode | RailNode): BlockText | undefined {
  const text = document.textDocument.getText();
  const whole = node.$cstNode;
  const open = GrammarUtils.findNodeForProperty(whole, 'block')?.offset;
  const close = node.closed ? GrammarUtils.findNodeForProperty(whole, 'closed')?.offset : undefined;
  if (whole === undefined || open === undefined || close === undefined || node.lines.some(isHalf)) return undefined;
  const start = rowStart(text, whole.offset);
  if (text.slice(start, whole.offset).trim() !== '' || !endsRow(text, close + 1)) return undefined;
  const isOneRow = !text.slice(open, close).includes('\n');
  const first = isOneRow ? open + 1 : rowEnd(text, open);
  const lines = isOneRow
    ? node.lines.map((line) => ({ node: line, from: line.$cstNode?.offset ?? 0, to: line.$cstNode?.end ?? 0 }))
    : rowsOf(text, node.lines, first);
  const last = lines?.at(-1)?.to ?? first;
  if (lines === undefined || (!isOneRow && text.slice(rowStart(text, close), close).trim() !== '')) return undefined;
  return { from: withCommentsAbove(text, start), to: rowEnd(text, close), open, close, isOneRow, lines, first, last };
}

/** Braces that are missing, and words that begin no line. */
function isHalf(line: Line): boolean {
  if (isUnknownNode(line)) return true;
  return (isRailNode(line) || isObservedNode(line) || (isRows(line) && line.block)) && !line.closed;
}

function rowsOf(text: string, lines: readonly Line[], first: number): LineText[] | undefined {
  const rows: LineText[] = [];
  let from = first;
  for (const node of lines) {
    const { offset, end } = node.$cstNode ?? { offset: 0, end: 0 };
    // Rows that several lines share are not taken apart.
    if (offset < from || text.slice(rowStart(text, offset), offset).trim() !== '' || !endsRow(text, end))
      return undefined;
    const to = rowEnd(text, end);
    rows.push({ node, from, to });
    from = to;
  }
  return rows;
}

export const rowStart = (text: string, offset: number): number => text.lastIndexOf('\n', offset - 1) + 1;

/** Behind the line break, or at the end of the text. */
export function rowEnd(text: string, offset: number): number {
  const end = text.indexOf('\n', offset);
  return end < 0 ? text.length : end + 1;
}

const endsRow = (text: string, offset: number): boolean =>
  /^[^\S\r\n]*(?:\/\/[^\r\n]*)?(?:\r?\n|$)/.test(text.slice(offset));

function withCommentsAbove(text: string, start: number): number {
  let from = start;
  while (from > 0) {
    const above = rowStart(text, from - 1);
    if (!/^[^\S\r\n]*\/\//.test(text.slice(above, from))) break;
    from = above;
  }
  return from;
}

/** Removes a block and the empty rows below it; at the end of the text, the empty rows above it. */
export function blockRemoval(text: string, { from, to }: BlockText): TextChange {
  const below = /^(?:[^\S\r\n]*\r?\n)*/.exec(text.slice(to))?.[0].length ?? 0;
  if (to + below < text.length) return { from, to: to + below, text: '' };
  const above = /(?:\r?\n[^\S\r\n]*)*$/.exec(text.slice(0, from))?.[0] ?? '';
  const newline = /^\r?\n/.exec(above)?.[0] ?? '';
  return { from: from - above.length, to: text.length, text: newline };
}

/** The rows of a line, ending in a line break; of a block on one row, a row of its own. */
export function rowsAsText(text: string, { isOneRow }: BlockText, { from, to }: LineText, newline: string): string {
  const rows = text.slice(from, to);
  return isOneRow ? `  ${rows}${newline}` : rows.endsWith('\n') ? rows : `${rows}${newline}`;
}

/** Comment rows above a block, without its own. */
export function commentsAbove(text: string, block: BlockText): string {
  return text.slice(block.from, rowStartOfHeader(text, block));
}

function rowStartOfHeader(text: string, { from }: BlockText): number {
  let at = from;
  while (/^[^\S\r\n]*\/\//.test(text.slice(at, rowEnd(text, at)))) at = rowEnd(text, at);
  return at;
}
