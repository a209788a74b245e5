/** fettle try: lines in, what they do to a build out; nothing is written. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { Workshop } from './command.ts';

const shop = new Workshop();
afterAll(() => shop.remove());
const builds = 'examples/builds';
const tried = (build: string, ...lines: string[]) =>
  JSON.parse(shop.fettle('try', build, ...lines, '--in', builds, '--format', 'json').out);

interface Row {
  name: string;
  before: { value: number; plusMinus: number } | null;
  after: { value: number; plusMinus: number } | null;
  difference: { value: number; plusMinus: number; isBeyond: boolean } | null;
}
const rowOf = (packs: { after: string; results: Row[] }[], pack: string, name: string): Row | undefined =>
  packs.find(({ after }) => after === pack)?.results.find((row) => row.name === name);

describe('fettle try', () => {
  it('shows before, after and the difference on each pack, and writes nothing', () => {
    const file = join(shop.folder, 'examples/builds/spire.fettle');
    const text = readFileSync(file, 'utf8');
    const { code, out, err } = shop.fettle('try', 'Spire', 'item: 30 g', '--in', builds);
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(out).toMatch(/^on Mast720_4S\n +now +then +difference$/m);
    expect(out).toMatch(/^all-up weight +260\.3 ± 1\.2 g +290\.3 ± 1\.9 g +\+30\.0 ± 1\.5 g \*$/m);
    expect(out).toMatch(/^\d+ results stay the same$/m);
    expect(readFileSync(file, 'utf8')).toBe(text);
  });

  it('differs by what compare shows of a variant with the same lines in a file', () => {
    shop.write(
      'examples/builds/heavier.fettle',
      'use "../parts"\nuse "../stands"\nbuild Heavier like Spire {\n  item: 30 g "box"\n}\n',
    );
    const compared = JSON.parse(
      shop.fettle('compare', 'Spire', 'Heavier', '--with', 'Mast1050_4S', '--in', builds, '--format', 'json').out,
    );
    const { packs } = tried('Spire', 'item: 30 g');
    const rows: { name: string; cells: { value?: number; difference?: object }[] }[] = compared.rows;
    const printed = rows.filter(({ cells }) => cells[1]?.difference !== undefined);
    expect(printed.length).toBeGreaterThan(30);
    for (const { name, cells } of printed) {
      const row = rowOf(packs, 'Mast1050_4S', name);
      expect({ name, value: row?.after?.value, difference: row?.difference }).toEqual({
        name,
        value: cells[1]?.value,
        difference: cells[1]?.difference,
      });
    }
  });

  it('flies a pack in place of those it has, compared with the requested one', () => {
    const { out } = shop.fettle('try', 'Gable', 'pack: Mast720_4S', '--with', 'Round2600_3S', '--in', builds);
    expect(out).toContain('on Round2600_3S → Mast720_4S\n');
    expect(out).not.toContain('Eaves1150_3S');
    expect(out).toMatch(/^all-up weight .* -59\.0 ± 1\.7 g \*$/m);
  });

  it('changes a figure of a part, also where the part is named on several lines', () => {
    const { packs } = tried('Belfry', 'motor.kv: 2650 rpm/V', 'cycles: 100');
    expect(rowOf(packs, 'Mast1350_4S', 'effective_kv')?.after?.value).toBe(2650);
    // How fast it must turn to hover depends on the propeller, not on the winding.
    expect(rowOf(packs, 'Mast1350_4S', 'hover_speed')?.difference?.value).toBeCloseTo(0, 2);
    expect(rowOf(packs, 'Mast1350_4S', 'burst_cell_voltage')?.after?.value).toBeLessThan(4.05);
  });

  it('names a board under its own name when a figure of it changes: what it feeds stays fed', () => {
    const { packs, findings } = tried('Belfry', 'Top.mass: 30 g');
    expect(rowOf(packs, 'Mast1350_4S', 'dry_mass')?.difference?.value).toBeCloseTo(18.2, 1);
    expect(findings).toEqual([]);
  });

  it('exits with 1 when a new finding is as severe as requested, and with 0 when one is gone', () => {
    const heavy = shop.fettle('try', 'Spire', 'item: 900 g', '--in', builds);
    expect(heavy.code).toBe(1);
    expect(heavy.out).toMatch(/^new {4}error {2}low-thrust {2}on Mast720_4S$/m);
    const lighter = shop.fettle('try', 'OneCellMore', 'pack: Mast1050_4S', '--in', 'examples');
    expect(lighter.code).toBe(0);
    expect(lighter.out).toMatch(/^gone {3}(?:error|warning|note) {2}motor-overvoltage {2}on Mast950_5S$/m);
  });
});
