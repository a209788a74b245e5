/** Which column of a log is what, by the words and units of its headings: plain words of the trade, no recorder's own. */
import Papa from 'papaparse';
import { equal } from '../../units/dimension.ts';
import { unitFor } from '../../units/parse.ts';
import { type ColumnSchema, LOG_COLUMNS } from '../../vocabulary/columns.ts';
import { either } from '../../vocabulary/phrasing.ts';
import { type Heading, headingOf, isHeading, MOST_PREAMBLE } from './heading.ts';

const WORDS: Readonly<Record<string, readonly string[]>> = {
  time: ['time', 'timestamp', 'elapsed', 'clock', 't'],
  voltage: ['voltage', 'volt', 'volts', 'u'],
  current: ['current', 'amp', 'amps', 'ampere', 'amperes', 'i'],
  output: ['output', 'outputs', 'motor', 'motors', 'throttle', 'duty'],
  speed: ['rpm', 'revolutions'],
  height: ['height', 'altitude'],
  ground_speed: ['ground speed', 'groundspeed', 'speed over ground'],
  air_temperature: ['air', 'ambient', 'outside'],
  pack_temperature: ['pack', 'battery', 'cell', 'cells'],
};

/** A temperature may be of anything: only its unit and whose it is together identify it. */
const ONLY_WITH_UNIT: ReadonlySet<string> = new Set(['air_temperature', 'pack_temperature']);

/** The first line with several cells, no numbers among them. */
export function headingsIn(beginning: string): string[] | undefined {
  for (const line of beginning.split(/\r\n|\n|\r/, MOST_PREAMBLE)) {
    const delimiter = [';', '\t'].find((sign) => line.includes(sign)) ?? ',';
    const [cells = []] = Papa.parse<string[]>(line.replace(/^\uFEFF/, ''), { delimiter }).data;
    const written = cells.map((cell) => cell.trim()).filter((cell) => cell !== '');
    if (written.length > 1 && written.every((cell) => /\p{L}/u.test(cell) && Number.isNaN(Number(cell))))
      return written;
  }
  return undefined;
}

export interface Guess {
  /** As written in a `log` line. */
  readonly columns: string;
  /** What a log has to have and this one does not plainly show: in words. */
  readonly open: readonly string[];
}

export function guessedColumns(headings: readonly string[]): Guess {
  const open: string[] = [];
  const undecided = new Set<string>();
  const guessed = Object.entries(LOG_COLUMNS).flatMap(([name, schema]) => {
    const found = likeliest(name, schema, headings);
    if (found.length > 1 && !schema.repeats) {
      undecided.add(name);
      open.push(`${name} may be ${either(found.map((heading) => `“${heading}”`))}`);
      return [];
    }
    return found.map((heading) => {
      if (!unitOf(headingOf(heading, schema.dimension), schema)) open.push(`“${heading}” states no unit for ${name}`);
      const isPlain = isHeading(heading, { name });
      const stated = unitOf(headingOf(heading, schema.dimension), schema) ? '' : ` in ${schema.unit}`;
      return { name, written: `${name}${stated}${isPlain ? '' : ` "${heading}"`}` };
    });
  });
  const has = (wanted: string) => guessed.some(({ name }) => name === wanted);
  if (!has('time') && !undecided.has('time')) open.unshift('no column is plainly the time');
  if (!['voltage', 'current', 'output'].some(has)) open.push('no column is plainly a voltage, a current or an output');
  return { columns: guessed.map(({ written }) => written).join(', '), open };
}

const unitOf = ({ unit }: Heading, { dimension }: ColumnSchema) => unit && unitFor(unit, dimension);

/** The best headings for a column; several where they are equally good. */
function likeliest(name: string, schema: ColumnSchema, headings: readonly string[]): string[] {
  const scored = headings.map((heading) => ({ heading, score: scoreOf(name, schema, heading) }));
  const best = Math.max(0, ...scored.map(({ score }) => score));
  return best === 0 ? [] : scored.filter(({ score }) => score === best).map(({ heading }) => heading);
}

function scoreOf(name: string, schema: ColumnSchema, heading: string): number {
  const { name: words, unit } = headingOf(heading, schema.dimension);
  if (unit ? !unitOf({ name: words, unit }, schema) : ONLY_WITH_UNIT.has(name)) return 0;
  const plain = heading
    .replace(/(\p{Ll})(\p{Lu})/gu, '$1 $2')
    .toLowerCase()
    .replace(/[^\p{L}]+/gu, ' ')
    .trim();
  const reported = ` ${plain} `;
  if (isHeading(heading, { name })) return 4;
  if (WORDS[name]?.some((word) => reported.includes(` ${word} `))) return unit ? 3 : 2;
  // A unit alone identifies volts and amperes; a length or a speed may be of anything.
  return unit && (name === 'voltage' || name === 'current') && equal(unit.dimension, schema.dimension) ? 1 : 0;
}
