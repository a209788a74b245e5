/** What a log states of the warmth of that day is used: the same volts and amperes of a cold pack are those of less resistance. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { assessPlainly } from '../../packages/language/src/analysis/assess.ts';
import { guessedColumns } from '../../packages/language/src/model/log/guess-columns.ts';
import type { ResultId } from '../../packages/language/src/vocabulary/results.ts';
import { checkedIn, judgedIn } from '../checks/findings-in.ts';
import { oneIn } from '../long.ts';

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

interface Stated {
  readonly column?: string;
  readonly heading?: string;
  readonly value?: number;
  readonly line?: string;
}

const pack = (value: number): Stated => ({ column: 'pack_temperature', heading: 'pack (C)', value });
const air = (value: number): Stated => ({ column: 'air_temperature', heading: 'air (C)', value });
const AIR_LINE = { line: '\n    air: 35 degC ± 3 degC' };

const STATED = {
  coldPack: pack(5),
  usualPack: pack(22),
  warmPack: pack(40),
  warmAir: air(35),
  coldAir: air(-10),
  airLine: AIR_LINE,
  coldAirAndLine: { ...air(-10), ...AIR_LINE },
};

/** The example's flight with one more column of the same number in all rows, or with a line in its block. */
function filesWith({ column = '', heading = '', value = 0, line = '' }: Stated): Record<string, string> {
  const more = column === '' ? '' : `, ${column} "${heading}"`;
  const csv = (files[CSV] ?? '')
    .trimEnd()
    .split('\n')
    .map((row, i) => (column === '' ? row : `${row},${i === 0 ? heading : value}`))
    .join('\n');
  const text = (files[LOGGED] ?? '')
    .replace('output "motors (%)"', `output "motors (%)"${more}`)
    .replace('on: 2026-05-21', `on: 2026-05-21${line}`);
  return { ...files, [CSV]: `${csv}\n`, [LOGGED]: text };
}

async function learntWith(stated: Stated) {
  const found = await judgedIn(
    filesWith(stated),
    ({ builds: [build], problems }) => {
      const option = build?.packs.find(({ part }) => part.name === 'Mast1050_4S');
      if (!build || !option) throw new Error('no build');
      expect(problems).toEqual([]);
      const { results } = assessPlainly(build, option);
      const of = (name: ResultId) => results.get(name)?.estimate.value ?? Number.NaN;
      return { voltage: of('full_voltage'), power: of('hover_power') };
    },
    [LOGGED],
  );
  return found[LOGGED] ?? { voltage: Number.NaN, power: Number.NaN };
}

describe('what a log states of warmth', () => {
  test('a pack that was cold when it sagged so has less resistance on a usual day', async () => {
    const cold = await learntWith(STATED.coldPack);
    const usual = await learntWith(STATED.usualPack);
    const warm = await learntWith(STATED.warmPack);
    expect(cold.voltage).toBeGreaterThan(usual.voltage + 0.03);
    expect(usual.voltage).toBeGreaterThan(warm.voltage + 0.02);
  });

  test('air is that of an air line, and the line counts before the column', async () => {
    const logged = await learntWith(STATED.warmAir);
    const stated = await learntWith(STATED.airLine);
    const cold = await learntWith(STATED.coldAir);
    const both = await learntWith(STATED.coldAirAndLine);
    expect(Math.abs(logged.power / stated.power - 1)).toBeLessThan(1e-6);
    expect(Math.abs(both.power / stated.power - 1)).toBeLessThan(1e-6);
    expect(cold.power).toBeGreaterThan(1.005 * logged.power);
  });

  test.each(oneIn(7, Object.entries(STATED), 6))(
    'no check finds an error in the craft that learns from it: %s',
    async (_, stated) => {
      const checked = (await checkedIn(filesWith(stated), [LOGGED]))[LOGGED];
      expect(checked?.builds).toHaveLength(1);
      expect(checked?.findings.filter(({ severity }) => severity === 'error')).toEqual([]);
    },
  );

  test('only headings that state whose temperature it is are taken for it', () => {
    const guessed = (...headings: readonly string[]) => guessedColumns(['time (s)', 'volts (V)', ...headings]);
    expect(guessed('battery temp (C)', 'ambient temp [°C]').columns).toMatch(
      /air_temperature "ambient temp \[°C\]", pack_temperature "battery temp \(C\)"$/,
    );
    for (const heading of ['temperature (C)', 'esc temp (°C)', 'motor temperature [degC]', 'pack temp', 'ambient (Pa)'])
      expect(guessed(heading)).toEqual({ columns: guessed().columns, open: [] });
  });
});
