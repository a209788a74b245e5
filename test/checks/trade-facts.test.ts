/** Facts of the trade (common practice, without a source), with invented parts around them. */
import { describe, expect, it } from 'vitest';
import type { Assessment } from '../../packages/language/src/analysis/assessment.ts';
import { derivationOf } from '../../packages/language/src/analysis/derivation.ts';
import { expanded } from '../../packages/language/src/analysis/estimate.ts';
import { checkedIn } from './findings-in.ts';

/** A small ducted craft of this class on 2S, by page figures. */
const CRAFT = `
motor M1104 { stator: 11 x 4 mm  kv: 10500 rpm/V  resistance: 98 mohm  rated: 2S  mass: 3.4 g }
propeller P51 { diameter: 51 mm  pitch: 2 in  blades: 3  mass: 0.5 g }
esc Board { channels: 4  cells: 2S .. 4S  continuous: 20 A  mass: 6.1 g
  rail video { type: both  output: 9 V  continuous: 2 A } }
airframe Duct90 { guard: 54 mm  mass: 31 g }
load Digital { draw: 7 W  peak: 8 W  supply: 7 V .. 26 V  mass: 12 g }
load Small { draw: 2.5 W  supply: 4.5 V .. 26 V  mass: 6 g }
pack Two { chemistry: lipo  cells: 2S  capacity: 480 mAh  discharge: 75C  cell_resistance: 14 mohm measured  mass: 28 g }
pack Three { chemistry: lipo  cells: 3S  capacity: 450 mAh  discharge: 75C  cell_resistance: 15 mohm measured  mass: 38 g }
`;

async function check(lines: string, parts = CRAFT) {
  const text = `${parts}\nbuild Craft { airframe: Duct90  motors: 4 x M1104 with P51  esc: Board\n${lines}\n}`;
  const { findings, builds } = (await checkedIn({ 'craft.fettle': text }))['craft.fettle'] ?? {
    findings: [],
    builds: [],
  };
  const assessments = builds[0]?.assessments ?? [];
  return { findings: findings.filter(({ id }) => id !== 'estimates'), assessments };
}

const value = (assessment: Assessment | undefined, name: string): number =>
  assessment?.results.get(name)?.estimate.value ?? Number.NaN;

describe('a motor wound for 2S on 3S', () => {
  const severityAt = async (duty: string) => {
    const { findings } = await check(`load: Small  pack: Three ${duty}`);
    return findings.find(({ id }) => id === 'motor-overvoltage')?.severity;
  };

  it('is an error without a limit, flown somewhat above two thirds, quiet at two thirds', async () => {
    expect(await severityAt('')).toBe('error');
    expect(await severityAt('duty 80 %')).toBe('information');
    expect(await severityAt('duty 67 %')).toBeUndefined();
  });

  it('sees at 2/3 duty what it saw on 2S: the same effective kV times volts, and the fix says 66 %', async () => {
    const { assessments } = await check('load: Small  pack: Two  pack: Three duty 66.6667 %');
    const [onTwo, onThree] = assessments;
    expect(value(onThree, 'no_load_speed') / value(onTwo, 'no_load_speed')).toBeCloseTo(1, 4);
    expect(value(onThree, 'effective_kv') / value(onTwo, 'effective_kv')).toBeCloseTo(2 / 3, 4);
    const { findings } = await check('load: Small  pack: Three');
    expect(findings.find(({ id }) => id === 'motor-overvoltage')?.fixes[0]?.edits[0]?.newText).toBe(' duty 66 %');
  });
});

it('a full 2S pack is 8.4 V, a full 3S pack 12.6 V', async () => {
  const { assessments } = await check('load: Small from pack  pack: Two  pack: Three duty 66 %');
  const rest = assessments.map(({ loads }) => loads[0]?.restVoltage?.value ?? 0);
  // The camera's own draw pulls a few hundredths.
  expect(Math.abs((rest[0] ?? 0) - 8.4)).toBeLessThan(0.1);
  expect(Math.abs((rest[1] ?? 0) - 12.6)).toBeLessThan(0.1);
});

describe('a digital video unit that needs 7 V, straight off a 2S pack', () => {
  it('browns out in bursts towards the end of the pack, and the message says when to land', async () => {
    const { findings, assessments } = await check('load: Digital from pack  pack: Two');
    expect(findings.map(({ id, severity }) => `${severity} ${id}`)).toEqual(['warning rail-undervoltage']);
    expect(findings[0]?.message).toMatch(/in a burst.*Land when a cell reads 3\.\d+/s);
    const [load] = assessments[0]?.loads ?? [];
    // 7 V on 2S is 3.5 V a cell under load; it happens below half charge, not on a fresh pack.
    expect(load?.burstBrownOut?.value).toBeGreaterThan(0.2);
    expect(load?.burstBrownOut?.value).toBeLessThan(0.8);
  });

  it('is cured by a regulated rail, and by a 3S pack', async () => {
    expect((await check('load: Digital from Board.video  pack: Two')).findings).toEqual([]);
    expect((await check('load: Digital from pack  pack: Three duty 66 %')).findings).toEqual([]);
  });

  it('has the fix that moves it to a rail that serves', async () => {
    const { findings } = await check('load: Digital from pack  pack: Two');
    expect(findings[0]?.fixes.map(({ edits }) => edits[0]?.newText)).toEqual(['from Board.video']);
  });
});

it('a board of 12 A a channel is close to its limit at full duty on 2S; 20 A leave headroom', async () => {
  const { assessments } = await check('load: Small  pack: Two');
  const current = value(assessments[0], 'full_motor_current');
  expect(current / 12).toBeGreaterThan(0.6);
  expect(current / 12).toBeLessThan(1.1);
  expect(current / 20).toBeLessThan(0.65);
});

it('20 A leave headroom for a jammed propeller that 12 A do not have', async () => {
  const blocked = async (amps: number) => {
    const { assessments } = await check('load: Small  pack: Two', CRAFT.replace('20 A', `${amps} A`));
    return value(assessments[0], 'blocked_ratio');
  };
  // At hover duty, over the short rating; V / R is past it on any healthy craft, so the ratio only chooses boards.
  expect(await blocked(20)).toBeLessThan(1.5);
  expect(await blocked(12)).toBeGreaterThan(1.3 * (await blocked(20)));
});

it('a craft weighs more ready to fly than its listed parts: small things count 2 ± 2 % of the dry mass', async () => {
  const { assessments } = await check('load: Small  pack: Two');
  const [assessment] = assessments;
  const listed = 31 + 4 * (3.4 + 0.5) + 6.1 + 6;
  expect(value(assessment, 'dry_mass') * 1e3).toBeCloseTo(1.02 * listed, 1);
  const ledger = assessment?.masses.reduce((sum, { mass }) => sum + mass.value, 0) ?? 0;
  expect(ledger * 1e3).toBeCloseTo(value(assessment, 'all_up_weight') * 1e3, 6);
});

it('a craft claimed at a round figure may weigh 4 to 6 % more ready to fly: its ± reaches that far, a measured one’s does not', async () => {
  const plusMinus = async (origin: string) => {
    const { assessments } = await check(`load: Small  pack: Two  dry_mass: 70 g ${origin}`);
    const dryMass = assessments[0]?.results.get('dry_mass')?.estimate;
    return dryMass ? expanded(dryMass) / dryMass.value : Number.NaN;
  };
  expect(await plusMinus('claimed')).toBeGreaterThan(0.04);
  expect(await plusMinus('measured')).toBeLessThan(0.01);
  const { findings } = await check('load: Small  pack: Two  dry_mass: 70 g claimed  require all_up_weight <= 100 g');
  expect(findings.map(({ id }) => id)).toEqual(['requirement-unsure']);
});

it('a light strap is under half a gram', async () => {
  const without = await check('load: Small  pack: Two');
  const strapped = await check('load: Small  item: LightStrap  pack: Two');
  const [before, after] = [without, strapped].map(({ assessments }) => value(assessments[0], 'all_up_weight') * 1e3);
  expect((after ?? 0) - (before ?? 0)).toBeGreaterThan(0.1);
  expect((after ?? 0) - (before ?? 0)).toBeLessThan(0.5);
});

it('packs of equal capacity differ by grams between makes: one without a mass weighs its class, give or take grams', async () => {
  const { assessments } = await check(
    'load: Small  pack: Unweighed',
    `${CRAFT}\npack Unweighed { cells: 2S  capacity: 480 mAh }`,
  );
  const pack = assessments[0]?.masses.find(({ label }) => label === 'Unweighed')?.mass;
  expect(Math.abs((pack?.value ?? 0) * 1e3 - 28)).toBeLessThan(3);
  expect(2e3 * (pack?.standardUncertainty ?? 0)).toBeGreaterThan(3);
});

it('weight decides, not capacity: of two packs of one label the lighter one flies longer', async () => {
  const heavier = `${CRAFT}\npack Heavy like Two { mass: 33 g }`;
  const { assessments } = await check('load: Small  pack: Two  pack: Heavy', heavier);
  expect(value(assessments[0], 'hover_time')).toBeGreaterThan(value(assessments[1], 'hover_time'));
});

describe('for a craft of about 100 g, 70 g without its pack', () => {
  /** Packs as they are sold: mass by the watt-hour. */
  const packs = (cells: number, capacities: readonly number[]) =>
    capacities
      .map(
        (capacity) =>
          `pack P${capacity} { chemistry: lipo  cells: ${cells}S  capacity: ${capacity} mAh  discharge: 75C }`,
      )
      .join('\n');
  const flown = async (cells: number, capacities: readonly number[], duty: string) => {
    const lines = capacities.map((capacity) => `pack: P${capacity} ${duty}`).join('  ');
    const { assessments } = await check(
      `load: Small  dry_mass: 72 g  ${lines}`,
      `${CRAFT}\n${packs(cells, capacities)}`,
    );
    return assessments.map((assessment) => ({
      minutes: value(assessment, 'hover_time') / 60,
      thrust: value(assessment, 'reserve_thrust_to_weight'),
      weight: value(assessment, 'all_up_weight') * 1e3,
    }));
  };

  it('450 to 650 mAh on 2S and 300 to 550 mAh on 3S fly well', async () => {
    for (const craft of [...(await flown(2, [450, 550, 650], '')), ...(await flown(3, [300, 450, 550], 'duty 66 %'))]) {
      expect(craft.minutes).toBeGreaterThan(3);
      expect(craft.thrust).toBeGreaterThan(2);
      expect(craft.weight).toBeLessThan(125);
    }
  });

  it('beyond that each further milliampere-hour buys less time and costs thrust', async () => {
    const [sensible, heavy, heavier] = await flown(2, [500, 1000, 1500], '');
    if (!sensible || !heavy || !heavier) throw new Error('no result');
    expect(heavier.minutes - heavy.minutes).toBeLessThan(0.75 * (heavy.minutes - sensible.minutes));
    expect(heavy.thrust).toBeLessThan(sensible.thrust);
  });
});

describe('discs of two sizes on one frame', () => {
  const closeOn = async (wheelbase: string, motors: string) => {
    const parts = `${CRAFT.replace('guard: 54 mm', `rotors: 4  wheelbase: ${wheelbase}`)}
propeller Wide like P51 { diameter: 64 mm }`;
    const text = `${parts}\nbuild Craft { airframe: Duct90  ${motors}  esc: Board  load: Small  pack: Two }`;
    const { findings } = (await checkedIn({ 'craft.fettle': text }))['craft.fettle'] ?? { findings: [] };
    return findings.find(({ id }) => id === 'propeller-close')?.message;
  };

  // 86 mm across the middle put neighbours 60.8 mm apart.
  it('take turns: a wide one beside a narrow one', async () => {
    const mixed = 'motors: 2 x M1104 with P51  motors: 2 x M1104 with Wide';
    expect(await closeOn('86 mm', mixed)).toBeUndefined();
    expect(await closeOn('80 mm', mixed)).toContain('discs of 64 mm and 51 mm overlap by 0.93');
  });

  it('cannot where the wide ones are more than half', async () => {
    const mostlyWide = 'motors: 1 x M1104 with P51  motors: 3 x M1104 with Wide';
    expect(await closeOn('86 mm', mostlyWide)).toContain('discs of 64 mm overlap by 3.1');
  });
});

describe('a worn pack in the cold', () => {
  const WINTER = `${CRAFT}\npack Cold like Two { temperature: 2 degC  seasons: 3 }`;

  it('ends the flight where the camera browns out, and the minutes say so', async () => {
    const { assessments } = await check('load: Digital from pack  pack: Two  pack: Cold', WINTER);
    const [warm, cold] = assessments.map((assessment) => derivationOf('hover_time', assessment));
    expect(warm?.says).not.toContain('browns out');
    expect(cold?.says).toContain('Here it ends before the reserve: Digital browns out in hover.');
    expect(cold?.terms.find(({ symbol }) => symbol === 'z_b')?.value).toBeGreaterThan(0.2);
  });

  it('is not called fresh and warm', async () => {
    const { findings } = await check('load: Small  pack: Cold', WINTER);
    const messages = findings.filter(({ id }) => id.startsWith('pack-')).map(({ message }) => message);
    expect(messages.join()).toContain('charged full, at 2 degC, after 3 seasons');
    expect(messages.join()).not.toContain('warm');
  });
});
