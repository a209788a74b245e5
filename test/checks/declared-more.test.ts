/** What a file may declare of boards without channels, peaks that last, a reserve per pack, coaxial pairs, and discs that overlap. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Assessment } from '../../packages/language/src/analysis/assessment.ts';
import { derivationOf } from '../../packages/language/src/analysis/explain/derivation.ts';
import type { ResultId } from '../../packages/language/src/vocabulary/results.ts';
import { cases } from '../long.ts';
import { checkedIn } from './findings-in.ts';

const PARTS = `
motor M { stator: 14 x 4 mm  kv: 4600 rpm/V  resistance: 110 mohm  mass: 8.5 g }
propeller P { diameter: 76 mm  blades: 2  mass: 1.1 g }
esc Drive { channels: 4  continuous: 20 A  mass: 6 g }
esc Brain "flight controller" { channels: 0  mass: 5 g
  rail five { output: 5 V  continuous: 1 A  burst: 2 A for 1 s } }
airframe Open { rotors: 4  wheelbase: 130 mm  mass: 30 g }
airframe Tower { rotors: 8  wheelbase: 150 mm  mass: 60 g }
load Cam { draw: 3 W  supply: 4.5 V .. 26 V  mass: 9 g }
pack Slim { cells: 3S  capacity: 650 mAh  mass: 52 g }
pack Round { chemistry: liion  cells: 3S  capacity: 3000 mAh  discharge: 20 A  cell_resistance: 20 mohm  mass: 150 g }
`;

async function check(lines: string, extra = '') {
  const text = `${PARTS}${extra}\nbuild Craft { ${lines} }`;
  const { findings, builds } = (await checkedIn({ 'craft.fettle': text }))['craft.fettle'] ?? {
    findings: [],
    builds: [],
  };
  return { findings: findings.filter(({ id }) => id !== 'estimates'), assessments: builds[0]?.assessments ?? [] };
}

const value = (assessment: Assessment | undefined, name: ResultId): number =>
  assessment?.results.get(name)?.estimate.value ?? Number.NaN;

const QUAD = 'airframe: Open  motors: 4 x M with P  pack: Slim';

describe('a flight controller that drives no motor', () => {
  it('with a board with channels: no finding, its rails feed loads, its mass and draw count', async () => {
    const alone = await check(`${QUAD}  esc: Drive`);
    const both = await check(`${QUAD}  esc: Brain  esc: Drive  load: Cam from Brain.five`);
    expect(both.findings).toEqual([]);
    expect(value(both.assessments[0], 'rail.five.voltage')).toBeCloseTo(5, 6);
    const heavier = value(both.assessments[0], 'all_up_weight') - value(alone.assessments[0], 'all_up_weight');
    expect(1e3 * heavier).toBeCloseTo(1.02 * 14, 6);
    expect(value(both.assessments[0], 'hover_current')).toBeGreaterThan(value(alone.assessments[0], 'hover_current'));
  });

  it('is in no motor current, whichever line comes first', async () => {
    const [before, after] = await Promise.all([
      check(`${QUAD}  esc: Brain  esc: Drive`),
      check(`${QUAD}  esc: Drive  esc: Brain`),
    ]);
    for (const name of ['full_motor_current', 'stall_ratio', 'hover_time'] as const)
      expect(value(before.assessments[0], name)).toBeCloseTo(value(after.assessments[0], name), 12);
    expect(value(before.assessments[0], 'stall_ratio')).toBeGreaterThan(0);
  });

  it('alone leaves the motors undriven, and that is the one finding', async () => {
    const { findings, assessments } = await check(`${QUAD}  esc: Brain`);
    expect(findings.map(({ id, severity }) => `${severity} ${id}`)).toEqual(['error rotor-count']);
    expect(assessments[0]?.missing.get('hover_time')?.reason).toBe('the build has no esc with channels');
  });

  it('needs no current rating; a board with channels does', async () => {
    const { findings } = await check(`${QUAD}  esc: Unrated`, 'esc Unrated { channels: 4  mass: 6 g }');
    expect(findings.map(({ id }) => id)).toContain('missing-value');
  });
});

describe('a peak that lasts', () => {
  const peaking = (peak: string, brain = 'Brain') =>
    check(
      `${QUAD}  esc: Drive  esc: ${brain}  load: Lamp from ${brain}.five`,
      `load Lamp { draw: 1 W  peak: ${peak}  mass: 3 g }`,
    );

  it('is a clause of the peak, and printed with its seconds', async () => {
    const { findings } = await check(
      `${QUAD}  esc: Drive  load: Heater`,
      'load Heater { draw: 0.5 A  peak: 2 A for 2 s  mass: 3 g }',
    );
    expect(findings).toEqual([]);
  });

  it('is compared with the burst rating while it is as short, with the continuous one when longer', async () => {
    expect((await peaking('8 W')).findings).toEqual([]);
    expect((await peaking('8 W for 1 s')).findings).toEqual([]);
    const { findings } = await peaking('8 W for 5 s');
    expect(findings.map(({ id, severity }) => `${severity} ${id}`)).toEqual(['error rail-overcurrent']);
    expect(findings[0]?.message).toContain('in peaks longer than the 1 s of its burst rating');
  });

  it('never does less harm for being higher or longer', async () => {
    const rank = async (watts: number, seconds: number) => {
      const { findings } = await peaking(`${watts} W for ${seconds} s`);
      return findings.some(({ id }) => id === 'rail-overcurrent') ? 1 : 0;
    };
    await fc.assert(
      fc.asyncProperty(
        fc.integer({ min: 1, max: 15 }),
        fc.integer({ min: 0, max: 5 }),
        fc.integer({ min: 1, max: 20 }),
        fc.integer({ min: 0, max: 10 }),
        async (watts, more, seconds, longer) => {
          expect(await rank(watts + more, seconds + longer)).toBeGreaterThanOrEqual(await rank(watts, seconds));
        },
      ),
      { seed: 43, numRuns: cases(8, 25) },
    );
  }, 60_000);
});

describe('a reserve of one pack', () => {
  const RESERVES = 'pack Deep like Slim { reserve: 10 % }\npack Careful like Slim { reserve: 40 % of capacity }';

  it('is the charge to land with on that pack only, whatever build and rules state', async () => {
    const packs = 'pack: Deep  pack: Careful';
    const { assessments } = await check(`${QUAD}  ${packs}  esc: Drive  reserve: 25 %`, RESERVES);
    const used = assessments.map((one) => (value(one, 'charge_used') / 3600) * 1e3);
    expect(used.map((charge) => Math.round((100 * charge) / (0.95 * 650)))).toEqual([75, 90, 60]);
    const derivation = assessments[1] && derivationOf('charge_used', assessments[1]);
    expect(derivation?.terms.find(({ symbol }) => symbol === 'z_r')?.label).toBe('reserve of Deep');
  });

  it('never lengthens the flight for being larger', async () => {
    const minutes = async (reserve: number) => {
      const { assessments } = await check(
        `${QUAD}  pack: Mine  esc: Drive`,
        `pack Mine like Slim { reserve: ${reserve} % }`,
      );
      return value(assessments[1], 'hover_time');
    };
    await fc.assert(
      fc.asyncProperty(fc.integer({ min: 0, max: 50 }), fc.integer({ min: 1, max: 10 }), async (reserve, more) => {
        expect(await minutes(reserve + more)).toBeLessThan(await minutes(reserve));
      }),
      { seed: 44, numRuns: cases(5, 20) },
    );
  }, 60_000);
});

describe('coaxial pairs on a frame that states what they lose', () => {
  const coaxial = (airframe: string) =>
    check(
      `airframe: ${airframe}  upper_motors: 4 x M with P  lower_motors: 4 x M with P  esc: 2 x Drive  pack: Slim`,
      'airframe Close like Tower { coaxial: 80 % }\nairframe Usual like Tower { coaxial: 87 % }',
    );

  it('lift by that, and the explanation names the figure', async () => {
    const [close, usual, unstated] = await Promise.all(['Close', 'Usual', 'Tower'].map(coaxial));
    const thrust = (one: typeof close) => value(one?.assessments[0], 'full_thrust');
    expect(thrust(close) / thrust(usual)).toBeCloseTo(80 / 87, 6);
    expect(thrust(unstated)).toBeCloseTo(thrust(usual), 9);
    const [assessment] = close?.assessments ?? [];
    const derivation = assessment && derivationOf('full_thrust', assessment);
    expect(derivation?.terms.find(({ symbol }) => symbol.startsWith('k_s'))?.label).toBe('coaxial of Close');
  });
});

describe('discs on one frame', () => {
  const closeOn = async (wheelbase: string) => {
    const { findings } = await check(
      'airframe: Frame  motors: 4 x M with P  esc: Drive  pack: Slim',
      `airframe Frame { rotors: 4  wheelbase: ${wheelbase}  mass: 30 g }`,
    );
    return findings
      .filter(({ id }) => id === 'propeller-close')
      .map(({ severity, message }) => `${severity}: ${message}`);
  };

  // 76 mm discs touch on 107.5 mm across the middle.
  it('that overlap by declared figures are an error', async () => {
    expect(await closeOn('100 mm')).toEqual([
      expect.stringMatching(/^error: .*overlap by 5\.29 mm\. The blades hit each other\./),
    ]);
  });

  it('that overlap by less than those figures are known to, or hardly miss each other, are a warning', async () => {
    expect(await closeOn('107 mm')).toEqual([expect.stringMatching(/^warning: .*overlap/)]);
    expect(await closeOn('108 mm')).toEqual([expect.stringMatching(/^warning: .*leave/)]);
    expect(await closeOn('130 mm')).toEqual([]);
  });
});

describe('requirements behind like', () => {
  const BASE = `build Base { airframe: Open  motors: 4 x M with P  esc: Drive  pack: Slim
    require hover_time >= 400 min
    require all_up_weight <= 900 g
    require hover_time >= 500 min with Slim
  }`;
  const required = async (heir: string) => {
    const { builds } = (await checkedIn({ 'craft.fettle': `${PARTS}${BASE}\nbuild Heir like Base { ${heir} }` }))[
      'craft.fettle'
    ] ?? { builds: [] };
    const [, build] = builds;
    return build?.build.rules.requirements.map(({ text, pack, replaces }) =>
      [text, ...(pack ? [`with ${pack}`] : []), ...(replaces ? [`for ${replaces.text}`] : [])].join(' '),
    );
  };
  const ALL = ['hover_time >= 400 min', 'all_up_weight <= 900 g', 'hover_time >= 500 min with Slim'];

  it('a plain limit replaces that on the same result, from the same side, on the same packs', async () => {
    expect(await required('')).toEqual(ALL);
    expect(await required('require hover_time >= 3 min')).toEqual([
      'hover_time >= 3 min for hover_time >= 400 min',
      ...ALL.slice(1),
    ]);
    expect(await required('require 3 min <= hover_time with Slim')).toEqual([
      '3 min <= hover_time with Slim for hover_time >= 500 min',
      ...ALL.slice(0, 2),
    ]);
  });

  it('anything else adds', async () => {
    for (const line of [
      'hover_time <= 900 min',
      'hover_time / 2 >= 1 min',
      'hover_time >= 3 min or hover_duty <= 40 %',
    ])
      expect(await required(`require ${line}`)).toEqual([line, ...ALL]);
    const two = await required('require hover_time >= 3 min  require hover_time >= 4 min');
    expect(two).toEqual([
      'hover_time >= 3 min for hover_time >= 400 min',
      'hover_time >= 4 min for hover_time >= 400 min',
      ...ALL.slice(1),
    ]);
  });

  it('a base that requires too much is judged by its own lines, the heir by those that hold for it', async () => {
    const text = `${PARTS}${BASE}\nbuild Heir like Base { require hover_time >= 1 min  require hover_time >= 1 min with Slim }`;
    const { findings } = (await checkedIn({ 'craft.fettle': text }))['craft.fettle'] ?? { findings: [] };
    const short = findings.filter(({ id }) => id === 'short-flight').map(({ build }) => build);
    expect(new Set(short)).toEqual(new Set(['Base']));
  });
});
