/** Checks of a `log` line: its columns, and the file that they are in. */
import type { Log } from '../../grammar/generated/ast.ts';
import { LONGEST_LOG } from '../../model/log/log-files.ts';
import { beyondBounds, type LogColumn, readLogLine } from '../../model/log/log-line.ts';
import { damageWords, type Recording, withoutRows } from '../../model/log/recording.ts';
import type { Place } from '../../syntax/place.ts';
import type { Problem } from '../../syntax/problem.ts';
import { endOf, placeOf, placeOfFeature, textOf } from '../../syntax/source.ts';
import { describe } from '../../units/dimension.ts';
import { formatValue } from '../../units/print.ts';
import { LOG_COLUMNS } from '../../vocabulary/columns.ts';
import { firstFew } from '../../vocabulary/phrasing.ts';
import { problem, replace } from './problem-words.ts';
import { columnProblems, fileProblem } from './row-problems.ts';

const EXAMPLE = 'log time, voltage, current from "logs/flight.csv"';

export function logProblems(log: Log): Problem[] {
  const opening = { ...placeOf(log), end: placeOf(log).start + 'log'.length };
  if (log.columns.length === 0) return [problem('missing-value', `which columns? ${EXAMPLE}`, opening)];
  const columns = columnProblems(log.columns, LOG_COLUMNS, true);
  if (columns.length > 0) return columns;
  const names = new Set(log.columns.map(({ name }) => name));
  if (!names.has('time')) return [problem('missing-value', `a log has a time: ${EXAMPLE}`, opening)];
  if (!['voltage', 'current', 'output'].some((name) => names.has(name)))
    return [
      problem('missing-value', `a log has voltage, current or output in addition to its time: ${EXAMPLE}`, opening),
    ];
  if (log.file !== undefined) return fileProblems(log, log.file);
  const hasFrom = /\bfrom\b/.test(textOf(log));
  const description = hasFrom ? `from which file? ${EXAMPLE}` : `where is it? ${EXAMPLE}`;
  return [problem('missing-value', description, opening)];
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
      return [
        problem('use-missing', `${path} is longer than ${LONGEST_LOG / 1e6} MB: keep one flight in a file`, place),
      ];
    default:
      return [fileProblem(path, file.failed, place)];
  }
}

function contentProblems(recording: Recording, columns: readonly LogColumn[], path: string, place: Place): Problem[] {
  const absent = columns.filter(({ at }) => at < 0);
  if (absent.length > 0) return absent.map(({ node }) => absentColumn(node, recording, path));
  const units = columns.flatMap((column) => unitProblem(column, recording, path) ?? []);
  if (units.length > 0) return units;
  if (recording.rows === 0) return [problem('missing-value', `${path} has ${withoutRows(recording)}`, place)];
  const beyond = columns.flatMap((column) => beyondProblem(column, recording, path) ?? []);
  if (beyond.length > 0) return beyond;
  return damageProblems(recording, columns, path, place);
}

/** More headings than this do not help. */
const MOST_NAMED = 8;

function absentColumn(node: LogColumn['node'], { headings }: Recording, path: string): Problem {
  const wanted = node.heading ?? node.name;
  const place = placeOfFeature(node, node.heading === undefined ? 'name' : 'heading');
  const quoted = headings.map((heading) => `“${heading}”`);
  const hint = node.heading === undefined ? `; state its heading: ${node.name} "…"` : '';
  return problem(
    'unknown-name',
    `${path} has no column “${wanted}”${hint}; it has ${firstFew(quoted, MOST_NAMED)}`,
    place,
  );
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
      'wrong-dimension',
      `“${heading}” in ${path} is ${describe(headingUnit.dimension)}, not ${describe(schema.dimension)}`,
      placeOfFeature(node, node.heading === undefined ? 'name' : 'heading'),
    );
  const description =
    heading === ''
      ? `in which unit? ${node.name} in ${schema.unit}`
      : `“${heading}” in ${path} states no unit: ${node.name} in ${schema.unit}`;
  return problem('missing-unit', description, place, [fix]);
}

/** Most of a column cannot be: its unit is another, or it is another column. */
function beyondProblem(column: LogColumn, recording: Recording, path: string): Problem | undefined {
  const { node, schema } = column;
  const beyond = beyondBounds(column, recording);
  if (!beyond) return undefined;
  const { share, value, low, high } = beyond;
  const format = (si: number) => formatValue(si, schema.unit);
  return problem(
    'implausible-value',
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
  const whole = damaged
    ? [`${path}, line ${damaged.line} is left out: ${damageWords(damaged.found)}${others(damaged.count)}`]
    : [];
  const cells = columns.flatMap(({ at, node: { name } }) => {
    const found = strange[at];
    return found && name !== 'time'
      ? [`${path}, line ${found.line}: “${found.found}” for ${name} is no number and is left out${others(found.count)}`]
      : [];
  });
  return [...whole, ...cells].map((description) => ({
    ...problem('wrong-dimension', description, place),
    severity: 'warning' as const,
  }));
}
