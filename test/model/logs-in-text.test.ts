/** `log … from` in a text: what of the file is understood; what is stated of what is not is in `test/marked/logs`. */
import { describe, expect, test } from 'vitest';
import type { FlightLog } from '../../packages/language/src/model/build.ts';
import { checkedIn } from '../checks/findings-in.ts';

const CRAFT = `motor M { stator: 14 x 6 mm  kv: 3000 rpm/V  mass: 9 g }
propeller P { diameter: 76 mm  pitch: 45 mm  blades: 3  mass: 1.8 g }
esc Board { channels: 4  continuous: 25 A  mass: 12 g }
pack Four { cells: 4S  capacity: 850 mAh  discharge: 75C  mass: 100 g }
build Tower {
  dry_mass: 190 g
  motors: 4 x M with P
  esc: Board
  pack: Four
`;

interface Read {
  readonly log: FlightLog | undefined;
  readonly description: readonly string[];
  readonly fixes: readonly string[];
}

async function read(line: string, csv: string | undefined, path = 'logs/a.csv'): Promise<Read> {
  const text = `${CRAFT}  observed "evening" with Four {\n    ${line}\n  }\n}\n`;
  const { builds, findings } = (await checkedIn({ 'a.fettle': text, ...(csv !== undefined && { [path]: csv }) }))[
    'a.fettle'
  ] ?? {
    builds: [],
    findings: [],
  };
  const ofText = findings.filter(({ build, id }) => build === undefined || id === 'unknown-name');
  return {
    log: builds[0]?.build.observations[0]?.log,
    description: ofText.map(({ message }) => message),
    fixes: ofText.flatMap(({ fixes }) => fixes.flatMap(({ edits }) => edits.map(({ newText }) => newText))),
  };
}

const series = ({ log }: Read, name: string) =>
  Array.from(log?.series(name) ?? [], (value) => Number(value.toPrecision(6)));

const PLAIN = `time (s),volts,amps,motors (%)
0,16.8,0.4,0
1,15.9,6.2,38.5
2,15.8,6.4,39
`;
const LINE = 'log time "time (s)", voltage "volts", current "amps", output "motors (%)" from "logs/a.csv"';

describe('what is read', () => {
  test('columns by their headings, with the units that the headings state', async () => {
    const found = await read(LINE, PLAIN);
    expect(found.description).toEqual([]);
    expect([...(found.log?.recording.times ?? [])]).toEqual([0, 1, 2]);
    expect(series(found, 'voltage')).toEqual([16.8, 15.9, 15.8]);
    expect(series(found, 'current')).toEqual([0.4, 6.2, 6.4]);
    expect(series(found, 'output')).toEqual([0, 0.385, 0.39]);
  });

  test.each([
    [
      'semicolons and decimal commas',
      PLAIN.replaceAll('.', ';').replaceAll(',', '|').replaceAll(';', ',').replaceAll('|', ';'),
    ],
    ['tabs', PLAIN.replaceAll(',', '\t')],
    [
      'quotes and decimal commas',
      PLAIN.split('\n')
        .map((row) =>
          row
            .split(',')
            .map((cell) => (cell ? `"${cell.replace('.', ',')}"` : ''))
            .join(','),
        )
        .join('\n'),
    ],
    ['Windows line ends and a mark at the beginning', `\uFEFF${PLAIN.replaceAll('\n', '\r\n')}`],
    ['lines of other things ahead', `recorded with care, on a tower\n\nfirmware,12\n${PLAIN}`],
    [
      'columns that nobody asked for',
      PLAIN.split('\n')
        .map((row, i) => (row ? `${row},${i ? 'fix' : 'satellites'},${i}` : ''))
        .join('\n'),
    ],
  ])('%s', async (_, csv) => {
    const found = await read(LINE, csv);
    expect(found.description).toEqual([]);
    expect(series(found, 'voltage')).toEqual([16.8, 15.9, 15.8]);
    expect(series(found, 'output')).toEqual([0, 0.385, 0.39]);
  });

  test.each([
    [
      'milliseconds',
      'log time in ms "t", voltage in V "u" from "logs/a.csv"',
      't,u\n0,16\n500,15\n1000,14\n',
      [0, 0.5, 1],
    ],
    [
      'a unit in the heading',
      'log time, voltage from "logs/a.csv"',
      'time_ms,voltage [mV]\n0,16000\n500,15000\n1000,14000\n',
      [0, 0.5, 1],
    ],
    [
      'times of day',
      'log time, voltage in V from "logs/a.csv"',
      'time,voltage\n14:00:00.0,16\n14:00:00.5,15\n14:00:01.0,14\n',
      [50400, 50400.5, 50401],
    ],
    ['no headings', 'log time in s, voltage in V from "logs/a.csv"', '0,16\n0.5,15\n1,14\n', [0, 0.5, 1]],
  ])('%s', async (_, line, csv, times) => {
    const found = await read(line, csv);
    expect(found.description).toEqual([]);
    expect([...(found.log?.recording.times ?? [])]).toEqual(times);
    expect(series(found, 'voltage')).toEqual([16, 15, 14]);
  });

  test.each([
    ['pack_temperature "cells (°C)"', 'cells (°C)', 12, 285.15],
    ['pack_temperature "cells (C)"', 'cells (C)', 12, 285.15],
    ['pack_temperature "cells [F]"', 'cells [F]', 50, 283.15],
    ['pack_temperature in K "warmth"', 'warmth', 285, 285],
    ['air_temperature', 'air temperature, degC', -3, 270.15],
  ])('%s of “%s”', async (column, heading, value, kelvin) => {
    const found = await read(
      `log time, voltage, ${column} from "logs/a.csv"`,
      `time (s),voltage (V),"${heading}"\n0,16,${value}\n1,15,${value}\n2,15,-\n`,
    );
    expect(found.description).toEqual([]);
    expect(series(found, column.split(' ')[0] ?? '')).toEqual([kelvin, kelvin, Number.NaN]);
  });

  test('a temperature without its unit, of another dimension, beyond what can be, or damaged, is reported', async () => {
    const csv = (heading: string, ...cells: readonly (number | string)[]) =>
      `time (s),voltage (V),${heading}\n${cells.map((cell, i) => `${i},16,${cell}`).join('\n')}\n`;
    const line = (heading: string) => `log time, voltage, pack_temperature "${heading}" from "logs/a.csv"`;
    expect((await read(line('warmth'), csv('warmth', 20, 21))).description).toEqual([
      expect.stringMatching(/states no unit: pack_temperature in degC/),
    ]);
    expect((await read(line('warmth (mV)'), csv('warmth (mV)', 20, 21))).description).toEqual([
      expect.stringMatching(/is a voltage, not a temperature/),
    ]);
    expect((await read(line('warmth (C)'), csv('warmth (C)', 285, 286))).description).toEqual([
      expect.stringMatching(/is 286 degC and the like in 100 % of its rows; .* \(degF for degC\?\)/),
    ]);
    const damaged = await read(line('warmth (C)'), csv('warmth (C)', 20, 'hot', 21));
    expect(damaged.description).toEqual([
      expect.stringMatching(/line 3: “hot” for pack_temperature is no number and is left out/),
    ]);
    expect(series(damaged, 'pack_temperature')).toEqual([293.15, Number.NaN, 294.15]);
  });

  test('several columns of output are averaged', async () => {
    const found = await read(
      'log time, voltage, output "m1 (%)", output "m2 (%)" from "logs/a.csv"',
      'time (s),voltage (V),m1 (%),m2 (%)\n0,16,30,40\n1,15,50,\n',
    );
    expect(found.description).toEqual([]);
    expect(series(found, 'output')).toEqual([0.35, 0.5]);
  });

  test('a restart, a long pause, and headings written again begin another run; a gap is one run', async () => {
    const csv = `time (s),voltage (V)\n0,16\n1,16\n9,16\ntime (s),voltage (V)\n0,15\n1,15\n100,14\n101,14\n`;
    const found = await read('log time, voltage from "logs/a.csv"', csv);
    expect(found.description).toEqual([]);
    expect(found.log?.recording.runs).toEqual([
      { from: 0, to: 3 },
      { from: 3, to: 5 },
      { from: 5, to: 7 },
    ]);
  });

  test('what cannot be a voltage is no voltage', async () => {
    const volts = Array.from({ length: 20 }, (_, i) => (i === 1 ? 655.35 : 16 - i / 20));
    const rows = volts.map((one, i) => `${i},${one}`);
    const found = await read('log time, voltage from "logs/a.csv"', `time (s),voltage (V)\n${rows.join('\n')}\n`);
    expect(series(found, 'voltage')).toEqual(volts.map((one) => (one > 100 ? Number.NaN : one)));
  });

  test('so many rows a second that they are drawn together, each counted once', async () => {
    const rows = Array.from({ length: 5000 }, (_, i) => `${i / 1000},${(16 - i / 5000).toFixed(4)}`);
    const found = await read('log time, voltage from "logs/a.csv"', `time (s),voltage (V)\n${rows.join('\n')}\n`);
    expect(found.log?.recording.rows).toBe(5000);
    expect(found.log?.recording.times.length).toBe(50);
    expect(found.log?.recording.times[0]).toBeCloseTo(0.0495, 4);
    expect(series(found, 'voltage')[0]).toBeCloseTo(15.9901, 3);
  });
});

describe('what is stated', () => {
  const OK = 'time (s),voltage (V)\n0,16\n1,15\n';
  test('a log belongs in an observation, and headings to a file', async () => {
    const text = `${CRAFT}  log time, voltage from "logs/a.csv"\n}\n`;
    const { findings } = (await checkedIn({ 'a.fettle': text, 'logs/a.csv': OK }))['a.fettle'] ?? { findings: [] };
    expect(findings.map(({ message }) => message)).toContain('log belongs in an observed block, not in a build');
    const bench = `${CRAFT}}\nbench Stand {\n  motor: M\n  propeller: P\n  rows thrust in gf "pull" {\n    12\n  }\n}\n`;
    const other = (await checkedIn({ 'a.fettle': bench }))['a.fettle']?.findings ?? [];
    expect(other.map(({ message }) => message)).toContain(
      '“pull” is what a file calls its column; these rows are in the text',
    );
  });

  test('rows of a stand are found by any heading', async () => {
    const bench = `${CRAFT}}\nbench Stand {\n  motor: M\n  propeller: P\n  rows thrust in gf "pull", power in W "input" from "s.csv"\n}\n`;
    const found = (await checkedIn({ 'a.fettle': bench, 's.csv': 'input;pull\n20;110\n' }))['a.fettle'];
    expect(found?.findings.filter(({ build }) => build === undefined)).toEqual([]);
    const [row] = found?.builds[0]?.build.benches[0]?.rows ?? [];
    expect(row?.[1]).toBe(20);
  });
});
