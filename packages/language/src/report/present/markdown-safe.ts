/** What a file states, put into Markdown as it reads: it makes no markup, no HTML, no link, no mention and no reference. */
import { terminalSafe } from '../../syntax/terminal-safe.ts';

/** In a sentence. */
export function prose(text: string): string {
  return (
    terminalSafe(text)
      .replace(/[\\`*_[\]|~!$]/g, '\\$&')
      .replaceAll('&', '&amp;')
      .replaceAll('<', '&lt;')
      .replaceAll('>', '&gt;')
      // An empty comment parts what would be joined to a mention, a reference or an address.
      .replace(/@|#|:(?=\/\/)|\bwww(?=\.)|\bGH(?=-)/gi, '$&<!-- -->')
  );
}

/** As code: names, files, lines of a file. */
export function code(text: string): string {
  const safe = terminalSafe(text);
  if (safe.trim() === '') return '(empty)';
  const longest = Math.max(0, ...[...safe.matchAll(/`+/g)].map(([run]) => run.length));
  const fence = '`'.repeat(longest + 1);
  const padding = longest > 0 ? ' ' : '';
  return `${fence}${padding}${safe}${padding}${fence}`;
}

/** The same in a table's cell, where a bar would end it. */
export const cellCode = (text: string): string => code(text).replace(/\\?\|/g, '\\|');
