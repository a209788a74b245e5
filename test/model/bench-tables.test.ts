import { describe, expect, it } from 'vitest';
import { readTable } from '../../packages/language/src/model/table-file.ts';
import { modelsOf } from './read.ts';

const STAND = `motor M { kv: 3800 rpm/V  mass: 13 g }
propeller P { diameter: 76 mm  blades: 3 }
bench Stand {
  motor: M
  propeller: P
  air: 21 degC +- 1 degC at 120 m
  ROWS
}`;

const bench = async (rows: string, files: Readonly<Record<string, string>> = {}) => {
  const models = await modelsOf({ 'stand/stand.fettle': STAND.replace('ROWS', rows), ...files });
  const model = models['stand/stand.fettle'];
  return { read: model?.benches[0], problems: model?.problems.map(({ message }) => message) };
};

describe('rows of a test stand', () => {
  it('are SI, in the order of the columns; a missing cell is a hole', async () => {
    const { read, problems } = await bench(`rows duty in %, thrust in gf, speed in rpm {
     25,  55, 12000
     50, 160, -
  }`);
    expect(problems).toEqual([]);
    expect(read?.columns.map(({ name, unit }) => [name, unit])).toEqual([
      ['duty', '%'],
      ['thrust', 'gf'],
      ['speed', 'rpm'],
    ]);
    // One gram-force is 9.80665 mN (3rd CGPM, 1901).
    expect(read?.rows[0]?.[1]).toBeCloseTo(0.055 * 9.80665, 9);
    expect(read?.rows[0]?.[2]).toBeCloseTo(400 * Math.PI, 9);
    expect(read?.rows[1]?.[2]).toBeUndefined();
    expect(read?.part.part('motor')?.name).toBe('M');
    expect(read?.part.figure('air')?.conditions.at?.value).toBe(120);
  });

  it('may be in a file of its own, columns found by their headings', async () => {
    const { read, problems } = await bench('rows thrust in gf, duty in % from "m.csv"', {
      'stand/m.csv': 'duty %,voltage V,thrust gf\n25,16.0,55\n50,15.7,160\n',
    });
    expect(problems).toEqual([]);
    expect(read?.rows.map((row) => row[1])).toEqual([0.25, 0.5]);
    expect(read?.rows[1]?.[0]).toBeCloseTo(0.16 * 9.80665, 9);
  });

  it('may use semicolons and decimal commas', async () => {
    const { read, problems } = await bench('rows duty in %, current in A from "m.csv"', {
      'stand/m.csv': 'duty;current\r\n25;1,10\r\n50;4,25\r\n',
    });
    expect(problems).toEqual([]);
    expect(read?.rows).toEqual([
      [0.25, 1.1],
      [0.5, 4.25],
    ]);
  });
});

describe('a table in a file', () => {
  it('has headings or begins with numbers, quotes or none, a byte-order mark or none', () => {
    expect(readTable('\uFEFF"duty, in %",thrust\n25,55')).toEqual({
      headings: ['duty, in %', 'thrust'],
      rows: [{ line: 2, cells: ['25', '55'] }],
    });
    expect(readTable('25\t1,5\n\n50\t4')).toEqual({
      headings: [],
      rows: [
        { line: 1, cells: ['25', '1.5'] },
        { line: 3, cells: ['50', '4'] },
      ],
    });
    expect(readTable('')).toEqual({ headings: [], rows: [] });
  });
});
