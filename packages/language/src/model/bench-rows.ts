/** Rows of a test stand, written in the text or in a file of its own. */
import { AstUtils } from 'langium';
import { type Column, isRows, type PartNode, type Rows } from '../grammar/generated/ast.ts';
import { lookupOf } from '../resolve/linker.ts';
import type { FileText } from '../resolve/openings.ts';
import { placeOf } from '../syntax/source.ts';
import { parseUnit, type Unit, unitFor } from '../units/parse.ts';
import { type ColumnSchema, columnOf } from '../vocabulary/columns.ts';
import type { Bench, BenchColumn } from './build.ts';
import { isHeading } from './log/heading.ts';
import { partOf } from './parts.ts';
import { type Bounds, isPlausible } from './plausible.ts';
import { isNumber, readTable } from './table-file.ts';

/** A column that can be read, with its unit. */
interface KnownColumn {
  readonly node: Column;
  readonly column: BenchColumn;
  readonly unit: Unit;
}

export function readBench(node: PartNode): Bench {
  const rows = node.lines.find(isRows);
  const columns = rows?.columns.map(knownColumn) ?? [];
  const place = placeOf(rows ?? node);
  const cells = rows ? rowsOf(rows, columns) : [];
  return {
    part: partOf(node),
    columns: columns.filter((column) => column !== undefined).map(({ column }) => column),
    rows: cells,
    rowPlaces: cells.map((_, index) => {
      const row = rows?.file === undefined ? rows?.rows[index] : undefined;
      return row ? placeOf(row) : place;
    }),
    place,
  };
}

function knownColumn(node: Column): KnownColumn | undefined {
  const schema = columnOf(node.name);
  const parsed = node.unit === undefined ? undefined : parseUnit(node.unit).unit;
  const unit = schema && parsed && unitFor(parsed, schema.dimension);
  if (!unit) return undefined;
  const column = { name: node.name, unit: unit.name, dimension: unit.dimension, place: placeOf(node) };
  return { node, column, unit };
}

/** Cells of the columns that can be read. */
function rowsOf(rows: Rows, columns: readonly (KnownColumn | undefined)[]): (number | undefined)[][] {
  const table = rows.file === undefined ? writtenRows(rows) : (fileRows(rows)?.rows ?? []);
  return table.map((cells) => {
    // Of a row with a cell too many or too few nobody knows which is which.
    const isWhole = cells.length === columns.length;
    return columns.flatMap((column, index) => (column ? [isWhole ? numberIn(column, cells[index]) : undefined] : []));
  });
}

/** SI; undefined where there is none, or none that can be meant. */
function numberIn({ node: { name }, unit }: KnownColumn, cell: string | undefined): number | undefined {
  const schema = columnOf(name);
  if (!schema || cell === undefined || !isNumber(cell)) return undefined;
  const value = unit.toSI(Number(cell));
  return isPlausible(value, schema.dimension, boundsOfColumn(schema)) ? value : undefined;
}

export const boundsOfColumn = ({ dimension, unit, plausible }: ColumnSchema): Bounds => ({
  dimensions: [dimension],
  units: [unit],
  plausible,
});

function writtenRows(rows: Rows): (readonly string[])[] {
  return rows.rows.map((row) => row.cells);
}

export interface FileRows {
  /** Cells in the order of the columns. */
  readonly rows: readonly (readonly string[])[];
  /** The line of each row in its file. */
  readonly lines: readonly number[];
  /** Columns the file does not have. */
  readonly absent: readonly Column[];
}

/** Columns are found by their headings, by their order when the file has none. */
export function fileRows(rows: Rows): FileRows | undefined {
  const file = fileOfRows(rows);
  if (!file || !('text' in file)) return undefined;
  const table = readTable(file.text);
  const positions = rows.columns.map((column, index) =>
    table.headings.length === 0 ? index : table.headings.findIndex((heading) => isHeading(heading, column)),
  );
  return {
    rows: table.rows.map(({ cells }) => positions.map((position) => cells[position] ?? '')),
    lines: table.rows.map(({ line }) => line),
    absent: rows.columns.filter((_, index) => (positions[index] ?? -1) < 0),
  };
}

/** The file the rows are in; undefined when they are in the text, or before the document is linked. */
export function fileOfRows(rows: Rows): FileText | undefined {
  if (rows.file === undefined) return undefined;
  const document = AstUtils.getDocument(rows);
  return lookupOf(document)?.openings.readFile(document, rows.file);
}
