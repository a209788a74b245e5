/** The reader of logs, piece by piece: however a table is cut, and whatever it contains. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { LogReader } from '../../packages/language/src/model/log/log-reader.ts';

const SEED = { seed: 13, numRuns: 300 };
const reader = () => new LogReader({ key: '', name: 'time', position: 0, scale: () => 1 });

function read(text: string, cuts: readonly number[] = []) {
  const one = reader();
  const places = [0, ...cuts.map((cut) => Math.floor(cut * text.length)), text.length].sort((a, b) => a - b);
  for (let i = 1; i < places.length; i++) one.push(text.slice(places[i - 1], places[i]));
  return one.finish();
}

const number = fc.double({ min: -1000, max: 1000, noNaN: true }).map((value) => Number(value.toFixed(3)) + 0);
const table = fc.array(fc.tuple(number, number), { minLength: 1, maxLength: 40 });
const cuts = fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 12 });

/** A second between rows: each is a moment of its own. */
const rowsOf = (values: readonly (readonly [number, number])[]) => values.map(([a, b], i) => [i, a, b] as const);

test('numbers come back as they were written, whatever parts the cells, ends the lines or marks decimals', () => {
  const styles = fc.record({
    delimiter: fc.constantFrom(',', ';', '\t'),
    comma: fc.boolean(),
    quotes: fc.boolean(),
    end: fc.constantFrom('\n', '\r\n'),
    last: fc.boolean(),
  });
  fc.assert(
    fc.property(table, styles, cuts, (values, { delimiter, comma, quotes, end, last }, at) => {
      const hasCommas = comma && (delimiter !== ',' || quotes);
      const cell = (value: number) => {
        const text = hasCommas ? String(value).replace('.', ',') : String(value);
        return quotes ? `"${text}"` : text;
      };
      const lines = [`time${delimiter}a${delimiter}b`, ...rowsOf(values).map((row) => row.map(cell).join(delimiter))];
      const { rows, columns, damaged, strange } = read(lines.join(end) + (last ? end : ''), at);
      expect(damaged).toBeUndefined();
      expect(strange.filter(Boolean)).toEqual([]);
      expect(rows).toBe(values.length);
      expect([...(columns[1] ?? [])]).toEqual(values.map(([a]) => Math.fround(a)));
      expect([...(columns[2] ?? [])]).toEqual(values.map(([, b]) => Math.fround(b)));
    }),
    SEED,
  );
});

test('however it is cut, the outcome is the same', () => {
  const cell = fc.oneof(number.map(String), fc.constantFrom('', 'x', '-', '1,5', '"2"', '"', '1e3', ' 7 ', 'NaN'));
  const row = fc.array(cell, { minLength: 1, maxLength: 5 }).map((cells) => cells.join(';'));
  fc.assert(
    fc.property(fc.array(row, { maxLength: 30 }), cuts, (rows, at) => {
      const text = ['time;a;b', ...rows.map((one, i) => `${i};${one}`)].join('\n');
      const { content: _, ...whole } = read(text);
      const { content: __, ...cut } = read(text, at);
      expect(cut.rows).toBe(whole.rows);
      expect(cut.damaged).toEqual(whole.damaged);
    }),
    SEED,
  );
});

test('no text makes it fail', () => {
  const odd = fc.string({
    unit: fc.constantFrom('1', '.', ',', ';', '\n', '\r', '"', 'time', 'x', '-', ':', ' ', '\t', 'é', '\0'),
    maxLength: 200,
  });
  fc.assert(
    fc.property(odd, cuts, (text, at) => {
      const { rows, times, columns } = read(text, at);
      expect(rows).toBeGreaterThanOrEqual(0);
      for (const column of columns) expect(column.length).toBe(times.length);
      expect([...times].every(Number.isFinite)).toBe(true);
    }),
    SEED,
  );
});

test('a long table stays as small as a short one, and loses no charge', () => {
  const one = reader();
  one.push('time,a\n');
  for (let piece = 0; piece < 60; piece++)
    one.push(Array.from({ length: 2000 }, (_, i) => `${piece * 2000 + i},${i % 2}\n`).join(''));
  const { rows, times, columns, width } = one.finish();
  expect(rows).toBe(120_000);
  expect(times.length).toBeLessThan(40_000);
  expect(width).toBeGreaterThan(1);
  const mean = [...(columns[1] ?? [])].reduce((sum, value) => sum + value, 0) / times.length;
  expect(mean).toBeCloseTo(0.5, 3);
});
