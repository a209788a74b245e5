/** What a log states of the warmth of that day is used: the same volts and amperes of a cold pack are those of less resistance. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { guessedColumns } from '../../packages/language/src/model/log/guess-columns.ts';
import { checkedIn } from '../checks/findings-in.ts';

const examples = join(import.meta.dirname, '../../examples');
const FOLDERS = ['builds', 'parts', 'rules', 'stands', 'logs'];
const files = Object.fromEntries(
  FOLDERS.flatMap((folder) =>
    readdirSync(join(examples, folder)).map((name) => [
      `${folder}/${name}`,
      readFileSync(join(examples, folder, name), 'utf8'),
    ]),
  ),
);
const CSV = 'logs/2026-05-21.csv';
const LOGGED = 'logs/logged-spire.fettle';

/** The example's flight with one more column of the same number in all rows, or with a line in its block. */
async function learntWith({ column = '', heading = '', value = 0, line = '' }) {
  const more = column === '' ? '' : `, ${column} "${heading}"`;
  const csv = (files[CSV] ?? '')
    .trimEnd()
    .split('\n')
    .map((row, i) => (column === '' ? row : `${row},${i === 0 ? heading : value}`))
    .join('\n');
  const text = (files[LOGGED] ?? '')
    .replace('output "motors (%)"', `output "motors (%)"${more}`)
    .replace('on: 2026-05-21', `on: 2026-05-21${line}`);
  const { builds, findings } = (await checkedIn({ ...files, [CSV]: `${csv}\n`, [LOGGED]: text }))[LOGGED] ?? {};
  const assessment = builds?.[0]?.assessments.find(({ option }) => option.part.name === 'Mast1050_4S');
  if (!assessment) throw new Error('no build');
  expect(findings?.filter(({ severity }) => severity === 'error')).toEqual([]);
  const of = (name: string) => assessment.results.get(name)?.estimate.value ?? Number.NaN;
  return { voltage: of('full_voltage'), power: of('hover_power') };
}

describe('what a log states of warmth', () => {
  test('a pack that was cold when it sagged so has less resistance on a usual day', async () => {
    const of = (value: number) => learntWith({ column: 'pack_temperature', heading: 'pack (C)', value });
    const [cold, usual, warm] = [await of(5), await of(22), await of(40)];
    expect(cold.voltage).toBeGreaterThan(usual.voltage + 0.03);
    expect(usual.voltage).toBeGreaterThan(warm.voltage + 0.02);
  });

  test('air is that of an air line, and the line counts before the column', async () => {
    const logged = await learntWith({ column: 'air_temperature', heading: 'air (C)', value: 35 });
    const stated = await learntWith({ line: '\n    air: 35 degC ± 3 degC' });
    const cold = await learntWith({ column: 'air_temperature', heading: 'air (C)', value: -10 });
    const both = await learntWith({
      column: 'air_temperature',
      heading: 'air (C)',
      value: -10,
      line: '\n    air: 35 degC ± 3 degC',
    });
    expect(Math.abs(logged.power / stated.power - 1)).toBeLessThan(1e-6);
    expect(Math.abs(both.power / stated.power - 1)).toBeLessThan(1e-6);
    expect(cold.power).toBeGreaterThan(1.005 * logged.power);
  });

  test('only headings that state whose temperature it is are taken for it', () => {
    const guessed = (...headings: readonly string[]) => guessedColumns(['time (s)', 'volts (V)', ...headings]);
    expect(guessed('battery temp (C)', 'ambient temp [°C]').columns).toMatch(
      /air_temperature "ambient temp \[°C\]", pack_temperature "battery temp \(C\)"$/,
    );
    for (const heading of ['temperature (C)', 'esc temp (°C)', 'motor temperature [degC]', 'pack temp', 'ambient (Pa)'])
      expect(guessed(heading)).toEqual({ columns: guessed().columns, open: [] });
  });
});
