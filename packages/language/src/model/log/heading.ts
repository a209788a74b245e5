/** The heading of a column: its name, and its unit where it has one. No recorder's own headings are known here. */
import { equal, TEMPERATURE_POINT } from '../../units/dimension.ts';
import { parseUnit, type Unit } from '../../units/parse.ts';
import type { Dimension } from '../../units/quantity.ts';

/** Units as people write them out in headings. */
const WRITTEN_OUT: ReadonlyMap<string, string> = new Map(
  Object.entries({
    V: 'volt volts',
    mV: 'millivolt millivolts',
    A: 'amp amps ampere amperes',
    mA: 'milliamp milliamps milliampere milliamperes',
    s: 'sec secs second seconds',
    ms: 'msec msecs millisecond milliseconds',
    us: 'usec usecs microsecond microseconds',
    min: 'mins minute minutes',
    '%': 'percent pct',
    m: 'meter meters metre metres',
    'm/s': 'mps',
    degC: 'celsius',
    degF: 'fahrenheit',
  }).flatMap(([unit, words]) => words.split(' ').map((word) => [word, unit] as const)),
);

/** Lines of other things ahead of the headings. */
export const MOST_PREAMBLE = 500;

export interface Heading {
  /** Without its unit. */
  readonly name: string;
  readonly unit?: Unit;
}

/** `time (s)`, `Voltage [V]`, `current_A`, `height, m`, `speed in m/s`, `volts`. */
const FORMS: readonly RegExp[] = [
  /^(.*?)\s*[([{<]\s*([^()[\]{}<>]+?)\s*[)\]}>]$/u,
  /^(.+?)(?:\s*,\s*|\s+in\s+|[_\s/]+)([^_\s,]+)$/u,
];

/** What else these letters are, of a temperature they are degrees. */
const DEGREES: ReadonlyMap<string, string> = new Map([
  ['C', 'degC'],
  ['F', 'degF'],
]);

/** @param dimension of the column that it is looked at for */
export function headingOf(text: string, dimension?: Dimension): Heading {
  const isTemperature = dimension !== undefined && equal(dimension, TEMPERATURE_POINT);
  const plain = text.trim();
  for (const form of FORMS) {
    const [, name, reported] = form.exec(plain) ?? [];
    const unit = reported === undefined ? undefined : unitIn((isTemperature && DEGREES.get(reported)) || reported);
    if (name !== undefined && unit) return { name: name.trim(), unit };
  }
  const unit = unitIn(plain);
  return { name: plain, ...(unit && { unit }) };
}

function unitIn(text: string): Unit | undefined {
  return parseUnit(WRITTEN_OUT.get(text.toLowerCase()) ?? text).unit;
}

/** As it is compared: capitals and blanks do not count. */
const folded = (text: string): string => text.trim().replace(/\s+/g, ' ').toLowerCase();

/** Whether a heading is the requested one in full, or has the name of the column. */
export function isHeading(
  heading: string,
  column: { readonly name: string; readonly heading?: string | undefined },
): boolean {
  if (column.heading !== undefined) return folded(heading) === folded(column.heading);
  return (
    folded(firstWords(heading)) === column.name || folded(headingOf(heading).name).replace(/\W+/gu, '_') === column.name
  );
}

/** `thrust gf`, `Thrust (gf)` → `thrust`. */
const firstWords = (heading: string): string => /^\s*[\p{L}_]+/u.exec(heading)?.[0] ?? '';
