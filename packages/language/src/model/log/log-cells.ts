/** The text of a recorder's table: lines, cells, and what one cell states. */
import Papa from 'papaparse';

const DAY = 86_400;

/** What recorders write for no value. */
export const EMPTY_CELLS: ReadonlySet<string> = new Set([
  '-',
  '--',
  '---',
  'nan',
  'null',
  'none',
  'n/a',
  'na',
  'inf',
  '-inf',
  'infinity',
  '-infinity',
]);

export function numberInCell(cell: string): number {
  if (cell === '') return Number.NaN;
  const number = Number(cell.includes(',') ? cell.trim().replace(',', '.') : cell);
  return number === 0 && cell.trim() === '' ? Number.NaN : number;
}

export function firstLine(text: string): [line: string, rest: string | undefined] {
  const [end] = /\r\n|\n|\r/.exec(text) ?? [];
  if (end === undefined) return [text, undefined];
  const at = text.indexOf(end);
  return [text.slice(0, at), text.slice(at + end.length)];
}

export function delimiterOf(line: string): string {
  return [';', '\t'].find((sign) => line.includes(sign)) ?? ',';
}

export const cellsOf = (line: string, delimiter: string): string[] =>
  Papa.parse<string[]>(line, { delimiter }).data[0] ?? [];

/** Quotes cost time; one that is not closed would take in what follows it, and then counts as any other sign. */
export function cellRowsOf(text: string, delimiter: string): string[][] {
  const newline = text.includes('\r\n') ? '\r\n' : text.includes('\n') ? '\n' : '\r';
  const { data, errors } = Papa.parse<string[]>(text, { delimiter, newline });
  if (errors.length === 0 && data.length === countLines(text)) return data;
  return text.split(newline).map((line) => line.split(delimiter).map((cell) => cell.replace(/^\s*"|"\s*$/g, '')));
}

export function countLines(text: string): number {
  let count = 1;
  for (let at = text.indexOf('\n'); at >= 0; at = text.indexOf('\n', at + 1)) count++;
  return count > 1 ? count : text.split('\r').length;
}

export const isNumeric = (cell: string): boolean =>
  /^\s*[+-]?(\d+[.,]?\d*|[.,]\d+)([eE][+-]?\d+)?\s*$/.test(cell) || !Number.isNaN(timeOfDay(cell));

/** `14:03:12.5`, `2026-10-04T14:03:12.5Z`, `2026-10-04 14:03:12,5` in s; NaN of anything else. */
export function timeOfDay(cell: string): number {
  const match =
    /^\s*(?:(\d{4})-(\d\d)-(\d\d)[T ])?(\d{1,2}):(\d\d)(?::(\d\d(?:[.,]\d+)?))?\s*(?:Z|[+-]\d\d:?\d\d)?\s*$/.exec(cell);
  if (!match) return Number.NaN;
  const [, year, month, day, hours, minutes, seconds = '0'] = match;
  const days = year === undefined ? 0 : Date.UTC(Number(year), Number(month) - 1, Number(day)) / 1000 / DAY;
  return days * DAY + Number(hours) * 3600 + Number(minutes) * 60 + Number(seconds.replace(',', '.'));
}
