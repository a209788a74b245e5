/** Markdown from texts that anyone may have written: a title is shown, never obeyed. */
import { fenced, literal } from '../../report/present/markdown-safe.ts';
import { terminalSafe } from '../../syntax/terminal-safe.ts';

/** Signs that turn the direction of reading, made visible: they would turn what follows as well. */
const withoutTurns = (text: string): string =>
  text.replace(/[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/g, terminalSafe);

/** The text itself, on one line, whatever signs are in it. */
export function plain(text: string): string {
  return (
    literal(withoutTurns(text).replace(/\s+/g, ' '))
      // Inside a word an underscore is one; elsewhere it would slant what follows.
      .replace(/(?<![\p{L}\p{Nd}])_|_(?![\p{L}\p{Nd}])/gu, '\\_')
      // At the beginning these make headings, lists and quotes.
      .replace(/^ ?(?:[-+#>=]|\d+(?=[.)](?: |$)))/, (sign) => (/\d$/.test(sign) ? `${sign}\u200b` : `\\${sign.trim()}`))
      // A bare address would become a link. An editor shows an HTML comment as text, so a sign of no width parts it.
      .replace(/(https?|ftp|mailto|command|file):/gi, '$1\u200b:')
      .replace(/(?<=\w)@(?=\w)/g, '@\u200b')
      .replace(/www\./gi, 'www\u200b.')
  );
}

/** Several lines of text, each kept. */
export function plainLines(text: string): string {
  return text.split('\n').map(plain).join('  \n');
}

/** A piece of a file, as code. */
export function fettleCode(text: string): string {
  return fenced(withoutTurns(text).replace(/\s+/g, ' ').replaceAll('|', '¦'));
}

/**
 * Cells are Markdown already; the first column is text, the others are figures.
 * @param words further columns of text
 */
export function table(
  head: readonly string[],
  rows: readonly (readonly string[])[],
  words: readonly string[] = [],
): string {
  const rule = head.map((cell, index) => (index === 0 || words.includes(cell) ? ':--' : '--:'));
  return [head, rule, ...rows].map((cells) => `| ${cells.join(' | ')} |`).join('\n');
}

export function paragraphs(...parts: readonly (string | undefined)[]): string {
  return parts.filter((part) => part !== undefined && part !== '').join('\n\n');
}

/** The same for whoever shows no Markdown: words and figures without its signs, cells in columns. */
export function inWords(markdown: string): string {
  return markdown
    .split('\n')
    .flatMap((line) => {
      if (/^\|(?: :?-+:? \|)+$/.test(line)) return [];
      if (/^-{3,}$/.test(line)) return [''];
      const isRow = /^\|.*\|$/.test(line);
      const cells = isRow ? line.slice(1, -1).split(/(?<!\\)\|/) : [line];
      return [cells.map((cell) => bare(isRow ? cell.trim() : cell.trimEnd())).join('   ')];
    })
    .join('\n')
    .replace(/\n{3,}/g, '\n\n');
}

const bare = (text: string): string =>
  text
    .replace(/^#+ /, '')
    .replace(/(?<!\\)\[((?:\\.|[^\]\\])*)\]\([^)]*\)/g, '$1')
    .replace(/(?<!\\)(\*\*|`+)/g, '')
    .replace(/\\([\\`*[\]|~_\-+#>=])/g, '$1')
    .replaceAll('&lt;', '<')
    .replaceAll('&amp;', '&')
    .replaceAll('\u200b', '');
