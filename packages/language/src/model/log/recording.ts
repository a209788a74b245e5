/** What a flight recorder wrote, however long: rows drawn together into so many moments that memory stays flat. */
import { plural } from '../../vocabulary/phrasing.ts';

export interface Recording {
  /** Distinguishes two contents. */
  readonly content: string;
  /** As written; empty where the first line is numbers already. */
  readonly headings: readonly string[];
  /** Rows that were read. */
  readonly rows: number;
  /** Its times are times of day: they need no unit. */
  readonly hasClock: boolean;
  /** Rows with too many or too few cells, or without a time. */
  readonly damaged: Damage<RowDamage> | undefined;
  /** Of each column, cells that are neither empty nor numbers. */
  readonly strange: readonly (Damage<string> | undefined)[];
  /** From one start of the recorder to the next, as ranges of moments: it was started again, or left a long gap. */
  readonly runs: readonly Run[];
  /** s; moments are at least so far apart. */
  readonly width: number;
  /** s, of each moment; rises within a run. */
  readonly times: Float64Array;
  /** One a column: averages as written, NaN where no row of the moment has a number. */
  readonly columns: readonly Float32Array[];
}

/** Of a table of which nothing was read: why, behind “has”. */
export function withoutRows({ damaged }: Recording): string {
  if (!damaged) return 'no rows';
  const signs =
    damaged.found.of === 'cells'
      ? '. Between cells one sign is used throughout (comma, semicolon or tab), and with commas there numbers have decimal points'
      : '';
  return `no row that can be read: line ${damaged.line} has ${damageWords(damaged.found)}${signs}`;
}

/** "3 cells instead of 5", "no time" */
export function damageWords(found: RowDamage): string {
  if (found.of === 'cells') return `${plural(found.count, 'cell')} instead of ${found.wanted}`;
  return found.cell === '' ? 'no time' : `“${found.cell}” for the time`;
}

interface Run {
  readonly from: number;
  /** Behind the last. */
  readonly to: number;
}

export interface Damage<Cells> {
  readonly count: number;
  /** Of the first, counted from 1. */
  readonly line: number;
  /** The first; of a column its cell. */
  readonly found: Cells;
}

/** Too many or too few cells, or one that is no time. */
export type RowDamage =
  | { readonly of: 'cells'; readonly count: number; readonly wanted: number }
  | { readonly of: 'time'; readonly cell: string };
