/** A line that is right as it is and may be on its way to another one that is right: what follows from it is not known yet. */
import type { LangiumDocument, Lexer } from 'langium';
import { schemaOf } from '../../vocabulary/properties.ts';
import { cursorAt } from '../completion/cursor.ts';
import { isNaming, type Prefixes } from './unfinished.ts';
import { lineAround } from './writing-place.ts';

/** @param former the line before it was edited */
export function isOnTheWay(
  document: LangiumDocument,
  cursor: number,
  former: string,
  lexer: Lexer,
  prefixes: Prefixes,
): boolean {
  const text = document.textDocument.getText();
  const line = lineAround(text, cursor);
  const before = line.text.slice(0, cursor - line.start);
  const behind = line.text.slice(cursor - line.start);
  const isInNumber = /[\d.]$/.test(before) || (/^\d/.test(behind) && /[\s\d.:-]$/.test(before));
  return (
    isInNumber ||
    isNaming(before) ||
    isShortened(former, line.text) ||
    prefixes(document, cursor) ||
    mayBecomeRange(document, cursor, lexer)
  );
}

/** The beginning of what was there, by its kinds of words: `3S` where `3S .. 4S` was. */
function isShortened(former: string, now: string): boolean {
  const [was, is] = [wordsOf(former), wordsOf(now)];
  return is.length < was.length && is.every((word, index) => word === was[index]);
}

const wordsOf = (line: string): string[] =>
  (line.replace(/\/\/.*$/, '').match(/"[^"]*"?|\d[\d.]*|[\p{L}_%°][\p{L}\p{Nd}_%°/]*|\.\.|\+-|[^\s]/gu) ?? []).map(
    (word, index) =>
      /^"/.test(word) ? 'text' : /^\d/.test(word) ? 'number' : index > 0 && /^[\p{L}_%°]/u.test(word) ? 'word' : word,
  );

/** `3S`, where `3S .. 4S` may be stated. */
function mayBecomeRange(document: LangiumDocument, offset: number, lexer: Lexer): boolean {
  const cursor = cursorAt(document.textDocument, offset, lexer);
  const kind = cursor?.blocks[0]?.kind;
  if (cursor?.head?.tokenType.name !== 'KEY' || kind === undefined || kind === 'rows') return false;
  const isBegun = cursor.before.some(({ tokenType }) => tokenType.name === 'NUMBER');
  const isRange = cursor.before.some(({ tokenType }) => tokenType.name === '..');
  return isBegun && !isRange && schemaOf(kind).properties[cursor.head.image]?.shape === 'range';
}
