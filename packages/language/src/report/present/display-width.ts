import columnsOf from 'string-width';
import { terminalSafe } from '../../syntax/terminal-safe.ts';

/** Latin letters and signs are a column each, all but the soft hyphen. */
const PLAIN = /^[\x20-\x7e\u00a1-\u00ac\u00ae-\u017f]*$/;

/** Columns on a terminal; most text is plain, and thousands of findings are measured word by word. */
export const stringWidth = (text: string): number => (PLAIN.test(text) ? text.length : columnsOf(text));

/** Rows of cells as lines, each column as wide as its widest cell; safe for a terminal. */
export function columns(rows: readonly (readonly string[])[]): string {
  const safe = rows.map((row) => row.map(terminalSafe));
  const widths = (safe[0] ?? []).map((_, column) => Math.max(...safe.map((row) => stringWidth(row[column] ?? ''))));
  return safe
    .map((row) => {
      const cells = row.map((text, column) => text + ' '.repeat((widths[column] ?? 0) - stringWidth(text)));
      return `${cells.join('   ').trimEnd()}\n`;
    })
    .join('');
}
