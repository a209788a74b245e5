/** The `log` line of an observation: which column of the file is what, in which unit, and its numbers. */
import { AstUtils } from 'langium';
import type { Column, Log } from '../../grammar/generated/ast.ts';
import { lookupOf } from '../../resolve/linker.ts';
import { remembered } from '../../syntax/memory.ts';
import { placeOf } from '../../syntax/source.ts';
import { parseUnit, type Unit, unitFor, unitNamed } from '../../units/parse.ts';
import { type ColumnSchema, columnOf, LOG_COLUMNS } from '../../vocabulary/columns.ts';
import type { FlightLog } from '../build.ts';
import { headingOf, isHeading } from './heading.ts';
import { type LogFile, logFilesOf } from './log-files.ts';
import type { TimeColumn } from './log-reader.ts';
import type { Recording } from './recording.ts';

/** A column that the line names, and where the file has it. */
export interface LogColumn {
  readonly node: Column;
  readonly schema: ColumnSchema;
  /** -1: the file has no such column. */
  readonly at: number;
  /** As the line states it, else as the heading does. */
  readonly unit: Unit | undefined;
  /** Of the heading, where it is of another dimension. */
  readonly headingUnit: Unit | undefined;
}

export interface LogLine {
  readonly file: LogFile | undefined;
  readonly columns: readonly LogColumn[];
  /** Absent until file, time and what was logged can be read. */
  readonly log?: FlightLog;
}

export const readLogLine: (node: Log) => LogLine = remembered(read);

function read(node: Log): LogLine {
  const document = AstUtils.getDocument(node);
  const openings = lookupOf(document)?.openings;
  const time = node.columns.findIndex(({ name }) => name === 'time');
  const timeNode = node.columns[time];
  const file =
    node.file === undefined || !timeNode
      ? undefined
      : openings && logFilesOf(openings).read(document, node.file, timeColumn(timeNode, time));
  if (!file || !('recording' in file)) return { file, columns: [] };
  const columns = node.columns.flatMap((column, index) => columnIn(column, index, file.recording) ?? []);
  const log = logOf(node, file.recording, columns);
  return { file, columns, ...(log && { log }) };
}

const statedUnit = ({ unit }: Column, { dimension }: ColumnSchema): Unit | undefined => {
  const parsed = unit === undefined ? undefined : parseUnit(unit).unit;
  return parsed && unitFor(parsed, dimension);
};

function timeColumn(node: Column, position: number): TimeColumn {
  const schema = LOG_COLUMNS.time;
  const stated = statedUnit(node, schema);
  return {
    key: JSON.stringify([node.heading, node.unit, position]),
    name: 'time',
    heading: node.heading,
    position,
    scale: (heading) => {
      const reported = headingOf(heading).unit;
      return (stated ?? (reported && unitFor(reported, schema.dimension)))?.scale;
    },
  };
}

function columnIn(node: Column, index: number, { headings }: Recording): LogColumn | undefined {
  const schema = columnOf(node.name, LOG_COLUMNS);
  if (!schema) return undefined;
  const at = headings.length === 0 ? index : headings.findIndex((heading) => isHeading(heading, node));
  const reported = headingOf(headings[at] ?? '', schema.dimension).unit;
  const fitting = reported && unitFor(reported, schema.dimension);
  const unit = node.unit === undefined ? fitting : statedUnit(node, schema);
  return { node, schema, at, unit, headingUnit: fitting ? undefined : reported };
}

/** The column of time, and those of what was measured. */
const MEASURED: ReadonlySet<string> = new Set(['voltage', 'current', 'output']);

function logOf(node: Log, recording: Recording, columns: readonly LogColumn[]): FlightLog | undefined {
  const time = columns.find(({ node: { name } }) => name === 'time');
  if (!time || time.at < 0 || !(time.unit || recording.hasClock)) return undefined;
  const known = columns.filter(({ at, unit, node: { name } }) => name !== 'time' && at >= 0 && unit !== undefined);
  if (!known.some(({ node: { name } }) => MEASURED.has(name))) return undefined;
  if (known.some((column) => beyondBounds(column, recording))) return undefined;
  const made = new Map<string, Float64Array | undefined>();
  return {
    file: node.file ?? '',
    place: placeOf(node),
    content: JSON.stringify([
      recording.content,
      time.at,
      time.unit?.name,
      known.map(({ node: { name }, at, unit }) => [name, at, unit?.name]),
    ]),
    recording,
    series: (name) => {
      if (!made.has(name))
        made.set(
          name,
          seriesOf(
            known.filter((column) => column.node.name === name),
            recording,
          ),
        );
      return made.get(name);
    },
  };
}

const boundsOf = ({ plausible: [low, high], unit }: LogColumn['schema']): [low: number, high: number] => {
  const { toSI } = unitNamed(unit);
  return [toSI(low), toSI(high)];
};

interface Beyond {
  /** Of the moments that have a number. */
  readonly share: number;
  /** SI, one of them. */
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** Of a column: fewer are spikes, which do not show its unit. */
const SPIKES = 0.1;

/** What no recorder reads, where it is much of a column: its unit is another, or it is another column. */
export function beyondBounds({ at, unit, schema, node }: LogColumn, recording: Recording): Beyond | undefined {
  if (node.name === 'time') return undefined;
  const [low, high] = boundsOf(schema);
  let [known, beyond, value] = [0, 0, 0];
  for (const raw of recording.columns[at] ?? []) {
    if (!Number.isFinite(raw)) continue;
    known++;
    const si = unit?.toSI(raw) ?? raw;
    if (si >= low && si <= high) continue;
    beyond++;
    value = si;
  }
  return beyond > SPIKES * known ? { share: beyond / known, value, low, high } : undefined;
}

/** SI; of several columns the average. What cannot be is left out. */
function seriesOf(columns: readonly LogColumn[], recording: Recording): Float64Array | undefined {
  if (columns.length === 0) return undefined;
  const sums = new Float64Array(recording.times.length);
  const counts = new Uint16Array(recording.times.length);
  for (const { at, unit, schema } of columns) {
    const [low, high] = boundsOf(schema);
    const raw = recording.columns[at];
    if (!raw || !unit) continue;
    for (let i = 0; i < raw.length; i++) {
      const value = unit.toSI(raw[i] ?? Number.NaN);
      if (!(value >= low && value <= high)) continue;
      sums[i] = (sums[i] ?? 0) + value;
      counts[i] = (counts[i] ?? 0) + 1;
    }
  }
  return sums.map((sum, i) => (counts[i] ? sum / (counts[i] ?? 1) : Number.NaN));
}
