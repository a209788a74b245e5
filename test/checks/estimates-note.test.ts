/** The one note on estimates: it advises what a builder can do and write down, and what it promises comes true. */
import { describe, expect, it } from 'vitest';
import { USUAL_TOOLS } from '../../packages/language/src/analysis/learn/measurement-kinds.ts';
import { measurementsFor } from '../../packages/language/src/analysis/learn/next-measurement.ts';
import { expanded } from '../../packages/language/src/analysis/uncertainty/estimate.ts';
import { EXAMPLE_CRAFT } from '../../packages/language/src/checks/example-craft.ts';
import { formatValue } from '../../packages/language/src/units/print.ts';
import { allEstimates } from '../../packages/language/src/vocabulary/estimators.ts';
import { howToMeasure, MEASURING } from '../../packages/language/src/vocabulary/measuring.ts';
import { schemaOf } from '../../packages/language/src/vocabulary/properties.ts';
import type { BlockKind } from '../../packages/language/src/vocabulary/schema.ts';
import { textOf } from '../ordinary-craft.ts';
import { checkedIn, findingsIn } from './findings-in.ts';

const note = async (text: string): Promise<string> =>
  (await findingsIn({ 'craft.fettle': text }))['craft.fettle']?.find(({ id }) => id === 'estimates')?.message ?? '';

const advice = (message: string): string => /Measure first: (.*?); /.exec(message)?.[1] ?? '';
const minutes = (message: string): number => Number(/minutes ±(\d+) %/.exec(message)?.[1]);
const promised = (message: string): number => Number(/minutes would then be known to ±(\d+) %/.exec(message)?.[1]);

describe('advice', () => {
  const measurable = Object.entries(MEASURING).flatMap(([kind, properties]) =>
    Object.keys(properties).map((property) => [kind as BlockKind, property] as const),
  );

  it.each(measurable)('%s %s can be written down', (kind, property) => {
    expect(schemaOf(kind).properties[property]).toBeDefined();
  });

  it.each([...allEstimates()])('states how to get $kind $property', ({ kind, property }) => {
    const label = 'as it stands';
    // An estimate of what comes behind a word, `lead.of`, belongs to the word's property.
    const [own = ''] = property.split('.');
    const whose = { sort: 'property', kind, part: 'It', property: own } as const;
    expect(howToMeasure({ whose, label })).not.toBe(label);
  });
});

describe('advice for what decides nothing', () => {
  it('is not given where it certainly cannot lift itself, nor where a mass is missing', async () => {
    const laden = (item: string) => note(`${textOf('spire').replace(/\}\s*$/, `${item}\n}`)}\n`);
    expect(await laden('item: 5 g "tape"')).toContain('Measure first');
    expect(await laden('item: 5000 g "anvil" measured')).toBe('');
    expect(await laden('item: 5000 g "anvil"')).toBe('');
  });

  it('is not to raise a duty limit that is not set', async () => {
    for (const [limit, isSet] of [
      ['', false],
      [' duty 90 %', true],
    ] as const) {
      const text = `build Laden like Healthy { without: Mast900_4S  pack: Mast900_4S as Own${limit}  item: 1100 g "anvil" }`;
      const found = (await findingsIn({ 'craft.fettle': EXAMPLE_CRAFT, 'laden.fettle': text }))['laden.fettle'] ?? [];
      const [first] = found.filter(({ message }) => message.includes('Take mass off'));
      expect(first?.message.includes('a higher duty limit')).toBe(isSet);
    }
  });
});

describe('what the note promises', () => {
  it.each(['rafter', 'spire'] as const)(
    'comes true on %s: what a charger and a stopwatch read is written down, and the ± is what was promised',
    async (craft) => {
      const before = await checkedIn({ 'craft.fettle': textOf(craft) });
      const message = await note(textOf(craft));
      const pack = /puts back into (\w+) after a flight of known length/.exec(advice(message))?.[1];
      const assessments = before['craft.fettle']?.builds[0]?.assessments ?? [];
      const assessment = assessments.find(({ option }) => option.name === pack);
      const time = assessment?.results.get('hover_time')?.estimate;
      if (!assessment || !time) throw new Error(message);
      const [best] = measurementsFor(assessment, time, USUAL_TOOLS);
      expect(best?.id).toBe('charger');
      expect(Math.round((100 * (best?.plusMinusThen ?? 0)) / time.value)).toBe(promised(message));
      const lines = best?.lines
        .map(({ property, value, unit }) => `${property}: ${formatValue(value, unit, 5)}`)
        .join('\n');
      const text = textOf(craft).replace(/\}\s*$/, `observed "measured" with ${pack} {\n${lines}\n}\n}\n`);
      const after = (await checkedIn({ 'craft.fettle': text }))['craft.fettle']?.builds[0]?.assessments ?? [];
      const then = after.find(({ option }) => option.name === pack)?.results.get('hover_time')?.estimate;
      expect(then && expanded(then) / (best?.plusMinusThen ?? 1)).toBeGreaterThan(0.9);
      expect(then && expanded(then) / (best?.plusMinusThen ?? 1)).toBeLessThan(1.1);
      // Read as predicted, it moves nothing.
      expect(Math.abs((then?.value ?? 0) / time.value - 1)).toBeLessThan(0.02);
    },
  );

  it('a row of a stand does the same, written as a bench', async () => {
    const bench = `
bench Stand {
  motor: M1305
  propeller: P2522x4
  rows thrust in gf, speed in rpm, voltage in V, current in A {
    43, 19400, 11.8, 1.1
    120, 32600, 11.6, 3.6
  }
}`;
    const before = await note(textOf('rafter'));
    const after = await note(`${textOf('rafter')}${bench}`);
    expect(minutes(after)).toBeLessThan(0.7 * minutes(before));
    expect(advice(after)).not.toContain('P2522x4');
  });

  it('is no note at all where everything that counts was measured', async () => {
    const measured = textOf('spire')
      .replace(
        'rated: 4S',
        'rated: 4S  resistance: 85 mohm measured  inductance: 14 uH measured  no_load_current: 0.8 A at 10 V measured',
      )
      .replace('blades: 3', 'blades: 3  thrust_coefficient: 0.17 measured  power_coefficient: 0.12 measured')
      .replace('discharge: 95C', 'discharge: 95C  cell_resistance: 6 mohm measured');
    expect(await note(measured)).toBe('');
  });
});

describe('an open question', () => {
  const fromNineNumbers = (capacities: readonly number[]) => `motor M { stator: 22 x 7 mm  kv: 1950 rpm/V }
propeller P { diameter: 127 mm  blades: 3 }
esc E { continuous: 45 A }
load V { draw: 8 W }
${capacities.map((capacity) => `pack P${capacity} { cells: 6S  capacity: ${capacity} mAh }`).join('\n')}
build Five {
  motors: 4 x M with P
  esc: E
  load: V
${capacities.map((capacity) => `  pack: P${capacity}`).join('\n')}
  dry_mass: 480 g
}`;
  const graver = async (text: string) =>
    (await findingsIn({ 'craft.fettle': text }))['craft.fettle']
      ?.filter(({ severity }) => severity === 'error' || severity === 'warning')
      .map(({ severity, id }) => `${severity} ${id}`);

  it('stays in the note where the centre is past the limit by little of its ±; beyond that it is a warning', async () => {
    expect(await graver(fromNineNumbers([1100]))).toEqual([]);
    expect(await note(fromNineNumbers([1100]))).toMatch(/whether a cell of P1100 stays above 3\.3 V at full duty/);
    expect(await graver(fromNineNumbers([500]))).toEqual(['warning pack-oversag']);
  });

  it('is about the pack nearest to the limit, whatever the order of packs', async () => {
    const small = await note(fromNineNumbers([1100, 1500, 1300]));
    expect(small).toBe(await note(fromNineNumbers([1500, 1300, 1100])));
    expect(small).toMatch(/whether a cell of P1100 stays above/);
  });
});
