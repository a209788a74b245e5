/** Tables in files of their own: comma, semicolon or tab between cells, decimal points or (not with commas between) decimal commas. */
import Papa from 'papaparse';

export interface FileTable {
  /** Headings as written; empty when the first line is numbers already. */
  readonly headings: readonly string[];
  readonly rows: readonly FileRow[];
}

interface FileRow {
  /** Counted from 1. */
  readonly line: number;
  readonly cells: readonly string[];
}

/** Delimiter and decimal sign are detected from the file itself. */
export function readTable(text: string): FileTable {
  const delimiter = delimiterOf(text);
  const { data } = Papa.parse<string[]>(text.replace(/^\uFEFF/, ''), { delimiter });
  const rows = data
    .map((cells, index): FileRow => ({ line: index + 1, cells: cells.map((cell) => normalised(cell, delimiter)) }))
    .filter((row) => row.cells.some((cell) => cell !== ''));
  const [first, ...rest] = rows;
  if (!first || first.cells.every((cell) => cell === '' || isNumber(cell))) return { headings: [], rows };
  return { headings: first.cells, rows: rest };
}

export function isNumber(cell: string): boolean {
  return /^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$/.test(cell);
}

function delimiterOf(text: string): string {
  const [firstLine = ''] = text.split(/\r?\n/, 1);
  return [';', '\t'].find((sign) => firstLine.includes(sign)) ?? ',';
}

function normalised(cell: string, delimiter: string): string {
  const trimmed = cell.trim();
  return delimiter !== ',' && /^[+-]?\d+,\d+$/.test(trimmed) ? trimmed.replace(',', '.') : trimmed;
}
