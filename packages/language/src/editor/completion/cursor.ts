import type { IToken } from 'chevrotain';
import type { Lexer, TextDocument } from 'langium';
import { isPartWord, PART_WORDS, SENTENCE_WORDS } from '../../grammar/reserved-words.ts';
import type { BlockKind } from '../../vocabulary/schema.ts';

/** The cursor's place, read from the tokens before it alone: that works however broken the rest of the file is. */
export interface Cursor {
  /** The text that it is in: more letters may have come to the document since. */
  readonly text: TextDocument;
  readonly offset: number;
  /** The word being typed; empty when there is none. */
  readonly word: Word;
  /** The text of the string being typed. */
  readonly string?: Word;
  /** Innermost block first; empty outside any. */
  readonly blocks: readonly Block[];
  /** The token that begins the line: `kv` of `kv: 4`, `require`, `motor`. */
  readonly head?: IToken;
  /** What is between the head and the word. */
  readonly before: readonly IToken[];
}

interface Word {
  readonly text: string;
  readonly start: number;
  /** Includes what is behind the cursor of the same word. */
  readonly end: number;
}

export interface Block {
  /** Undefined where the header is no known one. */
  readonly kind: BlockKind | 'rows' | undefined;
  readonly name: string | undefined;
  /** Offset behind the `{`. */
  readonly start: number;
}

/** Undefined inside a comment, where nothing can be offered. */
export function cursorAt(document: TextDocument, offset: number, lexer: Lexer): Cursor | undefined {
  const text = document.getText();
  const { tokens, hidden } = lexer.tokenize(text.slice(0, offset));
  if (hidden.some((token) => token.tokenType.name.endsWith('COMMENT') && tokenEnd(token) === offset)) return undefined;
  const last = tokens.at(-1);
  const touched = last !== undefined && tokenEnd(last) === offset ? last : undefined;
  if (touched?.tokenType.name === 'STRING' && isOpen(touched.image)) {
    const before = tokens.slice(0, -1);
    const start = touched.startOffset + 1;
    const string = { text: text.slice(start, offset), start, end: endOfString(text, offset) };
    return { ...placeOf(before, document, offset), string, word: { text: '', start: offset, end: offset } };
  }
  const isWord = touched !== undefined && /^[\p{L}_%°]/u.test(touched.image) && touched.tokenType.name !== 'TIMES';
  const start = isWord ? touched.startOffset : offset;
  const rest = /^[\p{L}\p{M}\p{Nd}_]*/u.exec(text.slice(offset))?.[0].length ?? 0;
  const word = { text: text.slice(start, offset), start, end: offset + (isWord ? rest : 0) };
  return { ...placeOf(isWord ? tokens.slice(0, -1) : tokens, document, offset), word };
}

function placeOf(tokens: readonly IToken[], text: TextDocument, offset: number): Omit<Cursor, 'word'> {
  const line = lineOf(tokens, text.getText(), offset);
  const headIndex = line.findLastIndex(beginsLine);
  const head = line[headIndex];
  return { text, offset, blocks: blocksAround(tokens), ...(head && { head }), before: line.slice(headIndex + 1) };
}

/** Tokens from the beginning of what the cursor's line belongs to. */
function lineOf(tokens: readonly IToken[], text: string, offset: number): IToken[] {
  const line: IToken[] = [];
  let right = offset;
  for (const token of tokens.toReversed()) {
    const name = token.tokenType.name;
    const broken = text.slice(tokenEnd(token), right).includes('\n') && !CONTINUES.has(name);
    if (name === '{' || name === '}' || broken) break;
    line.unshift(token);
    right = token.startOffset;
  }
  return line;
}

/** An expression goes on behind these on the next line. */
const CONTINUES: ReadonlySet<string> = new Set(['and', 'or', 'not', '(', '+', '-', '*', '/', '<', '<=', '>', '>=']);

function beginsLine(token: IToken): boolean {
  const name = token.tokenType.name;
  return name === 'KEY' || name === 'FIRST' || name === 'rail' || SENTENCE_WORDS.has(name) || PART_WORDS.has(name);
}

function blocksAround(tokens: readonly IToken[]): Block[] {
  let blocks: Block[] = [];
  let header: Omit<Block, 'start'> | undefined;
  for (const token of tokens) {
    const name = token.tokenType.name;
    if (isPartWord(name)) {
      // A part is never inside another: a brace was forgotten.
      blocks = [];
      header = { kind: name, name: undefined };
    } else if (name === 'rail' || name === 'observed' || name === 'rows') {
      header = { kind: name, name: undefined };
    } else if (name === '{') {
      blocks.unshift({ kind: header?.kind, name: header?.name, start: tokenEnd(token) });
      header = undefined;
    } else if (name === '}') {
      blocks.shift();
      header = undefined;
    } else if (header?.name === undefined && header !== undefined && /^[\p{L}_]/u.test(token.image)) {
      header = { ...header, name: token.image };
    } else if (name === 'KEY' || name === 'FIRST') {
      header = undefined;
    }
  }
  return blocks;
}

export function tokenEnd(token: IToken): number {
  return token.startOffset + token.image.length;
}

function isOpen(image: string): boolean {
  return image.length === 1 || !/(?:^|[^\\])(?:\\\\)*"$/.test(image.slice(1));
}

function endOfString(text: string, offset: number): number {
  const rest = /^[^"\r\n]*/.exec(text.slice(offset))?.[0].length ?? 0;
  return text[offset + rest] === '"' ? offset + rest : offset;
}
