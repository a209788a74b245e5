/** A comparison for a terminal, a pull request or a program. */
import { displayUnit, formatPlusMinus, stepsOf } from '../../units/print.ts';
import { endsIn } from '../formats/json.ts';
import { columns } from '../present/display-width.ts';
import { jsonText } from '../present/json-text.ts';
import { cellCode, prose } from '../present/markdown-safe.ts';
import type { ComparedColumn, ComparedRow, Comparison, Measured } from './compare-data.ts';

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
      ...(level && inUnit(level.value, level.plusMinus, unit)),
      ...(difference && {
        difference: {
          value: tidy(scaled(difference.value, unit)),
          plusMinus: tidy(scaled(difference.plusMinus, unit)),
          isBeyond,
        },
      }),
      reason,
    })),
  }));

function inUnit(value: number, plusMinus: number, unit: string) {
  const known = displayUnit(unit);
  return {
    value: tidy(known.fromSI(value)),
    plusMinus: tidy(scaled(plusMinus, unit)),
    ...endsIn(known, value, plusMinus),
  };
}

/** A difference has no zero point. */
function scaled(difference: number, unit: string): number {
  const { fromSI } = displayUnit(unit);
  return fromSI(difference) - fromSI(0);
}

const tidy = (value: number): number => Number(value.toPrecision(7));

const headsOf = (comparison: Comparison): string[] =>
  comparison.columns.map((column) => columnName(comparison, column));

function columnName({ columns: all }: Comparison, { build, pack }: ComparedColumn): string {
  return all.some((other) => other.build !== build) ? `${build} on ${pack}` : pack;
}

/** Differences are known better than what differs: each has the digits of its own ±, as levels have. */
const differenceText = (from: Measured, to: Measured, { value, plusMinus }: Measured, unit: string): string =>
  stepsOf(unit, [{ value, halfWidth: plusMinus }]).difference(from.value, to.value, plusMinus);

const levelText = ({ level }: ComparedRow['cells'][number], unit: string): string =>
  level ? formatPlusMinus(level.value, level.plusMinus, unit) : '-';

const isNone = ({ value, plusMinus }: Measured): boolean => value === 0 && plusMinus === 0;

/** Of a row with two cells: the one, the other, and how they differ. */
export function differenceTexts(row: ComparedRow): [string, string, string] {
  const [one, other] = row.cells;
  const printed = (cell: typeof one) => (cell ? levelText(cell, row.unit) : '-');
  const { difference, isBeyond = false } = other ?? {};
  const differs = difference && one?.level && other?.level;
  const apart = differs ? `${differenceText(one.level, other.level, difference, row.unit)}${isBeyond ? ' *' : ''}` : '';
  return [printed(one), printed(other), apart];
}

function rowTexts(row: ComparedRow): string[] {
  const { unit, cells } = row;
  const first = cells[0]?.level;
  return cells.map((cell) => {
    const { level, difference, isBeyond } = cell;
    const printed = levelText(cell, unit);
    if (!level || !difference || !first) return printed;
    if (isNone(difference)) return `${printed}  (same)`;
    return `${printed}  (${differenceText(first, level, difference, unit)}${isBeyond ? ' *' : ''})`;
  });
}
