/** Full duty and the pack: of li-ion cells, whose rating can be taken literally, and of lipo whose labels cannot. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Finding } from '../../packages/language/src/checks/finding.ts';
import { limitsOf } from '../../packages/language/src/checks/shared/ratings.ts';
import { soundFixes } from '../../packages/language/src/checks/sound-fixes.ts';
import type { ResultId } from '../../packages/language/src/vocabulary/results.ts';
import { SEVERITIES } from '../../packages/language/src/vocabulary/severities.ts';
import { cases } from '../long.ts';
import { checkedIn } from './findings-in.ts';

/** A craft for long flights with a measured drive, so that its ± are small. */
const PARTS = `
motor Far { stator: 28 x 6.5 mm  kv: 1300 rpm/V  resistance: 60 mohm measured  inductance: 18 uH measured  no_load_current: 1.1 A at 10 V measured  rated: 6S  burst: 60 A for 10 s  mass: 47 g }
propeller Seven { diameter: 7 in  pitch: 3.5 in  blades: 3  thrust_coefficient: 0.135 measured  power_coefficient: 0.075 measured  mass: 8 g }
esc Fifty { channels: 4  cells: 4S .. 6S  continuous: 50 A  resistance: 2.8 mohm  mass: 15 g }
airframe Frame { mass: 165 g }
load Cam { draw: 8 W  supply: 7 V .. 28 V  mass: 180 g }
`;

const ROUND = 'chemistry: liion  cells: 6S2P  capacity: 6000 mAh  cell_resistance: 14 mohm measured  mass: 620 g';
const ONE_ROW = 'chemistry: liion  cells: 6S  capacity: 3000 mAh  cell_resistance: 14 mohm measured  mass: 320 g';
const POUCH = 'cells: 6S  capacity: 1300 mAh  cell_resistance: 4.5 mohm measured  mass: 205 g';

async function check(pack: string, duty = '') {
  const text = `${PARTS}pack Mine { ${pack} }
build Craft { airframe: Frame  motors: 4 x Far with Seven  esc: Fifty  load: Cam
  pack: Mine${duty}
}`;
  const { findings = [], builds = [] } = (await checkedIn({ 'craft.fettle': text }))['craft.fettle'] ?? {};
  const results = builds[0]?.assessments[0]?.results;
  return {
    findings: findings.filter(({ id }) => id !== 'estimates' && id !== 'pack-heavy'),
    note: findings.find(({ id }) => id === 'estimates')?.message ?? '',
    build: builds[0]?.build,
    assessment: builds[0]?.assessments[0],
    value: (name: ResultId) => results?.get(name)?.estimate.value ?? Number.NaN,
  };
}

const reported = (findings: readonly Finding[]) => findings.map(({ severity, id }) => `${severity} ${id}`);

describe('li-ion cells at full duty', () => {
  it('far past their burst rating: one error, which names the volts at which such cells are empty', async () => {
    const { findings, value, build } = await check(`${ROUND}  burst: 40 A`);
    expect(value('full_current')).toBeGreaterThan(100);
    expect(reported(findings)).toEqual(['error pack-overcurrent']);
    const [found] = findings;
    expect(found?.message).toMatch(/^At full duty Mine gives 113 ± 19 A, 281 % of its burst rating of 40 A\./);
    expect(found?.message).toMatch(
      /At the reserve a cell falls to 2\.44 ± 0\.22 V, below the 2\.5 V at which li-ion cells/,
    );
    const fixes = found ? soundFixes(found, build) : [];
    expect(fixes.map(({ title }) => title)).toEqual(['Limit the duty to 57 % on Mine: Mine then stays within 40 A']);
  });

  it('so far past it that no duty limit would fly well: another pack is named', async () => {
    const { findings, build } = await check(`${ROUND}  burst: 20 A`);
    expect(reported(findings)).toEqual(['error pack-overcurrent']);
    const fixes = findings[0] ? soundFixes(findings[0], build) : [];
    expect(fixes.map(({ title }) => title)).toEqual(['take a pack that supplies 120 A for seconds']);
  });

  it('past it by less: a duty limit keeps the pack, and the craft flies well under it', async () => {
    const { findings, build } = await check(`${ROUND}  burst: 75 A`);
    expect(reported(findings)).toEqual(['warning pack-overcurrent']);
    const [fix] = findings[0] ? soundFixes(findings[0], build) : [];
    expect(fix?.title).toMatch(/^Limit the duty to \d+ % on Mine: Mine then stays within 75 A$/);
    const limited = await check(`${ROUND}  burst: 75 A`, fix?.edits[0]?.newText);
    expect(reported(limited.findings)).toEqual([]);
    expect(limited.value('full_current')).toBeLessThanOrEqual(75);
    expect(limited.value('full_current')).toBeGreaterThan(0.95 * 75);
    expect(limited.value('reserve_thrust_to_weight')).toBeGreaterThan(1.6);
  });

  it('the limits shown of the pack have the one that is passed', async () => {
    const shown = async (rating: string) => {
      const { assessment } = await check(`${ROUND}  ${rating}`);
      const limits = assessment ? limitsOf(assessment) : [];
      return limits.filter(({ key }) => key.of === 'pack' && key.rating === 'burst').map(({ limit }) => limit);
    };
    expect(await shown('burst: 40 A')).toEqual([40]);
    expect(await shown('discharge: 40 A')).toEqual([80]);
    expect(await shown('discharge: 60 A')).toEqual([]);
    expect(await shown('')).toEqual([]);
  });

  it('rated for minutes only: for seconds twice that is allowed', async () => {
    const { findings } = await check(`${ROUND}  discharge: 40 A`);
    expect(reported(findings)).toEqual(['warning pack-overcurrent']);
    expect(findings[0]?.message).toContain('of the 80 A allowed for seconds (2 × its continuous rating of 40 A)');
    expect(reported((await check(`${ROUND}  discharge: 60 A`)).findings)).toEqual([]);
  });

  it('with no rating at all: compared with what such cells usually supply, with its ±', async () => {
    const one = await check(ONE_ROW);
    expect(reported(one.findings)).toEqual(['warning pack-overcurrent']);
    expect(one.findings[0]?.message).toMatch(
      /of the 42 \(21 to 84\) A that li-ion cells of its capacity usually supply for seconds/,
    );
    const two = await check(ROUND);
    expect(reported(two.findings)).toEqual([]);
    expect(two.note).toContain(
      'whether Mine stays within the 84 (42 to 168) A that li-ion cells of its capacity usually supply',
    );
  });

  it('too much of them and too low volts are one finding, and its fix cures both', async () => {
    const { findings, build } = await check(`${ONE_ROW}  discharge: 35 A`);
    expect(reported(findings)).toEqual(['warning pack-overcurrent']);
    expect(findings[0]?.related.map(({ message }) => message)).toEqual(
      expect.arrayContaining([expect.stringMatching(/^and with it pack-oversag: At full duty each cell/)]),
    );
    const [fix] = findings[0] ? soundFixes(findings[0], build) : [];
    // What is left concerns the end of the flight alone.
    const after = await check(`${ONE_ROW}  discharge: 35 A`, fix?.edits[0]?.newText);
    expect(reported(after.findings)).toEqual(['information pack-oversag']);
    expect(after.value('full_cell_voltage')).toBeGreaterThan(2.8);
    expect(after.value('full_current')).toBeLessThanOrEqual(70);
  });

  it('volts far too low lead where they are the worse of the two', async () => {
    const { findings } = await check(`${ONE_ROW.replace('14 mohm', '40 mohm')}  discharge: 12 A`);
    expect(reported(findings)).toEqual(['error pack-oversag']);
    expect(findings[0]?.related.some(({ message }) => message.startsWith('and with it pack-overcurrent'))).toBe(true);
  });

  it('past their continuous rating as flown: a warning, and another pack', async () => {
    const { findings } = await check(`${ROUND}  discharge: 8 A  burst: 130 A`);
    expect(reported(findings)).toEqual(['warning pack-overcurrent']);
    expect(findings[0]?.message).toMatch(/^Over the flight as flown Mine gives .* of its continuous rating of 8 A/);
  });

  // Craft with 4-inch propellers on four round cells of 15 A are flown by many: a burst of a second is no flight.
  it('a small craft for long flights on four of them is quiet', async () => {
    const text = `motor M { stator: 20 x 4 mm  kv: 2900 rpm/V  rated: 4S  burst: 18 A for 10 s  mass: 16.5 g }
propeller P { diameter: 4 in  pitch: 2.4 in  blades: 2  mass: 2 g }
esc E { channels: 4  continuous: 25 A  mass: 8 g }
pack Four { chemistry: liion  cells: 4S  capacity: 3000 mAh  discharge: 15 A  mass: 198 g }
build Craft { dry_mass: 175 g  motors: 4 x M with P  esc: E  pack: Four }`;
    const { findings = [], builds = [] } = (await checkedIn({ 'craft.fettle': text }))['craft.fettle'] ?? {};
    const burst = builds[0]?.assessments[0]?.results.get('burst_current')?.estimate.value ?? Number.NaN;
    expect(burst).toBeGreaterThan(15);
    expect(reported(findings.filter(({ severity }) => severity === 'error' || severity === 'warning'))).toEqual([]);
  });

  it('never have a more severe finding for a higher rating', async () => {
    const rank = async (amperes: number) => {
      const { findings } = await check(`${ROUND}  burst: ${amperes} A`);
      return Math.max(-1, ...findings.map(({ severity }) => 3 - SEVERITIES.indexOf(severity)));
    };
    await fc.assert(
      fc.asyncProperty(fc.integer({ min: 15, max: 150 }), fc.integer({ min: 1, max: 60 }), async (rating, more) => {
        expect(await rank(rating + more)).toBeLessThanOrEqual(await rank(rating));
      }),
      { seed: 46, numRuns: cases(6, 25) },
    );
  }, 60_000);
});

describe('lipo at full duty', () => {
  it('near its burst rating is flown every day: nothing', async () => {
    const { value } = await check(POUCH);
    const rate = value('full_current') / 1.3;
    expect(rate).toBeGreaterThan(90);
    for (const [discharge, burst] of [
      [rate / 2, rate * 1.06],
      [rate / 2, rate],
      [rate / 2, rate / 1.1],
    ] as const) {
      const label = `discharge: ${discharge.toFixed(0)}C  burst: ${burst.toFixed(0)}C`;
      expect(reported((await check(`${POUCH}  ${label}`)).findings), label).toEqual([]);
    }
    expect(reported((await check(`${POUCH}  discharge: ${(rate / 2).toFixed(0)}C`)).findings)).toEqual([]);
  });

  it('far past what even its label states for seconds: a warning', async () => {
    const { findings } = await check(`${POUCH}  discharge: 25C  burst: 50C`);
    expect(reported(findings)).toEqual(['warning pack-overcurrent']);
    expect(findings[0]?.message).toMatch(/of its burst rating of 65 A/);
  });

  it('without a label has no finding about a rate', async () => {
    const { findings, note } = await check(POUCH);
    expect(reported(findings)).toEqual([]);
    expect(note).not.toContain('supply for seconds');
  });
});

describe('full duty at the reserve', () => {
  // Cut-offs at which cells are measured: 3.0 V of pouch cells, 2.5 V of round ones (W. Ai 2020, M. Ecker 2015; IEC 61960-3 leaves them to the maker).
  it('below the volts at which the cells are empty, with all its ±, is worth knowing', async () => {
    const { findings, value } = await check(`${ROUND.replace('14 mohm', '19 mohm')}  discharge: 60 A`);
    expect(value('full_cell_voltage')).toBeGreaterThan(2.8);
    expect(reported(findings)).toEqual(['information pack-oversag']);
    expect(findings[0]?.message).toMatch(
      /^At full duty at the reserve each cell of Mine falls to 2\.\d+ ± \S+ V, below the 2\.5 V/,
    );
  });

  it('perhaps below them is an open question', async () => {
    const { findings, note } = await check(`${ROUND}  discharge: 60 A`);
    expect(reported(findings)).toEqual([]);
    expect(note).toContain(
      'whether at full duty at the reserve a cell of Mine stays above the 2.5 V at which li-ion cells are empty',
    );
  });
});

describe('figures that do not go with the chemistry', () => {
  it('a rate that no round cell supplies is one message, which names the chemistry', async () => {
    const { findings } = await check(`${ROUND}  discharge: 100C`);
    expect(reported(findings)).toEqual(['error claims-disagree']);
    expect(findings[0]?.message).toMatch(/li-ion cells .* 100C; .*its chemistry is lipo/);
    expect(reported((await check(`${ROUND}  discharge: 40C`)).findings)).toEqual(['warning claims-disagree']);
    expect(reported((await check(`${ROUND}  discharge: 240 A`)).findings)).toEqual(['warning claims-disagree']);
    expect(reported((await check(`${ROUND}  discharge: 20C`)).findings)).toEqual([]);
  });

  it.each(['discharge: 40 A', 'discharge: 100C', ''])(
    'a forgotten chemistry is found by what the pack stores: %s',
    async (rate) => {
      const forgotten = ROUND.replace('chemistry: liion', '').replace(/cell_resistance: \S+ mohm measured/, '');
      const { findings } = await check(`${forgotten.replace('620 g', '628 g')}  ${rate}`);
      expect(reported(findings)).toEqual(['warning claims-disagree']);
      expect(findings[0]?.message).toMatch(
        /212 Wh per kilogram; .*because no chemistry is stated: write `chemistry: liion`/,
      );
    },
  );

  it.each([
    ['lipo', 'cells: 4S  capacity: 1300 mAh  mass: 155 g'],
    ['lipo', 'cells: 6S  capacity: 5200 mAh  mass: 720 g'],
    ['lipo', 'cells: 6S  capacity: 16000 mAh  mass: 1900 g'],
    ['lihv', 'cells: 6S  capacity: 2200 mAh  mass: 290 g'],
    ['liion', 'cells: 6S  capacity: 3000 mAh  mass: 300 g'],
    ['liion', 'cells: 6S2P  capacity: 10000 mAh  mass: 860 g'],
  ])('packs as they are sold pass: %s %s', async (chemistry, pack) => {
    const { findings } = await check(`chemistry: ${chemistry}  ${pack}`);
    expect(reported(findings)).not.toContain('warning claims-disagree');
  });
});
