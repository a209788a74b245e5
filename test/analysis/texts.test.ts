/** From a text to its results: what a person writes, and what the tool makes of it. */
import { describe, expect, test } from 'vitest';
import { assess } from '../../packages/language/src/analysis/assess.ts';
import type { Assessment } from '../../packages/language/src/analysis/assessment.ts';
import { expanded } from '../../packages/language/src/analysis/estimate.ts';
import { readDocument } from '../../packages/language/src/model/read.ts';
import { Workspace } from '../references/workspace.ts';

/** Every build on every pack of a text. */
async function assessed(text: string): Promise<Assessment[]> {
  const workspace = await Workspace.of({ 'craft.fettle': text });
  const { builds } = readDocument(workspace.document('craft.fettle'));
  return builds.flatMap((build) => build.packs.map((option) => assess(build, option)));
}

async function only(text: string): Promise<Assessment> {
  const [assessment] = await assessed(text);
  if (!assessment) throw new Error('no build on a pack');
  return assessment;
}

const value = (assessment: Assessment, name: string): number => {
  const result = assessment.results.get(name);
  if (!result) throw new Error(`${name}: ${assessment.missing.get(name)?.reason ?? 'unknown'}`);
  return result.estimate.value;
};

const plusMinus = (assessment: Assessment, name: string): number => {
  const result = assessment.results.get(name);
  return result ? expanded(result.estimate) / result.estimate.value : Number.NaN;
};

const NINE_NUMBERS = `
motor Mine { stator: 11 x 4 mm  kv: 8000 rpm/V }
propeller Three { diameter: 51 mm  blades: 3 }
esc Fifteen { continuous: 15 A }
load Video { draw: 4 W }
pack Blue { cells: 2S  capacity: 450 mAh }
build First {
  motors: 4 x Mine with Three
  esc: Fifteen
  load: Video
  pack: Blue
  dry_mass: 68 g
}
`;

describe('nine numbers', () => {
  test('are enough, and their ± says how much they are worth', async () => {
    const assessment = await only(NINE_NUMBERS);
    expect(value(assessment, 'all_up_weight') * 1e3).toBeGreaterThan(88);
    expect(value(assessment, 'all_up_weight') * 1e3).toBeLessThan(110);
    expect(value(assessment, 'hover_time') / 60).toBeGreaterThan(2.5);
    expect(value(assessment, 'hover_time') / 60).toBeLessThan(7);
    expect(value(assessment, 'thrust_to_weight')).toBeGreaterThan(2);
    expect(value(assessment, 'thrust_to_weight')).toBeLessThan(6.5);
    for (const name of ['hover_time', 'full_current', 'thrust_to_weight']) {
      expect(plusMinus(assessment, name), name).toBeGreaterThan(0.15);
      expect(plusMinus(assessment, name), name).toBeLessThan(0.75);
    }
  });

  test('a measured resistance and coefficients narrow it', async () => {
    const vague = await only(NINE_NUMBERS);
    const sharp = await only(
      NINE_NUMBERS.replace(
        'blades: 3 }',
        'blades: 3  thrust_coefficient: 0.18 measured  power_coefficient: 0.14 measured }',
      ).replace('rpm/V }', 'rpm/V +- 1 % measured  resistance: 150 mohm measured }'),
    );
    expect(plusMinus(sharp, 'hover_time')).toBeLessThan(0.7 * plusMinus(vague, 'hover_time'));
  });

  test('half of them, in any state of typing, never make a number that is none', async () => {
    for (let end = 0; end <= NINE_NUMBERS.length; end += 7) {
      for (const assessment of await assessed(NINE_NUMBERS.slice(0, end))) {
        for (const { name, estimate } of assessment.results.values()) {
          expect(Number.isFinite(estimate.value) && Number.isFinite(expanded(estimate)), `${name} at ${end}`).toBe(
            true,
          );
        }
        for (const { reason } of assessment.missing.values()) expect(reason).not.toMatch(/NaN|undefined/);
      }
    }
  });

  test('the order of lines and parts decides nothing', async () => {
    const blocks = NINE_NUMBERS.trim().split(/\n(?=\w)/);
    const turned = blocks
      .toReversed()
      .map((block) => {
        const lines = block.split('\n');
        return lines.length < 3 ? block : [lines[0], ...lines.slice(1, -1).toReversed(), lines.at(-1)].join('\n');
      })
      .join('\n');
    const straight = await only(NINE_NUMBERS);
    const reversed = await only(turned);
    expect([...reversed.results.keys()]).toEqual([...straight.results.keys()]);
    for (const name of straight.results.keys()) {
      expect(value(reversed, name) / value(straight, name), name).toBeCloseTo(1, 10);
      expect(plusMinus(reversed, name), name).toBeCloseTo(plusMinus(straight, name), 10);
    }
  });

  test('units decide nothing: inches, ounces and amperes of the same size', async () => {
    const metric = await only(NINE_NUMBERS.replace('51 mm', '50.8 mm').replace('450 mAh', '0.45 Ah'));
    const imperial = await only(NINE_NUMBERS.replace('51 mm', '2 in').replace('68 g', '2.398629 oz'));
    expect(value(imperial, 'full_current') / value(metric, 'full_current')).toBeCloseTo(1, 9);
    expect(value(imperial, 'all_up_weight') / value(metric, 'all_up_weight')).toBeCloseTo(1, 6);
  });
});

/** Ordinary craft from page figures, over the whole range. Invented; figures as practice knows them. */
const ORDINARY: readonly { name: string; text: string; expected: Record<string, readonly [number, number]> }[] = [
  {
    name: 'a ducted 65 mm craft on a single high-voltage cell',
    text: `
motor M0802 { stator: 8 x 2 mm  kv: 19000 rpm/V  rated: 1S  mass: 1.9 g }
propeller P31 { diameter: 31 mm  blades: 4  mass: 0.25 g }
esc Uno { channels: 4  cells: 1S  continuous: 5 A  mass: 3.6 g }
airframe Ring65 { guard: 33 mm  mass: 4.2 g }
load Cam { draw: 1.2 W  supply: 3.2 V .. 5 V  mass: 1.6 g }
pack Stick { chemistry: lihv  cells: 1S  capacity: 300 mAh  discharge: 40C  mass: 7.8 g }
build Wren {
  airframe: Ring65  motors: 4 x M0802 with P31  esc: Uno  load: Cam  pack: Stick  item: 0.8 g "antenna, tape"
}`,
    expected: {
      all_up_weight: [24e-3, 32e-3],
      hover_time: [150, 420],
      thrust_to_weight: [1.7, 4.5],
      full_motor_current: [1.8, 6],
    },
  },
  {
    name: 'a ducted 90 mm craft on 2S',
    text: `
motor M1104 { stator: 11 x 4 mm  kv: 8500 rpm/V  rated: 2S  mass: 5.6 g }
propeller P51 { diameter: 51 mm  pitch: 2 in  blades: 4  mass: 0.8 g }
esc Board { channels: 4  cells: 2S .. 4S  continuous: 20 A  mass: 7 g }
airframe Duct90 { guard: 53 mm  mass: 27 g }
load Cam { draw: 4.5 W  supply: 4.5 V .. 26 V  mass: 9 g }
pack P550 { cells: 2S  capacity: 550 mAh  discharge: 75C  mass: 31 g }
build Rafter { airframe: Duct90  motors: 4 x M1104 with P51  esc: Board  load: Cam  pack: P550  item: 3 g "strap, tape" }`,
    expected: {
      all_up_weight: [98e-3, 108e-3],
      hover_time: [150, 420],
      thrust_to_weight: [2.5, 6.5],
      full_motor_current: [5, 14],
    },
  },
  {
    name: 'an open 3-inch craft on 4S',
    text: `
motor M1507 { stator: 15 x 7 mm  kv: 3800 rpm/V  rated: 4S  mass: 13.2 g }
propeller P76 { diameter: 3 in  pitch: 2.5 in  blades: 3  mass: 1.5 g }
esc Board { channels: 4  cells: 3S .. 6S  continuous: 35 A  mass: 10 g }
airframe Three { mass: 42 g }
load Cam { draw: 7 W  supply: 7 V .. 26 V  mass: 20 g }
pack P850 { cells: 4S  capacity: 850 mAh  discharge: 95C  mass: 98 g }
build Spire { airframe: Three  motors: 4 x M1507 with P76  esc: Board  load: Cam  pack: P850  item: 5 g "strap" }`,
    expected: {
      all_up_weight: [230e-3, 250e-3],
      hover_time: [360, 840],
      thrust_to_weight: [3.5, 9],
      full_motor_current: [8, 22],
    },
  },
  {
    name: 'an open 5-inch craft on 6S',
    text: `
motor M2207 { stator: 22 x 7 mm  kv: 1850 rpm/V  rated: 6S  mass: 33 g }
propeller P129 { diameter: 5.1 in  pitch: 4 in  blades: 3  mass: 4.2 g }
esc Board { channels: 4  cells: 4S .. 6S  continuous: 50 A  mass: 15 g }
airframe Five { mass: 110 g }
load Cam { draw: 8 W  supply: 7 V .. 28 V  mass: 40 g }
pack P1300 { cells: 6S  capacity: 1300 mAh  discharge: 100C  mass: 210 g }
build Kestrel { airframe: Five  motors: 4 x M2207 with P129  esc: Board  load: Cam  pack: P1300  item: 20 g "antennas, screws" }`,
    expected: {
      all_up_weight: [530e-3, 570e-3],
      hover_time: [330, 840],
      thrust_to_weight: [5, 14],
      full_motor_current: [22, 48],
    },
  },
  {
    name: 'a 7-inch craft for long flights on round cells',
    text: `
motor M2806 { stator: 28 x 6.5 mm  kv: 1300 rpm/V  rated: 6S  mass: 47 g }
propeller P178 { diameter: 7 in  pitch: 3.5 in  blades: 3  mass: 8 g }
esc Board { channels: 4  cells: 4S .. 6S  continuous: 50 A  mass: 15 g }
airframe Seven { mass: 150 g }
load Cam { draw: 8 W  supply: 7 V .. 28 V  mass: 60 g }
pack Round { chemistry: liion  cells: 6S1P  capacity: 4000 mAh  discharge: 35 A  mass: 440 g }
build Rook { airframe: Seven  motors: 4 x M2806 with P178  esc: Board  load: Cam  pack: Round  item: 25 g "antennas, screws" }`,
    expected: {
      all_up_weight: [880e-3, 930e-3],
      hover_time: [1080, 2400],
      thrust_to_weight: [2, 7],
      full_motor_current: [10, 45],
    },
  },
  {
    name: 'eight rotors in stacked pairs, 2.5 kg',
    text: `
motor M2812 { stator: 28 x 12 mm  kv: 900 rpm/V  rated: 6S  mass: 72 g }
propeller P203 { diameter: 8 in  pitch: 4.5 in  blades: 3  mass: 12 g }
esc Board { channels: 4  cells: 4S .. 6S  continuous: 50 A  mass: 16 g }
airframe Tower { mass: 480 g }
load Cam { draw: 20 W  supply: 9 V .. 28 V  mass: 400 g }
pack Big { cells: 6S  capacity: 5200 mAh  discharge: 60C  mass: 720 g }
build Belfry {
  airframe: Tower  upper_motors: 4 x M2812 with P203  lower_motors: 4 x M2812 with P203
  esc: Board as Top  esc: Board as Bottom  load: Cam  pack: Big  item: 60 g "wires, screws"
}`,
    expected: {
      all_up_weight: [2.3, 2.5],
      hover_time: [480, 1200],
      thrust_to_weight: [2.5, 8],
      full_motor_current: [15, 45],
    },
  },
];

describe('ordinary craft come out as practice knows them (common practice)', () => {
  test.each(ORDINARY)('$name', async ({ text, expected }) => {
    const assessment = await only(text);
    const found = Object.fromEntries(Object.keys(expected).map((name) => [name, value(assessment, name)]));
    for (const [name, [low, high]] of Object.entries(expected)) {
      expect(found[name], `${name} of ${JSON.stringify(found)}`).toBeGreaterThan(low);
      expect(found[name], `${name} of ${JSON.stringify(found)}`).toBeLessThan(high);
    }
  });
});

describe('what stays silent until it is declared', () => {
  const SPIRE = ORDINARY[2]?.text ?? '';

  test('wind, heat, mounts and balance have no number, and say what would give them one', async () => {
    const assessment = await only(SPIRE);
    for (const name of [
      'wind_held',
      'motor_temperature',
      'mount_frequency',
      'mount_transmissibility',
      'balance_offset',
    ]) {
      expect(assessment.missing.get(name)?.reason, name).toBeTruthy();
    }
  });

  test('wind from the drag area; more tilt holds more', async () => {
    const windy = SPIRE.replace('{ mass: 42 g }', '{ drag_area: 70 cm^2  mass: 42 g }');
    const usual = value(await only(windy), 'wind_held');
    expect(usual).toBeGreaterThan(10);
    expect(usual).toBeLessThan(30);
    const filming = value(await only(windy.replace('pack: P850', 'pack: P850  tilt: 25 deg')), 'wind_held');
    expect(filming).toBeLessThan(usual);
  });

  test('winding temperature from the heat path; a poor one runs away, in words', async () => {
    const warm = SPIRE.replace('mass: 13.2 g', 'mass: 13.2 g  heat_path: 6 K/W');
    const celsius = value(await only(warm), 'motor_temperature') - 273.15;
    expect(celsius).toBeGreaterThan(20);
    expect(celsius).toBeLessThan(90);
    const flatOut = `${warm.replace('pack: P850', 'pack: P850  flown: 100 % at 12 x hover')}`;
    const burnt = await only(flatOut.replace('6 K/W', '200 K/W'));
    expect(burnt.missing.get('motor_temperature')?.reason).toBe('a winding would get hotter without end as flown');
  });

  test('a mount from how far it gives: 0.4 mm of sag ring at 25 Hz', async () => {
    const shaken =
      `mount Foam { sag: 0.4 mm  damping: 20 % }${SPIRE.replace('load: Cam', 'load: Cam on Foam')}`.replace(
        'sag: 0.4 mm',
        'sag: 0.4 mm  mass: 0.3 g',
      );
    const assessment = await only(shaken);
    expect(value(assessment, 'mount_frequency')).toBeCloseTo(Math.sqrt(9.80665 / 0.4e-3) / (2 * Math.PI), 6);
    expect(value(assessment, 'mount_transmissibility')).toBeLessThan(0.1);
  });

  test('balance from positions: a pack of 98 g 10 mm ahead', async () => {
    const assessment = await only(SPIRE.replace('pack: P850', 'pack: P850 at 10 mm'));
    expect(value(assessment, 'balance_offset')).toBeCloseTo((98e-3 * 10e-3) / value(assessment, 'all_up_weight'), 9);
  });
});
