/** Packs that differ, side by side: as one pack they are what two alike are to the letter, and between the two otherwise. */
import { describe, expect, it } from 'vitest';
import type { ResultId } from '../../packages/language/src/vocabulary/results.ts';
import { checkedIn } from '../checks/findings-in.ts';

const PARTS = `
motor M { stator: 14 x 4 mm  kv: 4600 rpm/V  resistance: 110 mohm  mass: 8.5 g }
propeller P { diameter: 76 mm  blades: 2  mass: 1.1 g }
esc Drive { channels: 4  continuous: 20 A  mass: 6 g }
airframe Open { rotors: 4  wheelbase: 130 mm  mass: 30 g }
pack A { cells: 3S  capacity: 850 mAh  discharge: 60C  lead: 60 mm  mass: 70 g }
pack Twin like A { }
pack B { cells: 3S  capacity: 450 mAh  discharge: 60C  lead: 40 mm  mass: 40 g }
pack Four { cells: 4S  capacity: 450 mAh  mass: 50 g }
pack Round { chemistry: liion  cells: 3S  capacity: 3000 mAh  mass: 150 g }
`;

async function check(...packs: readonly string[]) {
  const lines = packs.map((pack) => `pack: ${pack}`).join('\n');
  const text = `${PARTS}build Craft { airframe: Open  motors: 4 x M with P  esc: Drive\n${lines}\n}`;
  const { findings, builds } = (await checkedIn({ 'craft.fettle': text }))['craft.fettle'] ?? {
    findings: [],
    builds: [],
  };
  return {
    findings: findings.filter(({ id }) => id !== 'estimates' && id !== 'pack-heavy'),
    assessments: builds[0]?.assessments ?? [],
  };
}

describe('packs in parallel', () => {
  it('that are alike are what two of one are, in every result', async () => {
    const { findings, assessments } = await check('2 x A in parallel as Two', 'A with Twin in parallel as Beside');
    expect(findings).toEqual([]);
    const [two, beside] = assessments;
    expect(two?.results.size).toBeGreaterThan(20);
    for (const [name, { estimate }] of two?.results ?? []) {
      const other = beside?.results.get(name)?.estimate.value ?? Number.NaN;
      expect(other / estimate.value, name).toBeCloseTo(1, 6);
    }
  });

  it('that differ add charge and mass, and lie between two of the one and two of the other', async () => {
    const { findings, assessments } = await check(
      '2 x A in parallel as Most',
      'A with B in parallel as Mixed',
      '2 x B in parallel as Least',
      '2 x A with B in parallel as Three',
    );
    expect(findings).toEqual([]);
    const values = (name: ResultId) =>
      assessments.map(({ results }) => results.get(name)?.estimate.value ?? Number.NaN);
    const [a = 0, mixed = 0, b = 0, three = 0] = values('all_up_weight').map((kg) => 1e3 * kg);
    expect(a - mixed).toBeCloseTo(30, 6);
    expect(mixed - b).toBeCloseTo(30, 6);
    expect(three - mixed).toBeCloseTo(70, 6);
    for (const name of ['full_voltage', 'charge_used'] as const) {
      const [most = 0, between = 0, least = 0] = values(name);
      expect(between).toBeLessThan(most);
      expect(between).toBeGreaterThan(least);
    }
    const [used = 0, between = 0, least = 0] = values('charge_used');
    expect(between).toBeCloseTo((used + least) / 2, 6);
  });

  it.each([
    ['A with Four in parallel', 'clause', /3 cells in series, Four 4/],
    ['A with Round in parallel', 'clause', /one chemistry/],
    ['A with B in series', 'clause', /only be connected in parallel/],
    ['A with B', 'missing-value', /how are they joined\? in parallel/],
  ])('%s is reported', async (pack, id, message) => {
    const { findings } = await check(pack);
    expect(findings.map((finding) => finding.id)).toEqual([id]);
    expect(findings[0]?.message).toMatch(message);
  });
});
