import type { LangiumDocument } from 'langium';
import type { PartNode } from '../../grammar/generated/ast.ts';
import { fileOf } from '../../syntax/nodes.ts';

/** One change of a text: the text between `start` and `oldEnd` is now what is between `start` and `newEnd`. */
export interface EditedSpan {
  readonly start: number;
  readonly oldEnd: number;
  readonly newEnd: number;
}

/** The least that was changed, whether the client reported it in pieces or sent the whole text. Undefined where nothing was. */
export function changeBetween(before: string, after: string): EditedSpan | undefined {
  if (before === after) return undefined;
  const shorter = Math.min(before.length, after.length);
  let start = 0;
  while (start < shorter && before.charCodeAt(start) === after.charCodeAt(start)) start++;
  let tail = 0;
  while (
    tail < shorter - start &&
    before.charCodeAt(before.length - 1 - tail) === after.charCodeAt(after.length - 1 - tail)
  )
    tail++;
  const [oldEnd, newEnd] = [before.length - tail, after.length - tail];
  const back =
    start === oldEnd && after.slice(start, newEnd).includes('\n')
      ? turnsBack(before, start, after.slice(start, newEnd))
      : 0;
  return { start: start - back, oldEnd: oldEnd - back, newEnd: newEnd - back };
}

/** A line that ends is begun behind the one before, not ahead of the next one: the same text, and another place of the cursor. */
function turnsBack(before: string, start: number, come: string): number {
  let back = 0;
  while (back < start && before[start - 1 - back] === come.at(-1 - (back % come.length))) back++;
  return back;
}

/** A key, a completed word, the end of a line or what goes; what comes in one piece over several lines is whole as it comes. */
export function isTyping(after: string, { start, newEnd }: EditedSpan): boolean {
  const come = after.slice(start, newEnd);
  return !come.includes('\n') || come.trim() === '';
}

/** Whether it takes something away, or breaks a line in two. */
export function isCut(after: string, { start, newEnd }: EditedSpan): boolean {
  const isBreak = after.slice(start, newEnd).includes('\n');
  return newEnd === start || (isBreak && /^[ \t]*\S/.test(after.slice(newEnd)));
}

/** From 0. */
export function lineAt(text: string, offset: number): number {
  let line = 0;
  for (let at = text.indexOf('\n'); at >= 0 && at < offset; at = text.indexOf('\n', at + 1)) line++;
  return line;
}

/** The text of the line around an offset, and where it begins. */
export function lineAround(text: string, offset: number): { readonly text: string; readonly start: number } {
  const start = text.lastIndexOf('\n', offset - 1) + 1;
  const end = text.indexOf('\n', offset);
  return { text: text.slice(start, end < 0 ? undefined : end).replace(/\r$/, ''), start };
}

/** The part that is written at an offset: the one around it, or the last one before it while its block is not closed. */
export function partWrittenAt(document: LangiumDocument, offset: number): PartNode | undefined {
  const { parts } = fileOf(document);
  const part = parts.findLast(({ $cstNode: node }) => node !== undefined && node.offset < offset);
  if (part?.$cstNode === undefined) return undefined;
  return part.block && part.closed && part.$cstNode.end <= offset ? undefined : part;
}

/** Moves known lines with the text; those that were written are returned, and belong to the first set. */
export function moveLines(
  known: readonly Set<number>[],
  before: string,
  text: string,
  { start, oldEnd, newEnd }: EditedSpan,
): readonly number[] {
  const first = lineAt(before, start);
  const [oldLast, newLast] = [lineAt(before, oldEnd), lineAt(text, newEnd)];
  const moved = (line: number): number => (line > first && line >= oldLast ? line + newLast - oldLast : line);
  for (const set of known) {
    const lines = [...set].map(moved);
    set.clear();
    for (const line of lines) set.add(line);
  }
  const written = Array.from({ length: newLast - first + 1 }, (_, i) => first + i);
  for (const line of written) known[0]?.add(line);
  return written;
}
