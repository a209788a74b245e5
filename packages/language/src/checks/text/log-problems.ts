/** Checks of a `log` line: its columns, and the file that they are in. */
import type { Log } from '../../grammar/generated/ast.ts';
import { LONGEST_LOG } from '../../model/log/log-files.ts';
import { beyondBounds, type LogColumn, readLogLine } from '../../model/log/log-line.ts';
import { type Recording, withoutRows } from '../../model/log/recording.ts';
import type { Place } from '../../syntax/place.ts';
import type { Problem } from '../../syntax/problem.ts';
import { endOf, placeOf, placeOfFeature, textOf } from '../../syntax/source.ts';
import { describe } from '../../units/dimension.ts';
import { formatValue } from '../../units/print.ts';
import { LOG_COLUMNS } from '../../vocabulary/columns.ts';
import { IMPLAUSIBLE_VALUE } from './implausible-value.ts';
import { MISSING_UNIT } from './missing-unit.ts';
import { MISSING_VALUE } from './missing-value.ts';
import { problem, replace } from './problem-text.ts';
import { columnProblems, fileProblem } from './row-problems.ts';
import { UNKNOWN_NAME } from './unknown-name.ts';
import { USE_MISSING } from './use-missing.ts';
import { WRONG_DIMENSION } from './wrong-dimension.ts';

const EXAMPLE = 'log time, voltage, current from "logs/flight.csv"';

export function logProblems(log: Log): Problem[] {
  const opening = { ...placeOf(log), end: placeOf(log).start + 'log'.length };
  if (log.columns.length === 0) return [problem(MISSING_VALUE, `which columns? ${EXAMPLE}`, opening)];
  const columns = columnProblems(log.columns, LOG_COLUMNS, true);
  if (columns.length > 0) return columns;
  const names = new Set(log.columns.map(({ name }) => name));
  if (!names.has('time')) return [problem(MISSING_VALUE, `a log has a time: ${EXAMPLE}`, opening)];
  if (!['voltage', 'current', 'output'].some((name) => names.has(name)))
    return [
      problem(MISSING_VALUE, `a log has voltage, current or output in addition to its time: ${EXAMPLE}`, opening),
    ];
  if (log.file !== undefined) return fileProblems(log, log.file);
  const hasFrom = /\bfrom\b/.test(textOf(log));
  const description = hasFrom ? `from which file? ${EXAMPLE}` : `where is it? ${EXAMPLE}`;
  return [problem(MISSING_VALUE, description, opening)];
}

function fileProblems(log: Log, path: string): Problem[] {
  const place = placeOfFeature(log, 'file');
  const { file, columns } = readLogLine(log);
  if (!file) return [];
  if ('recording' in file) return contentProblems(file.recording, columns, path, place);
  switch (file.failed) {
    case 'unknown':
    case 'reading':
      return [];
    case 'outside':
      return [fileProblem(path, file.failed, place, file.root)];
    case 'too-long':
      return [problem(USE_MISSING, `${path} is longer than ${LONGEST_LOG / 1e6} MB: keep one flight in a file`, place)];
    default:
      return [fileProblem(path, file.failed, place)];
  }
}

function contentProblems(recording: Recording, columns: readonly LogColumn[], path: string, place: Place): Problem[] {
  const absent = columns.filter(({ at }) => at < 0);
  if (absent.length > 0) return absent.map(({ node }) => absentColumn(node, recording, path));
  const units = columns.flatMap((column) => unitProblem(column, recording, path) ?? []);
  if (units.length > 0) return units;
  if (recording.rows === 0) return [problem(MISSING_VALUE, `${path} has ${withoutRows(recording)}`, place)];
  const beyond = columns.flatMap((column) => beyondProblem(column, recording, path) ?? []);
  if (beyond.length > 0) return beyond;
  return damageProblems(recording, columns, path, place);
}

/** More headings than this do not help. */
const MOST_NAMED = 8;

function absentColumn(node: LogColumn['node'], { headings }: Recording, path: string): Problem {
  const wanted = node.heading ?? node.name;
  const place = placeOfFeature(node, node.heading === undefined ? 'name' : 'heading');
  const shown = headings.slice(0, MOST_NAMED).map((heading) => `“${heading}”`);
  const more = headings.length - shown.length;
  const has = `it has ${shown.join(', ')}${more > 0 ? ` and ${more} more` : ''}`;
  const hint = node.heading === undefined ? `; state its heading: ${node.name} "…"` : '';
  return problem(UNKNOWN_NAME, `${path} has no column “${wanted}”${hint}; ${has}`, place);
}

function unitProblem(
  { node, unit, headingUnit, schema, at }: LogColumn,
  recording: Recording,
  path: string,
): Problem | undefined {
  if (unit !== undefined || (node.name === 'time' && recording.hasClock)) return undefined;
  const place = placeOfFeature(node, 'name');
  const fix = replace(endOf(place), ` in ${schema.unit}`, `add in ${schema.unit}`);
  const heading = recording.headings[at] ?? '';
  if (headingUnit)
    return problem(
      WRONG_DIMENSION,
      `“${heading}” in ${path} is ${describe(headingUnit.dimension)}, not ${describe(schema.dimension)}`,
      placeOfFeature(node, node.heading === undefined ? 'name' : 'heading'),
    );
  const description =
    heading === ''
      ? `in which unit? ${node.name} in ${schema.unit}`
      : `“${heading}” in ${path} states no unit: ${node.name} in ${schema.unit}`;
  return problem(MISSING_UNIT, description, place, [fix]);
}

/** Most of a column cannot be: its unit is another, or it is another column. */
function beyondProblem(column: LogColumn, recording: Recording, path: string): Problem | undefined {
  const { node, schema } = column;
  const beyond = beyondBounds(column, recording);
  if (!beyond) return undefined;
  const { share, value, low, high } = beyond;
  const format = (si: number) => formatValue(si, schema.unit);
  return problem(
    IMPLAUSIBLE_VALUE,
    `${node.name} in ${path} is ${format(value)} and the like in ${Math.round(100 * share)} % of its rows; it lies between ${format(low)} and ${format(high)}. Its unit is another (${schema.dimension.point ? 'degF for degC' : 'mA for A'}?), or it is another column`,
    placeOfFeature(node, node.heading === undefined ? 'name' : 'heading'),
  );
}

/** Each reported once, with the first line; the rest of the log counts. */
function damageProblems(
  { damaged, strange }: Recording,
  columns: readonly LogColumn[],
  path: string,
  place: Place,
): Problem[] {
  const others = (count: number) => (count > 2 ? `; so are ${count - 1} more` : count > 1 ? '; so is one more' : '');
  const whole = damaged ? [`${path}, line ${damaged.line} is left out: ${damaged.found}${others(damaged.count)}`] : [];
  const cells = columns.flatMap(({ at, node: { name } }) => {
    const found = strange[at];
    return found && name !== 'time'
      ? [`${path}, line ${found.line}: “${found.found}” for ${name} is no number and is left out${others(found.count)}`]
      : [];
  });
  return [...whole, ...cells].map((description) => ({
    ...problem(WRONG_DIMENSION, description, place),
    severity: 'warning' as const,
  }));
}
