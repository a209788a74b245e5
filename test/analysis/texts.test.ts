/** From a text to its results: what a person writes, and what the tool makes of it. */
import { describe, expect, test } from 'vitest';
import type { Assessment } from '../../packages/language/src/analysis/assessment.ts';
import { expanded } from '../../packages/language/src/analysis/uncertainty/estimate.ts';
import { isResultName, type ResultId } from '../../packages/language/src/vocabulary/results.ts';
import { assessedAlone } from '../checks/findings-in.ts';
import { ORDINARY, textOf } from '../ordinary-craft.ts';

async function only(text: string): Promise<Assessment> {
  const [assessment] = await assessedAlone(text);
  if (!assessment) throw new Error('no build on a pack');
  return assessment;
}

const value = (assessment: Assessment, name: ResultId): number => {
  const result = assessment.results.get(name);
  if (!result) throw new Error(`${name}: ${assessment.missing.get(name)?.reason ?? 'unknown'}`);
  return result.estimate.value;
};

const plusMinus = (assessment: Assessment, name: ResultId): number => {
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
  test('are enough, and their ± shows how much they are worth', async () => {
    const assessment = await only(NINE_NUMBERS);
    expect(value(assessment, 'all_up_weight') * 1e3).toBeGreaterThan(88);
    expect(value(assessment, 'all_up_weight') * 1e3).toBeLessThan(110);
    expect(value(assessment, 'hover_time') / 60).toBeGreaterThan(2.5);
    expect(value(assessment, 'hover_time') / 60).toBeLessThan(7);
    expect(value(assessment, 'thrust_to_weight')).toBeGreaterThan(2);
    expect(value(assessment, 'thrust_to_weight')).toBeLessThan(6.5);
    for (const name of ['hover_time', 'full_current', 'thrust_to_weight'] as const) {
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
      for (const assessment of await assessedAlone(NINE_NUMBERS.slice(0, end))) {
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

describe('ordinary craft come out as practice knows them (common practice)', () => {
  test.each(ORDINARY)('$name', async ({ text, expected }) => {
    const assessment = await only(text);
    const found = Object.fromEntries(
      Object.keys(expected)
        .filter(isResultName)
        .map((name) => [name, value(assessment, name)]),
    );
    for (const [name, [low, high]] of Object.entries(expected)) {
      expect(found[name], `${name} of ${JSON.stringify(found)}`).toBeGreaterThan(low);
      expect(found[name], `${name} of ${JSON.stringify(found)}`).toBeLessThan(high);
    }
  });
});

describe('what stays silent until it is declared', () => {
  const SPIRE = textOf('spire');

  test('wind, heat, mounts and balance have no number, and name what would give them one', async () => {
    const assessment = await only(SPIRE);
    for (const name of [
      'wind_held',
      'endurance_speed',
      'endurance',
      'range_speed',
      'range',
      'motor_temperature',
      'mount_frequency',
      'mount_transmissibility',
      'balance_offset',
    ] as const) {
      expect(assessment.missing.get(name)?.reason, name).toBeTruthy();
    }
  });

  test('wind from the drag area; more tilt withstands more', async () => {
    const windy = SPIRE.replace('{ mass: 42 g }', '{ drag_area: 70 cm^2  mass: 42 g }');
    const usual = value(await only(windy), 'wind_held');
    expect(usual).toBeGreaterThan(10);
    expect(usual).toBeLessThan(30);
    const filming = value(await only(windy.replace('pack: P850', 'pack: P850  tilt: 25 deg')), 'wind_held');
    expect(filming).toBeLessThan(usual);
  });

  test('level flight from the drag area: longer aloft than in hover, farthest when faster', async () => {
    const windy = await only(SPIRE.replace('{ mass: 42 g }', '{ drag_area: 70 cm^2  mass: 42 g }'));
    expect(value(windy, 'endurance')).toBeGreaterThan(value(windy, 'hover_time'));
    expect(value(windy, 'range_speed')).toBeGreaterThan(value(windy, 'endurance_speed'));
    expect(value(windy, 'range') / (value(windy, 'range_speed') * value(windy, 'hover_time'))).toBeLessThan(1);
    const sleek = await only(SPIRE.replace('{ mass: 42 g }', '{ drag_area: 30 cm^2  mass: 42 g }'));
    expect(value(sleek, 'range')).toBeGreaterThan(value(windy, 'range'));
  });

  test('winding temperature from the thermal resistance; a poor one runs away, in words', async () => {
    const warm = SPIRE.replace('mass: 13.2 g', 'mass: 13.2 g  thermal_resistance: 6 K/W');
    const celsius = value(await only(warm), 'motor_temperature') - 273.15;
    expect(celsius).toBeGreaterThan(20);
    expect(celsius).toBeLessThan(90);
    // Copper at its temperature resists more: the poorer the path, the less it pulls at full duty.
    const hotter = await only(warm.replace('6 K/W', '60 K/W'));
    expect(value(hotter, 'full_thrust')).toBeLessThan(0.995 * value(await only(warm), 'full_thrust'));
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
    const offset = (98e-3 * 10e-3) / value(assessment, 'all_up_weight');
    expect(value(assessment, 'balance_offset')).toBeCloseTo(offset, 9);
    expect(value(assessment, 'pack_balance_position')).toBeCloseTo(0, 12);
    expect(assessment.missing.get('front_thrust_share')?.reason).toContain('wheelbase');
  });

  test('the front rotors give more thrust where the pack is ahead, and nothing more where it is as advised', async () => {
    const framed = SPIRE.replace('{ mass: 42 g }', '{ rotors: 4  wheelbase: 140 mm  mass: 42 g }');
    const nosed = framed.replace('load: Cam', 'load: Cam at 45 mm');
    const heavy = await only(nosed);
    const advised = value(heavy, 'pack_balance_position');
    expect(advised).toBeLessThan(0);
    const share = value(heavy, 'front_thrust_share');
    expect(share).toBeCloseTo(0.5 + (value(heavy, 'balance_offset') * Math.SQRT2) / 0.14, 9);
    expect(share).toBeGreaterThan(0.5);
    const balanced = await only(nosed.replace('pack: P850', `pack: P850 at ${advised * 1e3} mm`));
    expect(value(balanced, 'front_thrust_share')).toBeCloseTo(0.5, 6);
  });
});
