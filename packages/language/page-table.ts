/** Tables of the reference pages, in Markdown. */

/** Bars would end a cell. */
export const escapedCell = (text: string): string => text.replaceAll('|', '\\|');

export function markdownTable(headings: readonly string[], rows: readonly (readonly (string | number)[])[]): string {
  const line = (cells: readonly (string | number)[]) => `| ${cells.join(' | ')} |`;
  return [line(headings), `|${'---|'.repeat(headings.length)}`, ...rows.map(line)].join('\n');
}
