import type { LangiumDocument } from 'langium';
import type { Part } from '../../grammar/generated/ast.ts';
import { fileOf } from '../../syntax/nodes.ts';

/** One change of a text: the text between `start` and `oldEnd` is now what is between `start` and `newEnd`. */
export interface Change {
  readonly start: number;
  readonly oldEnd: number;
  readonly newEnd: number;
}

/** The least that was changed, whether the client reported it in pieces or sent the whole text. Undefined where nothing was. */
export function changeBetween(before: string, after: string): Change | undefined {
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
  return { start, oldEnd: before.length - tail, newEnd: after.length - tail };
}

/** A key, a completed word or the end of a line; what comes in one piece over several lines is whole as it comes. */
export function isTyping(before: string, after: string, { start, oldEnd, newEnd }: Change): boolean {
  const [gone, come] = [before.slice(start, oldEnd), after.slice(start, newEnd)];
  return !gone.includes('\n') && (!come.includes('\n') || come.trim() === '');
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
export function partWrittenAt(document: LangiumDocument, offset: number): Part | undefined {
  const { parts } = fileOf(document);
  const part = parts.findLast(({ $cstNode: node }) => node !== undefined && node.offset < offset);
  if (part?.$cstNode === undefined) return undefined;
  return part.block && part.closed && part.$cstNode.end <= offset ? undefined : part;
}
