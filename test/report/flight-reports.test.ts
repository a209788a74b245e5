/** A flight in legs in everything that is printed of a build: one number, the same everywhere. */
import { afterAll, describe, expect, it } from 'vitest';
import { CheckedFolder } from './checked-folder.ts';

const craft = new CheckedFolder();
afterAll(() => craft.remove());

interface Known {
  readonly value: number;
  readonly plusMinus: number;
}
interface Printed {
  readonly pack: string;
  readonly results: Readonly<Record<string, Known>>;
  readonly flights: readonly {
    readonly name: string;
    readonly legs: readonly {
      readonly leg: string;
      readonly charge: Known;
      readonly time: Known;
      readonly mass: Known;
    }[];
  }[];
}

const SPIRE = 'examples/builds/spire.fettle';

async function printed(): Promise<readonly Printed[]> {
  const { builds } = JSON.parse(await craft.print('json', SPIRE)) as {
    builds: readonly { name: string; options: readonly Printed[] }[];
  };
  return builds.find(({ name }) => name === 'Spire')?.options ?? [];
}

describe('a flight in legs is printed', () => {
  it('as JSON, leg by leg, up to its own results', async () => {
    const options = await printed();
    expect(options).toHaveLength(3);
    for (const { results, flights } of options) {
      const [flight] = flights;
      const last = flight?.legs.at(-1);
      expect(flight?.legs.map(({ leg }) => leg)).toEqual([
        '15 s climb at 3 m/s',
        '150 m at 9 m/s against 6 m/s',
        '1 min 30 s hover against 6 m/s',
        'home at 9 m/s',
        '20 s descent at 2 m/s',
      ]);
      expect(last?.charge).toEqual(results['flight.FarBay.charge']);
      expect(last?.time).toEqual(results['flight.FarBay.time']);
      expect(last?.mass).toEqual(results.all_up_weight);
      const charges = flight?.legs.map(({ charge }) => charge.value) ?? [];
      expect(charges.toSorted((a, b) => a - b)).toEqual(charges);
    }
  });

  it('as text and Markdown, one line per pack', async () => {
    const row =
      /FarBay.*Mast1050_4S.*3 min 5 s.*267 ± \d+ mAh.*73 ± \d %.*by 7\.\d min \(safe end of 8\.\d ± [\d.]+ min\), at 3\.\d+ ± [\d.]+ V per cell, 150 m out/;
    expect(await craft.print('text', SPIRE)).toMatch(row);
    expect(await craft.print('markdown', SPIRE)).toMatch(row);
  });

  it('on the card, with the early end of when to turn back', async () => {
    const out = await craft.card('text', 'Spire', SPIRE);
    const [option] = await printed();
    const { value = 0, plusMinus = 0 } = option?.results['flight.FarBay.turn_back_time'] ?? {};
    const [, minutes] = /FarBay\n {4}turn back by \(safe end\): ([\d.]+) min/.exec(out) ?? [];
    expect(Number(minutes)).toBeGreaterThan(value - plusMinus - 0.1);
    expect(Number(minutes)).toBeLessThan(value - plusMinus + 0.1);
  });

  it('on the sheet, with a picture of each pack that states in words what it shows', async () => {
    const page = await craft.sheet('html', 'Spire', SPIRE);
    expect(page.match(/<title id="legs\d-0-title">FarBay on /g)).toHaveLength(3);
    expect(page).toMatch(/after leg 2, 150 m at 9 m\/s against 6 m\/s, 9\d(?:\.\d)? mAh are used/);
    expect(page).toContain('What does each flight take?');
  });
});
