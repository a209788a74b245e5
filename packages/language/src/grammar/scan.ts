// Looks ahead in the text, character by character: regular expressions for this backtrack exponentially on `motor "a"b "a"b …`.

type Characters = ArrayLike<string>;

/** How far a header is looked at: a name, a title, `like` and a base. */
export const HEADER_LENGTH = 400;

/** Whether the rest of a header and its `{` are here: on this line or at the start of the next, and before any colon. */
export function isHeader(text: Characters, offset: number): boolean {
  const end = Math.min(text.length, offset + HEADER_LENGTH);
  let at = offset;
  while (at < end) {
    const char = text[at];
    if (char === '{') return true;
    if (char === ':' || char === '}') return false;
    if (char === '\n') return text[skip(text, at, end, /\s/)] === '{';
    const string = lengthOfString(text, at, end);
    if (string > 0) at += string;
    else if (char === '/' && text[at + 1] === '/') at = skip(text, at, end, /[^\n]/);
    else at += 1;
  }
  return false;
}

/** Quotes that word processors set, and what they close with; the straight one closes any. */
const CURLY: Readonly<Partial<Record<string, string>>> = { '“': '”', '„': '“”', '«': '»' };

export const isCurly = (quote: string): boolean => Object.hasOwn(CURLY, quote);

const closes = (opening: string, quote: string): boolean => quote === '"' || (CURLY[opening]?.includes(quote) ?? false);

/**
 * A string ends at its closing quote; without one at the end of its line, or before a `{`, so that the block is not lost.
 * 0 where no string begins.
 */
export function lengthOfString(text: Characters, offset: number, end = text.length): number {
  const opening = text[offset] ?? '';
  if (opening !== '"' && !isCurly(opening)) return 0;
  let brace = -1;
  let at = offset + 1;
  while (at < end && !isLineEnd(text[at])) {
    if (closes(opening, text[at] ?? '')) return at + 1 - offset;
    if (text[at] === '{' && brace < 0) brace = at;
    const escapes = text[at] === '\\' && at + 1 < end && !isLineEnd(text[at + 1]);
    at += escapes ? 2 : 1;
  }
  return (brace < 0 ? at : brace) - offset;
}

/** Whether it is one line without a brace or a comment; in a string they are letters. */
export const isPlainLine = (line: string): boolean => !/[{}\r\n]|\/\//.test(withoutTexts(line));

/** What is written outside of strings. */
function withoutTexts(line: string): string {
  let rest = '';
  for (let at = 0; at < line.length; ) {
    const string = lengthOfString(line, at);
    if (string === 0) rest += line[at];
    at += Math.max(1, string);
  }
  return rest;
}

/** The next character on this line that is not blank. */
export function nextOnLine(text: Characters, offset: number): string | undefined {
  return text[skip(text, offset, text.length, /[^\S\r\n]/)];
}

function skip(text: Characters, offset: number, end: number, over: RegExp): number {
  let at = offset;
  while (at < end && over.test(text[at] ?? '')) at++;
  return at;
}

function isLineEnd(char: string | undefined): boolean {
  return char === '\n' || char === '\r';
}
