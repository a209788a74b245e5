/** What a file states, put into Markdown as it reads: it makes no markup, no HTML, no link, no mention and no reference. */
import { terminalSafe } from '../../syntax/terminal-safe.ts';

/** The signs that every reader of Markdown takes for markup, wherever they are. */
export const literal = (text: string): string =>
  text
    .replace(/[\\`*[\]|~]/g, '\\$&')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;');

/** In a sentence of a page on a forge, which has formulas, mentions and references as well. */
export function prose(text: string): string {
  return (
    literal(terminalSafe(text))
      .replace(/[_!$]/g, '\\$&')
      .replaceAll('>', '&gt;')
      // An empty comment parts what would be joined to a mention, a reference or an address.
      .replace(/@|#|:(?=\/\/)|\bwww(?=\.)|\bGH(?=-)/gi, '$&<!-- -->')
  );
}

/** As code: names, files, lines of a file. */
export const code = (text: string): string => fenced(terminalSafe(text));

/** The same in a table's cell, where a bar would end it. */
export const cellCode = (text: string): string => code(text).replace(/\\?\|/g, '\\|');

/** Between so many backticks that those of the text do not end it. */
export function fenced(text: string): string {
  if (text.trim() === '') return '(empty)';
  const longest = Math.max(0, ...[...text.matchAll(/`+/g)].map(([run]) => run.length));
  const fence = '`'.repeat(longest + 1);
  const padding = text.startsWith('`') || text.endsWith('`') ? ' ' : '';
  return `${fence}${padding}${text}${padding}${fence}`;
}
