/** A comparison for a terminal, a pull request or a program. */
import type { Measurable } from '../../analysis/uncertainty/estimate.ts';
import { stepsOf } from '../../units/print.ts';
import { columns } from '../present/display-width.ts';
import { changeIn, levelIn } from '../present/json-number.ts';
import { jsonText } from '../present/json-text.ts';
import { cellCode, prose } from '../present/markdown-safe.ts';
import { levelText } from '../present/report-words.ts';
import type { ComparedColumn, ComparedRow, Comparison } from './compare-data.ts';

const NOTE =
  'Differences are from the first column. * marks a difference that is larger than its own ±; an unmarked one may be due to the uncertainty alone.';

export function comparisonText(comparison: Comparison): string {
  const head = ['', ...headsOf(comparison)];
  const rows = comparison.rows.map((row) => [row.label, ...rowTexts(row)]);
  return `${columns([head, ...rows])}\n${NOTE}\n`;
}

export function comparisonMarkdown(comparison: Comparison): string {
  const heads = comparison.columns.map((column) => columnName(comparison, column)).map(cellCode);
  const rows = comparison.rows.map(
    (row) =>
      `| ${prose(row.label)} | ${rowTexts(row)
        .map((text) => prose(text) || '–')
        .join(' | ')} |`,
  );
  return [`| | ${heads.join(' | ')} |`, `|:--|${'--:|'.repeat(heads.length)}`, ...rows, '', prose(NOTE), ''].join('\n');
}

/** Numbers are in the stated unit; ± is expanded (k = 2). */
export const comparisonJson = (comparison: Comparison): string =>
  jsonText({ version: 1, columns: comparison.columns, rows: comparisonRows(comparison) });

/** Rows as plain data, numbers in the stated unit. */
export const comparisonRows = ({ rows }: Comparison) =>
  rows.map(({ name, label, unit, cells }) => ({
    name,
    label,
    unit,
    cells: cells.map(({ level, difference, isBeyond, reason }) => ({
      ...(level && levelIn(unit, level)),
      ...(difference && { difference: { ...changeIn(unit, difference), isBeyond } }),
      reason,
    })),
  }));

const headsOf = (comparison: Comparison): string[] =>
  comparison.columns.map((column) => columnName(comparison, column));

function columnName({ columns: all }: Comparison, { build, pack }: ComparedColumn): string {
  return all.some((other) => other.build !== build) ? `${build} on ${pack}` : pack;
}

/** Differences are known better than what differs: each has the digits of its own ±, as levels have. */
const differenceText = (from: Measurable, to: Measurable, { value, plusMinus }: Measurable, unit: string): string =>
  stepsOf(unit, [{ value, halfWidth: plusMinus }]).difference(from.value, to.value, plusMinus);

const isNone = ({ value, plusMinus }: Measurable): boolean => value === 0 && plusMinus === 0;

/** Of a row with two cells: the one, the other, and how they differ. */
export function differenceTexts(row: ComparedRow): [string, string, string] {
  const [one, other] = row.cells;
  const { difference, isBeyond = false } = other ?? {};
  const differs = difference && one?.level && other?.level;
  const apart = differs ? `${differenceText(one.level, other.level, difference, row.unit)}${isBeyond ? ' *' : ''}` : '';
  return [levelText(one?.level, row.unit), levelText(other?.level, row.unit), apart];
}

function rowTexts(row: ComparedRow): string[] {
  const { unit, cells } = row;
  const first = cells[0]?.level;
  return cells.map((cell) => {
    const { level, difference, isBeyond } = cell;
    const printed = levelText(level, unit);
    if (!level || !difference || !first) return printed;
    if (isNone(difference)) return `${printed}  (same)`;
    return `${printed}  (${differenceText(first, level, difference, unit)}${isBeyond ? ' *' : ''})`;
  });
}
