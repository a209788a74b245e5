/** Facts of the trade (common practice, without a source), with invented parts around them. */
import { describe, expect, it } from 'vitest';
import type { Assessment } from '../../packages/language/src/analysis/assessment.ts';
import { derivationOf } from '../../packages/language/src/analysis/explain/derivation.ts';
import { expanded } from '../../packages/language/src/analysis/uncertainty/estimate.ts';
import type { ResultId } from '../../packages/language/src/vocabulary/results.ts';
import { checkedIn } from './findings-in.ts';

/** An open three-inch craft with guards, on four cells, by data-sheet figures. */
const CRAFT = `
motor M1606 { stator: 16 x 6 mm  kv: 3150 rpm/V  resistance: 82 mohm  rated: 4S  mass: 14.7 g }
propeller P76 { diameter: 76 mm  pitch: 2.4 in  blades: 3  mass: 1.6 g }
esc Board { channels: 4  cells: 3S .. 6S  continuous: 35 A  mass: 11.8 g
  rail camera { type: buck_boost  output: 15 V  continuous: 1.7 A } }
airframe Guard150 { guard_diameter: 81 mm  mass: 61 g }
load Heavy { draw: 9 W  peak: 12 W  supply: 14 V .. 26 V  mass: 34 g }
load Small { draw: 5.8 W  supply: 5.5 V .. 30 V  mass: 26 g }
pack Four { chemistry: lipo  cells: 4S  capacity: 1050 mAh  discharge: 80C  cell_resistance: 8.8 mohm measured  mass: 121 g }
pack Five { chemistry: lipo  cells: 5S  capacity: 850 mAh  discharge: 80C  cell_resistance: 9.8 mohm measured  mass: 126 g }
`;

async function check(lines: string, parts = CRAFT) {
  const text = `${parts}\nbuild Craft { airframe: Guard150  motors: 4 x M1606 with P76  esc: Board\n${lines}\n}`;
  const { findings, builds } = (await checkedIn({ 'craft.fettle': text }))['craft.fettle'] ?? {
    findings: [],
    builds: [],
  };
  const assessments = builds[0]?.assessments ?? [];
  return { findings: findings.filter(({ id }) => id !== 'estimates'), assessments };
}

const value = (assessment: Assessment | undefined, name: ResultId): number =>
  assessment?.results.get(name)?.estimate.value ?? Number.NaN;

describe('more cells than a motor is wound for', () => {
  const wound = CRAFT.replace('rated: 4S', 'rated: 3S');
  const severityAt = async (duty: string) => {
    const { findings } = await check(`load: Small  pack: Five ${duty}`, wound);
    return findings.find(({ id }) => id === 'motor-overvoltage')?.severity;
  };

  it('are an error without a limit and quiet at the ratio of the cells', async () => {
    expect(await severityAt('')).toBe('error');
    expect(await severityAt('duty 70 %')).toBe('information');
    expect(await severityAt('duty 60 %')).toBeUndefined();
  });

  // Derived: volts at the motor are duty times cells.
  it.each([
    [3, 4],
    [3, 5],
    [4, 5],
    [4, 7],
  ])('wound for %iS, on %iS: at that ratio of duty the motor sees what it was made for', async (rated, cells) => {
    const pack = (name: string, count: number) =>
      `pack ${name} { chemistry: lipo  cells: ${count}S  capacity: 900 mAh  cell_resistance: 9 mohm measured  mass: 120 g }`;
    const parts = `${CRAFT.replace('rated: 4S', `rated: ${rated}S`).replace('3S .. 6S', '2S .. 8S')}
${pack('Rated', rated)}\n${pack('More', cells)}`;
    const duty = (100 * rated) / cells;
    const { assessments } = await check(`load: Small  pack: Rated  pack: More duty ${duty} %`, parts);
    const [asRated, limited] = assessments;
    expect(value(limited, 'no_load_speed') / value(asRated, 'no_load_speed')).toBeCloseTo(1, 6);
    expect(value(limited, 'effective_kv') / value(asRated, 'effective_kv')).toBeCloseTo(rated / cells, 6);
    const { findings } = await check('load: Small  pack: More', parts);
    const fix = findings.find(({ id }) => id === 'motor-overvoltage')?.fixes[0]?.edits[0]?.newText;
    expect(fix).toBe(` duty ${Math.floor(duty)} %`);
  });
});

it.each([
  ['lipo', 4.2],
  ['lihv', 4.35],
])('a full %s cell is %d V, and cells in series add up', async (chemistry, volts) => {
  for (const cells of [4, 6]) {
    const pack = `pack Full { chemistry: ${chemistry}  cells: ${cells}S  capacity: 900 mAh  mass: 120 g }`;
    const { assessments } = await check('load: Small from pack  pack: Full', `${CRAFT}\n${pack}`);
    const rest = assessments[0]?.loads[0]?.restVoltage?.value ?? 0;
    // The camera's own draw pulls a few hundredths.
    expect(Math.abs(rest - cells * volts)).toBeLessThan(0.1);
  }
});

describe('where a charger stops', () => {
  const offPack = async (supply: string) =>
    check('load: Tiny from pack  pack: Four', `${CRAFT}\nload Tiny { draw: 0.2 W  supply: ${supply}  mass: 3 g }`);

  // Chargers of the trade stop 10 to 20 mV off the nominal voltage of a cell.
  it('is known to 10 to 20 mV a cell, no better', async () => {
    const { assessments } = await offPack('5 V .. 26 V');
    const rest = assessments[0]?.loads[0]?.restVoltage;
    const perCell = rest ? expanded(rest) / 4 : Number.NaN;
    expect(perCell).toBeGreaterThan(0.01);
    expect(perCell).toBeLessThan(0.025);
  });

  it.each([
    ['5 V .. 16.8 V', []],
    ['5 V .. 16.75 V', ['warning rail-overvoltage']],
    ['5 V .. 16 V', ['error rail-overvoltage']],
  ])('%s on four cells', async (supply, expected) => {
    const { findings } = await offPack(supply);
    expect(findings.map(({ id, severity }) => `${severity} ${id}`)).toEqual(expected);
    if (expected.length > 0) expect(findings[0]?.message).toContain(`takes ${supply.slice('5 V .. '.length)} at most`);
  });
});

describe('a heavy camera that needs 14 V, straight off four cells', () => {
  it('browns out in bursts towards the end of the pack, and the message states when to land', async () => {
    const { findings, assessments } = await check('load: Heavy from pack  pack: Four');
    expect(findings.map(({ id, severity }) => `${severity} ${id}`)).toEqual(['warning rail-undervoltage']);
    expect(findings[0]?.message).toMatch(/in a burst.*Land when a cell reads 3\.\d+/s);
    const [load] = assessments[0]?.loads ?? [];
    // 14 V are 3.5 V per cell under load; it happens in the flight, not on a fresh pack.
    expect(load?.burstBrownOut?.value).toBeGreaterThan(0.2);
    expect(load?.burstBrownOut?.value).toBeLessThan(0.8);
  });

  it('is cured by a regulated rail, and by a cell more', async () => {
    expect((await check('load: Heavy from Board.camera  pack: Four')).findings).toEqual([]);
    expect((await check('load: Heavy from pack  pack: Five duty 80 %')).findings).toEqual([]);
  });

  it('has the fix that moves it to a rail that serves', async () => {
    const { findings } = await check('load: Heavy from pack  pack: Four');
    expect(findings[0]?.fixes.map(({ edits }) => edits[0]?.newText)).toEqual(['from Board.camera']);
  });
});

it('a jammed propeller loads a channel by its burst rating: half the rating, twice the ratio', async () => {
  const stalled = async (amps: number) => {
    const rating = `continuous: ${amps} A  burst: ${amps} A for 5 s`;
    const { assessments } = await check('load: Small  pack: Four', CRAFT.replace('continuous: 35 A', rating));
    return value(assessments[0], 'stall_ratio') * amps;
  };
  // A board's resistance follows its rating when it is not stated, and has a small share in the current.
  expect((await stalled(18)) / (await stalled(36))).toBeCloseTo(1, 1);
});

it('a craft weighs more ready to fly than its listed parts: small things count 2 ± 2 % of the dry mass', async () => {
  const { assessments } = await check('load: Small  pack: Four');
  const [assessment] = assessments;
  const listed = 61 + 4 * (14.7 + 1.6) + 11.8 + 26;
  expect(value(assessment, 'dry_mass') * 1e3).toBeCloseTo(1.02 * listed, 1);
  const ledger = assessment?.masses.reduce((sum, { mass }) => sum + mass.value, 0) ?? 0;
  expect(ledger * 1e3).toBeCloseTo(value(assessment, 'all_up_weight') * 1e3, 6);
});

it('a dry mass that is claimed is known to 5 %, one on the scale to half a per cent', async () => {
  const plusMinus = async (origin: string) => {
    const { assessments } = await check(`load: Small  pack: Four  dry_mass: 170 g ${origin}`);
    const dryMass = assessments[0]?.results.get('dry_mass')?.estimate;
    return dryMass ? expanded(dryMass) / dryMass.value : Number.NaN;
  };
  expect(await plusMinus('claimed')).toBeCloseTo(0.05, 6);
  expect(await plusMinus('measured')).toBeCloseTo(0.005, 6);
  const { findings } = await check('load: Small  pack: Four  dry_mass: 170 g claimed  require all_up_weight <= 294 g');
  expect(findings.map(({ id }) => id)).toEqual(['requirement-unsure']);
});

it('a light strap is under half a gram', async () => {
  const without = await check('load: Small  pack: Four');
  const strapped = await check('load: Small  item: LightStrap  pack: Four');
  const [before, after] = [without, strapped].map(({ assessments }) => value(assessments[0], 'all_up_weight') * 1e3);
  expect((after ?? 0) - (before ?? 0)).toBeGreaterThan(0.1);
  expect((after ?? 0) - (before ?? 0)).toBeLessThan(0.5);
});

it('packs of equal capacity differ by grams between makes: one without a mass weighs its class, give or take grams', async () => {
  const { assessments } = await check(
    'load: Small  pack: Unweighed',
    `${CRAFT}\npack Unweighed { cells: 4S  capacity: 1050 mAh }`,
  );
  const pack = assessments[0]?.masses.find(({ label }) => label === 'Unweighed')?.mass;
  expect(Math.abs((pack?.value ?? 0) * 1e3 - 121)).toBeLessThan(12);
  expect(2e3 * (pack?.standardUncertainty ?? 0)).toBeGreaterThan(8);
});

it('weight decides, not capacity: of two packs of one label the lighter one flies longer', async () => {
  const heavier = `${CRAFT}\npack Lead like Four { mass: 142 g }`;
  const { assessments } = await check('load: Small  pack: Four  pack: Lead', heavier);
  expect(value(assessments[0], 'hover_time')).toBeGreaterThan(value(assessments[1], 'hover_time'));
});

describe('for an open three-inch craft of 175 g without its pack', () => {
  /** Packs as they are sold: mass by the watt-hour. */
  const flown = async (capacities: readonly number[]) => {
    const packs = capacities.map(
      (capacity) => `pack P${capacity} { chemistry: lipo  cells: 4S  capacity: ${capacity} mAh  discharge: 80C }`,
    );
    const lines = capacities.map((capacity) => `pack: P${capacity}`).join('  ');
    const { assessments } = await check(`load: Small  dry_mass: 175 g  ${lines}`, `${CRAFT}\n${packs.join('\n')}`);
    return assessments.map((assessment) => ({
      minutes: value(assessment, 'hover_time') / 60,
      thrust: value(assessment, 'reserve_thrust_to_weight'),
      weight: value(assessment, 'all_up_weight') * 1e3,
    }));
  };

  it('700 to 1300 mAh on 4S fly well', async () => {
    for (const craft of await flown([700, 1000, 1300])) {
      expect(craft.minutes).toBeGreaterThan(5);
      expect(craft.thrust).toBeGreaterThan(2);
      expect(craft.weight).toBeLessThan(350);
    }
  });

  it('beyond that each further milliampere-hour buys less time and costs thrust', async () => {
    const [sensible, heavy, heavier] = await flown([1000, 2000, 3000]);
    if (!sensible || !heavy || !heavier) throw new Error('no result');
    expect(heavier.minutes - heavy.minutes).toBeLessThan(0.75 * (heavy.minutes - sensible.minutes));
    expect(heavy.thrust).toBeLessThan(sensible.thrust);
  });
});

describe('discs of two sizes on one frame', () => {
  const closeOn = async (wheelbase: string, motors: string) => {
    const parts = `${CRAFT.replace('guard_diameter: 81 mm', `rotors: 4  wheelbase: ${wheelbase}`)}
propeller Wide like P76 { diameter: 92 mm }`;
    const text = `${parts}\nbuild Craft { airframe: Guard150  ${motors}  esc: Board  load: Small  pack: Four }`;
    const { findings } = (await checkedIn({ 'craft.fettle': text }))['craft.fettle'] ?? { findings: [] };
    return findings.find(({ id }) => id === 'propeller-close')?.message;
  };

  // 124 mm across the middle put neighbours 87.7 mm apart.
  it('take turns: a wide one next to a narrow one', async () => {
    const mixed = 'motors: 2 x M1606 with P76  motors: 2 x M1606 with Wide';
    expect(await closeOn('124 mm', mixed)).toBeUndefined();
    expect(await closeOn('116 mm', mixed)).toContain('discs of 92 mm and 76 mm overlap by 1.98');
  });

  it('cannot where the wide ones are more than half', async () => {
    const mostlyWide = 'motors: 1 x M1606 with P76  motors: 3 x M1606 with Wide';
    expect(await closeOn('124 mm', mostlyWide)).toContain('discs of 92 mm overlap by 4.3');
  });
});

describe('a worn pack in the cold', () => {
  const WINTER = `${CRAFT}\npack Cold like Four { temperature: 2 degC  cycles: 300 }`;

  it('ends the flight where the camera browns out, and the minutes state it', async () => {
    const { assessments } = await check('load: Heavy from pack  pack: Four  pack: Cold', WINTER);
    const [warm, cold] = assessments.map((assessment) => derivationOf('hover_time', assessment));
    expect(warm?.description).not.toContain('browns out');
    expect(cold?.description).toContain('Here it ends before the reserve: Heavy browns out in hover.');
    expect(cold?.terms.find(({ symbol }) => symbol === 'z_b')?.value).toBeGreaterThan(0.2);
  });

  it('is not called fresh and warm', async () => {
    const { findings } = await check('load: Small  pack: Cold', WINTER);
    const messages = findings.filter(({ id }) => id.startsWith('pack-')).map(({ message }) => message);
    expect(messages.join()).toContain('charged full, at 2 degC, after 300 cycles');
    expect(messages.join()).not.toContain('warm');
  });
});

it('a motor whose resistance has a digit too many is doubted with its kv and its size in sight', async () => {
  const { findings } = await check('load: Small  pack: Four', CRAFT.replace('resistance: 82', 'resistance: 820'));
  const doubt = findings.find(({ id }) => id === 'claims-disagree');
  expect(doubt?.related.map(({ message }) => message).slice(0, 3)).toEqual([
    'resistance of M1606: 820 mohm',
    'kv of M1606: 3150 rpm/V',
    'stator of M1606',
  ]);
});
