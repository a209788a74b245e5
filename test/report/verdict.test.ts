/** What a sheet states of the whole craft, and that its chart of limits has the limit that a finding names. */
import { describe, expect, it } from 'vitest';
import { sheetData } from '../../packages/language/src/report/sheet/sheet-data.ts';
import { sheetVerdictOf } from '../../packages/language/src/report/sheet/sheet-words.ts';
import { checkedIn } from '../checks/findings-in.ts';

const PARTS = `
motor M { stator: 15 x 6 mm  kv: 3900 rpm/V  resistance: 74 mohm measured  rated: 3S  mass: 12.4 g measured }
propeller P { diameter: 76 mm  blades: 3  mass: 1.5 g measured }
esc Drive { channels: 4  continuous: 32 A  mass: 11 g measured }
airframe Duct { guard_diameter: 80 mm  mass: 47 g measured }
lead Thin { wire: 30 AWG  length: 60 mm  plug: Pitch125  mass: 1 g measured }
pack AsWound { cells: 3S  capacity: 900 mAh  discharge: 70C  cell_resistance: 9 mohm measured  mass: 78 g measured }
pack TwoMore { cells: 5S  capacity: 700 mAh  cell_resistance: 11 mohm measured  mass: 96 g measured }
`;

async function sheetOf(lines: string) {
  const text = `${PARTS}build Craft { airframe: Duct  motors: 4 x M with P  esc: Drive  item: 1 g "tape"  ${lines} }`;
  const checked = (await checkedIn({ 'craft.fettle': text }))['craft.fettle'];
  const [build] = checked?.builds ?? [];
  if (!checked || !build) throw new Error('no build');
  const data = sheetData(build, { ...checked, failures: [], pathOf: (uri) => uri }, 'later');
  return { ...data, verdict: sheetVerdictOf(data.findings) };
}

describe('the verdict', () => {
  it.each([
    [
      'require all_up_weight <= 150 g',
      { worry: 'error', sentence: expect.stringMatching(/^Misses a requirement: 1 error/) },
    ],
    [
      'require hover_time >= 40 min',
      { worry: 'error', sentence: expect.stringMatching(/^Misses a requirement: 1 error/) },
    ],
    [
      'require all_up_weight <= 192.3 g',
      { worry: 'warning', sentence: expect.stringMatching(/^Likely misses a requirement: 1 warning/) },
    ],
    ['', { worry: 'clear', sentence: expect.stringMatching(/^No error and no warning/) }],
  ])('of a sound craft with a requirement that it does not meet: %s', async (line, verdict) => {
    expect((await sheetOf(`pack: AsWound  ${line}`)).verdict).toMatchObject(verdict);
  });

  it('of a craft that would break reports that, whatever else is required', async () => {
    const { verdict } = await sheetOf('pack: TwoMore  require all_up_weight <= 150 g');
    expect(verdict.sentence).toMatch(/^Not fit to fly: 2 errors/);
  });

  it('of a craft that misses a wish and has a warning of its own reports both', async () => {
    const { verdict } = await sheetOf('pack: AsWound  lead: Thin  require all_up_weight <= 150 g');
    expect(verdict.sentence).toMatch(/^Misses a requirement; check before flying: 1 error/);
  });
});

describe('the limits of a sheet', () => {
  it('have what every finding above a limit names, with its numbers', async () => {
    const { options, findings } = await sheetOf('pack: AsWound  lead: Thin');
    const named = findings.filter(({ id }) => ['lead-overcurrent', 'plug-overcurrent'].includes(id));
    expect(named.length).toBeGreaterThan(0);
    for (const { id, numbers } of named) {
      const [value, limit] = numbers;
      expect(options[0]?.limits.find(({ subject }) => subject.of === 'finding' && subject.id === id)).toMatchObject({
        allowed: limit?.value,
        flows: { value: value?.value, unit: value?.unit },
      });
    }
  });

  it('name a rating once, under its own name', async () => {
    const { options, findings } = await sheetOf('pack: AsWound');
    expect(findings.filter(({ id }) => id === 'esc-overcurrent')).toEqual([]);
    const subjects = options[0]?.limits.map(({ subject }) => JSON.stringify(subject)) ?? [];
    expect(new Set(subjects).size).toBe(subjects.length);
    expect(subjects).toContain(JSON.stringify({ of: 'esc', rating: 'continuous' }));
  });
});
