/** Checks of a bench's rows: columns, units, cells, and the file that contains them. */
import { type AstNode, GrammarUtils } from 'langium';
import { type Column, isRows, type PartNode, type RowNode, type Rows } from '../../grammar/generated/ast.ts';
import { boundsOfColumn, type FileRows, fileOfRows, fileRows } from '../../model/bench-rows.ts';
import { isPlausible } from '../../model/plausible.ts';
import { isNumber } from '../../model/table-file.ts';
import type { Place } from '../../syntax/place.ts';
import type { Problem } from '../../syntax/problem.ts';
import { endOf, placeOf, placeOfFeature, placeOfKeyword, textOf } from '../../syntax/source.ts';
import { alike } from '../../units/dimension.ts';
import { parseUnit } from '../../units/parse.ts';
import { COLUMNS, type ColumnSchema, type Columns, columnOf } from '../../vocabulary/columns.ts';
import { didYouMean, either } from '../../vocabulary/phrasing.ts';
import { meant } from '../../vocabulary/synonyms.ts';
import { problem, replace } from './problem-words.ts';
import { type Expected, unitProblem } from './quantity-problems.ts';

/** A bench without rows measured nothing. */
export function missingRows(bench: PartNode): Problem | undefined {
  if (bench.name === undefined || bench.lines.some(isRows)) return undefined;
  const description = `${bench.name} has no rows: rows duty in %, voltage in V, current in A, thrust in gf { … }`;
  return problem('missing-value', description, placeOfFeature(bench, 'name'));
}

export function rowsProblems(rows: Rows): Problem[] {
  const opening = { ...placeOf(rows), end: placeOf(rows).start + 'rows'.length };
  const hasFrom = /\bfrom\b[^{]*$/.test(textOf(rows));
  // Without a block and without a file the structure's own check has reported it.
  if (!rows.block && !hasFrom) return columnProblems(rows.columns);
  if (rows.columns.length === 0) {
    return [
      problem('missing-value', 'which columns? rows duty in %, voltage in V, current in A, thrust in gf', opening),
    ];
  }
  const columns = columnProblems(rows.columns);
  const semicolons = semicolonProblem(rows);
  // What they make of the cells is mended with them.
  if (semicolons) return [...columns, semicolons];
  if (rows.block) return [...columns, ...needlessHeadings(rows), ...cellsApart(rows), ...rowProblems(rows)];
  if (rows.file !== undefined) return [...columns, ...fileProblems(rows)];
  return [...columns, problem('missing-value', 'from which file? from "stand.csv"', opening)];
}

/**
 * @param known columns that such a table may have
 * @param unitsInFile whether the file's headings may state the units
 */
export function columnProblems(columns: readonly Column[], known: Columns = COLUMNS, unitsInFile = false): Problem[] {
  const seen = new Set<string>();
  const bare = columns.filter(({ joined, unit }) => !joined && unit !== undefined);
  return [
    ...unitsApart(bare),
    ...columns.flatMap((column) => {
      const place = placeOfFeature(column, 'name');
      if (seen.has(column.name) && !columnOf(column.name, known)?.repeats)
        return [problem('duplicate', `there is a column ${column.name} already`, place)];
      seen.add(column.name);
      return columnProblem(column, place, known, unitsInFile) ?? [];
    }),
  ];
}

/** `rows duty %, thrust gf`: reported once for the table. */
function unitsApart(bare: readonly Column[]): Problem[] {
  const [first] = bare;
  if (!first) return [];
  const edits = bare.map((column) => {
    const name = placeOfFeature(column, 'name');
    return { place: { ...name, start: name.end, end: placeOfFeature(column, 'unit').start }, newText: ' in ' };
  });
  const description = `in belongs between a column and its unit: ${first.name} in ${first.unit}`;
  return [problem('number-form', description, placeOf(first), [{ title: 'put in before the units', edits }])];
}

/** Semicolons for commas, as tables of other programs have them; a comma next to them is a decimal one. Reported once, mended in all rows. */
function semicolonProblem(rows: Rows): Problem | undefined {
  const commasOf = (node: AstNode) =>
    GrammarUtils.findNodesForKeyword(node.$cstNode, ',').map((leaf) => ({ node, leaf }));
  const all = [...commasOf(rows), ...rows.rows.flatMap(commasOf)];
  const first = all.find(({ leaf }) => leaf.text === ';');
  if (!first) return undefined;
  const lines = new Set(all.flatMap(({ node, leaf }) => (leaf.text === ';' ? [node] : [])));
  const edits = all.flatMap(({ node, leaf }) => {
    if (!lines.has(node)) return [];
    const place = { ...placeOf(node), start: leaf.offset, end: leaf.end };
    if (leaf.text === ',') return node === rows ? [] : [{ place, newText: '.' }];
    return [{ place, newText: /\s/.test(leaf.root.fullText[leaf.end] ?? ' ') ? ',' : ', ' }];
  });
  const place =
    first.node === rows ? { ...placeOf(rows), start: first.leaf.offset, end: first.leaf.end } : placeOf(first.node);
  const title = 'put commas between the cells';
  return problem('number-form', 'commas separate the cells of a row: 25, 7.42, 0.48', place, [{ title, edits }]);
}

/** Rows in the text have no headings of their own. */
function needlessHeadings(rows: Rows): Problem[] {
  const column = rows.columns.find(({ heading }) => heading !== undefined);
  if (!column) return [];
  const place = placeOfFeature(column, 'heading');
  const description = `“${column.heading}” is what a file calls its column; these rows are in the text`;
  return [problem('clause', description, place, [replace(place, '', 'take it out')])];
}

function columnProblem(column: Column, place: Place, known: Columns, unitsInFile: boolean): Problem | undefined {
  const schema = columnOf(column.name, known);
  if (!schema) {
    const near = meant(column.name, Object.keys(known));
    const hint = didYouMean(near) || `; there is ${either(Object.keys(known))}`;
    const isBare = column.unit === undefined && !unitsInFile;
    return problem(
      'unknown-name',
      `no such column: ${column.name}${hint}`,
      place,
      near.map((name) => replace(place, isBare ? `${name} in ${known[name]?.unit}` : name)),
    );
  }
  if (column.unit !== undefined)
    return unitProblem(
      { number: '1', unit: column.unit },
      placeOfFeature(column, 'unit'),
      expectedIn(column.name, schema),
    );
  if (unitsInFile && !column.joined) return undefined;
  const after = column.joined ? endOf(placeOfKeyword(column, 'in')) : endOf(place);
  const missing = column.joined ? ` ${schema.unit}` : ` in ${schema.unit}`;
  const fix = replace(after, missing, `add${missing}`);
  return problem('missing-unit', `a column has a unit: ${column.name} in ${schema.unit}`, place, [fix]);
}

function expectedIn(of: string, schema: ColumnSchema): Expected {
  return { of, ...boundsOfColumn(schema), ...(schema.unit === '%' ? { insists: schema.unit } : {}) };
}

/** The rows by the lines they are on: without commas each cell reads as a row of its own. */
function rowsByLine(rows: Rows): (readonly [RowNode, ...RowNode[]])[] {
  const text = rows.$cstNode?.root.fullText ?? '';
  const lines: [RowNode, ...RowNode[]][] = [];
  let end = 0;
  for (const row of rows.rows) {
    const place = placeOf(row);
    if (lines.length > 0 && /^[ \t]+$/.test(text.slice(end, place.start))) lines.at(-1)?.push(row);
    else lines.push([row]);
    end = place.end;
  }
  return lines;
}

/** Blanks for commas: a habit, reported once for the table, and mended in all rows at once. */
function cellsApart(rows: Rows): Problem[] {
  const apart = rowsByLine(rows).filter(({ length }) => length > 1);
  const [first] = apart;
  if (!first) return [];
  const edits = apart.flatMap((line) =>
    line.slice(1).map((row, index) => {
      const before = placeOf(line[index] ?? row);
      return { place: { ...before, start: before.end, end: placeOf(row).start }, newText: ', ' };
    }),
  );
  const isPlain = apart.flat().every(({ cells }) => cells.every(isCell));
  const place = { ...placeOf(first[0]), end: placeOf(first.at(-1) ?? first[0]).end };
  const fixes = isPlain ? [{ title: 'put commas between the cells', edits }] : [];
  return [problem('number-form', 'commas separate the cells of a row: 25, 7.42, 0.48', place, fixes)];
}

/** Of a file that a table is in and that cannot be read. */
export function fileProblem(path: string, failed: 'missing' | 'unreadable', place: Place): Problem;
export function fileProblem(path: string, failed: 'outside', place: Place, root: string): Problem;
export function fileProblem(path: string, failed: string, place: Place, root?: string): Problem {
  if (failed === 'outside') {
    const outside = `${path} lies outside of the workspace (${root}), by its path or through a link, and is not read: put a copy of it inside`;
    return problem('use-missing', outside, place);
  }
  const description = failed === 'missing' ? `no such file: ${path}` : `${path} cannot be read as text`;
  return problem('use-missing', description, place);
}

const rowProblems = (rows: Rows): Problem[] =>
  rowsByLine(rows).flatMap(([row, ...others]) => (others.length > 0 ? [] : (rowProblem(row, rows.columns) ?? [])));

/** One problem a row: too few or too many cells, or the first cell that is no number. */
function rowProblem(row: RowNode, columns: readonly Column[]): Problem | undefined {
  const bad = row.cells.findIndex((cell) => !isCell(cell));
  if (bad >= 0) return wrongCell(row.cells[bad] ?? '', placeOfFeature(row, 'cells', bad));
  if (row.cells.length !== columns.length) {
    const place = placeOf(row);
    const description = `${columns.length} columns, but ${row.cells.length === 1 ? 'one cell' : `${row.cells.length} cells`}; a cell without a value is -, and numbers have a decimal point`;
    return problem('missing-value', description, place);
  }
  const index = row.cells.findIndex((cell, i) => isImplausible(cell, columns[i]));
  const column = columns[index];
  return column && implausibleCell(row.cells[index] ?? '', column, placeOfFeature(row, 'cells', index), '');
}

function isCell(cell: string): boolean {
  return cell === '-' || cell === '' || isNumber(cell);
}

function wrongCell(cell: string, place: Place): Problem {
  const [, number] = /^([\d.]+)\s*\D/.exec(cell) ?? [];
  if (number === undefined) return problem('wrong-dimension', `expected a number or -, found ${cell}`, place);
  return problem('wrong-dimension', 'units belong in the heading, not in the cells', place, [replace(place, number)]);
}

function isImplausible(cell: string, column: Column | undefined): boolean {
  const schema = column && columnOf(column.name);
  const unit = column?.unit === undefined ? undefined : parseUnit(column.unit).unit;
  if (!schema || !unit || !isNumber(cell) || !alike(unit.dimension, schema.dimension)) return false;
  return !isPlausible(unit.toSI(Number(cell)), schema.dimension, expectedIn(column.name, schema));
}

function implausibleCell(cell: string, column: Column, place: Place, where: string): Problem {
  const schema = columnOf(column.name);
  const range = schema
    ? `: ${column.name} lies between ${schema.plausible.join(` ${schema.unit} and `)} ${schema.unit}`
    : '';
  return problem('implausible-value', `${where}${cell} ${column.unit ?? ''} is implausible${range}`, place);
}

/** Enough to find the others. */
const MOST_CELLS = 3;

function fileProblems(rows: Rows): Problem[] {
  const place = placeOfFeature(rows, 'file');
  const file = fileOfRows(rows);
  if (!file) return [];
  if ('failed' in file) {
    if (file.failed === 'unknown') return [];
    const path = rows.file ?? '';
    return [
      file.failed === 'outside'
        ? fileProblem(path, file.failed, place, file.root)
        : fileProblem(path, file.failed, place),
    ];
  }
  const table = fileRows(rows);
  if (!table) return [];
  const absent = table.absent.map((column) =>
    problem('unknown-name', `${rows.file} has no column ${column.name}`, placeOfFeature(column, 'name')),
  );
  if (absent.length > 0) return absent;
  if (table.rows.length === 0) return [problem('missing-value', `${rows.file} has no rows`, place)];
  return cellProblems(rows, table, place).slice(0, MOST_CELLS);
}

function cellProblems(rows: Rows, table: FileRows, place: Place): Problem[] {
  return table.rows.flatMap((cells, index) => {
    const where = `${rows.file}, line ${table.lines[index]}: `;
    const found = cells.flatMap((cell, i) => {
      const column = rows.columns[i];
      if (!isCell(cell)) return [problem('wrong-dimension', `${where}expected a number or -, found ${cell}`, place)];
      return column && isImplausible(cell, column) ? [implausibleCell(cell, column, place, where)] : [];
    });
    return found.slice(0, 1);
  });
}
