/** Every model of the computation, reached from a text: what one line more does to the results, against numbers from outside. */
import { describe, expect, test } from 'vitest';
import type { Assessment } from '../../packages/language/src/analysis/assessment.ts';
import type { OperatingPoint } from '../../packages/language/src/physics/craft.ts';
import type { ResultId } from '../../packages/language/src/vocabulary/results.ts';
import { assessedIn } from '../checks/findings-in.ts';

interface Lines {
  readonly motor?: string;
  readonly propeller?: string;
  readonly esc?: string;
  readonly frame?: string;
  readonly pack?: string;
  readonly parts?: string;
  readonly build?: string;
  readonly motors?: string;
  readonly packs?: string;
}

/** An open 3-inch craft of round figures, with some lines more. */
const craft = (lines: Lines = {}): string => `
motor M { stator: 15 x 7 mm  kv: 3800 rpm/V  resistance: 100 mohm  mass: 13 g  ${lines.motor ?? ''} }
propeller P { diameter: 76 mm  blades: 3  thrust_coefficient: 0.17  power_coefficient: 0.12  mass: 1.5 g  ${lines.propeller ?? ''} }
esc Board { channels: 4  continuous: 35 A  resistance: 5 mohm  mass: 10 g  ${lines.esc ?? ''} }
airframe Frame { mass: 42 g  ${lines.frame ?? ''} }
pack Base { cells: 4S  capacity: 850 mAh  cell_resistance: 8 mohm  mass: 98 g }
pack Four like Base { ${lines.pack ?? ''} }
${lines.parts ?? ''}
build Craft {
  airframe: Frame
  dry_mass: 120 g
  ${lines.motors ?? 'motors: 4 x M with P'}
  esc: Board
  ${lines.packs ?? 'pack: Four'}
  ${lines.build ?? ''}
}`;

async function of(lines: Lines = {}): Promise<Assessment> {
  const assessment = (await assessedIn({ 'a.fettle': craft(lines) }))['a.fettle']?.[0]?.assessments[0];
  if (!assessment) throw new Error('no build on a pack');
  return assessment;
}

function value({ results, missing }: Assessment, name: ResultId): number {
  const result = results.get(name);
  if (!result) throw new Error(`${name}: ${missing.get(name)?.reason ?? 'unknown'}`);
  return result.estimate.value;
}

function hovering({ points }: Assessment): OperatingPoint {
  const { hover } = points;
  if (!hover || 'impossible' in hover) throw new Error('it does not hover');
  return hover;
}

/** Ohms of one position in series, as a burst shows them. */
const positionResistance = (assessment: Assessment): number =>
  (assessment.pack.burstCellSag?.value ?? Number.NaN) / value(assessment, 'burst_current');

/** Ohms between cells and board. */
function leadResistance(assessment: Assessment): number {
  const { busVoltage, cellVoltage, packCurrent } = hovering(assessment);
  return (4 * cellVoltage - busVoltage) / packCurrent;
}

/** Thrust over speed: its square, and what the thrust coefficient rises by. */
const SPEED_EXPONENT = 2.05;

describe('air', () => {
  // Saturated water vapour at 30 °C: 4246 Pa (steam tables); moist air is lighter by 0.378·e/p.
  test('humid air is thinner, and the rotors turn faster in it', async () => {
    const air = 'air: 30 degC at 0 m';
    const dry = value(await of({ build: air }), 'hover_speed');
    const humid = value(await of({ build: `${air}  humidity: 100 %` }), 'hover_speed');
    expect(humid / dry).toBeCloseTo((1 - (0.378 * 4246) / 101325) ** (-1 / SPEED_EXPONENT), 4);
  });
});

describe('packs', () => {
  test('cold cells resist more: 2.15 times at 0 °C over 25 °C', async () => {
    const warm = positionResistance(await of({ pack: 'temperature: 25 degC' }));
    const cold = positionResistance(await of({ pack: 'temperature: 0 degC' }));
    expect(cold / warm).toBeCloseTo(Math.exp(2500 * (1 / 273.15 - 1 / 298.15)), 6);
  });

  test.each([
    ['"charger, 20 degC"', 'at 20 degC'],
    ['"charger at 68 °F, two winters old"', 'at 68 degF'],
    ['"charger, -5°C"', 'at -5 degC'],
    ['"charger, 12.5 ℃"', 'at 12.5 degC'],
    ['"cold garage, −10 °C"', 'at -10 degC'],
    ['"cold garage (–10°C)"', 'at -10 degC'],
    ['"charged to 20 °C"', 'at 20 degC'],
  ])('a resistance measured %s is one %s', async (words, clause) => {
    const read = (behind: string) => of({ pack: `cell_resistance: 8 mohm measured ${behind}` });
    const printed = positionResistance(await read(words));
    expect(printed).toBeCloseTo(positionResistance(await read(clause)), 12);
    expect(printed / positionResistance(await read('"charger"'))).toBeLessThan(0.99);
  });

  test.each([
    'two temperatures: "charger, 10 degC, then 20 degC"',
    'no temperature of a pack: "charger, 700 degC"',
    'no temperature: "charger, 20 C, rev2 20 degrees"',
    'a range with both units: "charger, 40 °C–45 °C"',
    'a range with both units: "charger, -10 °C−40 °C"',
    'a range with both units: "charger, 40 °C-45 °C"',
    'a range: "charger, 15–20 °C"',
    'a range: "charger, 15-20 °C"',
    'a range: "charger, 15 – 20 °C"',
    'a range: "charger, 15 —20 °C"',
    'a range: "charger, -5 −2 °C"',
    'a range: "charger, 15 to 20 °C"',
    'a range: "charger, between 15 and 20 °C"',
    'a range: "charger, 15..20 °C"',
    'a range: "charger, 20 ±2 °C"',
  ])('%s is not read as one', async (words) => {
    const read = (behind: string) => of({ pack: `cell_resistance: 8 mohm measured ${behind}` });
    const quoted = words.slice(words.indexOf('"'));
    expect(positionResistance(await read(quoted))).toBe(positionResistance(await read('"charger"')));
  });

  test('what is written `at` a temperature counts, whatever the words state', async () => {
    const read = (behind: string) => of({ pack: `cell_resistance: 8 mohm measured ${behind}` });
    expect(positionResistance(await read('"charger, 0 degC" at 20 degC'))).toBe(
      positionResistance(await read('at 20 degC')),
    );
  });

  /** Ohms of a position once the charger's figure for a cell of the warm pack is observed; a pack of `cells`. */
  const observed = async (cells: string, reading: string) =>
    positionResistance(
      await of({
        pack: `cells: ${cells}  temperature: 25 degC`,
        build: `observed "bench" with Four { cell_resistance: ${reading} }`,
      }),
    );

  test('the charger shows cells side by side as one: half of a cell is what 2P should show', async () => {
    const usual = positionResistance(await of({ pack: 'cells: 4S2P  temperature: 25 degC' }));
    expect((await observed('4S2P', '4 mohm at 25 degC')) / usual).toBeCloseTo(1, 6);
    expect((await observed('4S2P', '8 mohm at 25 degC')) / usual).toBeGreaterThan(1.1);
  });

  test('an observed resistance counts at its temperature', async () => {
    const usual = positionResistance(await of({ pack: 'temperature: 25 degC' }));
    const cold = 8 * Math.exp(2500 * (1 / 283.15 - 1 / 298.15));
    expect((await observed('4S', `${cold.toFixed(6)} mohm at 10 degC`)) / usual).toBeCloseTo(1, 5);
    expect((await observed('4S', `${cold.toFixed(6)} mohm`)) / usual).toBeGreaterThan(1.05);
  });

  test('two hundred cycles make the resistance 1.5² times what it was', async () => {
    const worn = positionResistance(await of({ pack: 'cycles: 200' }));
    expect(worn / positionResistance(await of())).toBeCloseTo(2.25, 6);
  });

  test('cells in parallel share, in one pack and in two', async () => {
    const one = positionResistance(await of());
    const inside = positionResistance(await of({ parts: 'pack Wide like Four { cells: 4S2P }', packs: 'pack: Wide' }));
    const beside = await of({ packs: 'pack: 2 x Four in parallel' });
    expect(inside / one).toBeCloseTo(0.5, 6);
    expect(positionResistance(beside) / one).toBeCloseTo(0.5, 6);
    expect(value(beside, 'charge_used') / value(await of(), 'charge_used')).toBeCloseTo(2, 3);
    expect(value(beside, 'all_up_weight') - value(await of(), 'all_up_weight')).toBeCloseTo(0.098, 9);
  });

  test('packs in series add their volts', async () => {
    const two = await of({ parts: 'pack Half like Four { cells: 2S  mass: 49 g }', packs: 'pack: 2 x Half in series' });
    expect(value(two, 'no_load_speed')).toBeCloseTo(value(await of(), 'no_load_speed'), 6);
  });
});

describe('leads', () => {
  // ASTM B258: 33.3 ohm a kilometre of 20 AWG at 20 °C; copper gains 0.393 % a kelvin; both cores.
  test('60 mm of 20 AWG add 4.15 mohm', async () => {
    const lead = 'lead Main { wire: 20 AWG  length: 60 mm  mass: 2 g }';
    const more = leadResistance(await of({ parts: lead, build: 'lead: Main' })) - leadResistance(await of());
    expect(more).toBeCloseTo(2 * 0.06 * 33.3e-3 * 1.0393, 5);
    const two = leadResistance(await of({ parts: lead, build: 'lead: 2 x Main' })) - leadResistance(await of());
    expect(two / more).toBeCloseTo(0.5, 6);
  });
});

describe('boards', () => {
  test('what a board draws for itself is on the pack', async () => {
    const more =
      value(await of({ esc: 'standby_current: 320 mA' }), 'hover_current') -
      value(await of({ esc: 'standby_current: 20 mA' }), 'hover_current');
    expect(more).toBeGreaterThan(0.3);
    expect(more).toBeLessThan(0.31);
  });

  test('a low PWM frequency costs a small motor much, a high one little', async () => {
    const small = 'inductance: 8 uH';
    const power = async (switching: string) =>
      value(await of({ motor: small, esc: `pwm_frequency: ${switching}` }), 'hover_power');
    const ideal = await power('200 kHz');
    const slow = (await power('24 kHz')) / ideal - 1;
    const fast = (await power('96 kHz')) / ideal - 1;
    expect(slow).toBeGreaterThan(0.08);
    expect(fast).toBeLessThan(0.025);
    // The loss goes as the inverse square of the frequency while the swing stays a triangle.
    expect(slow / fast).toBeGreaterThan(8);
  });

  test('a jammed rotor at hover duty: duty times volts over hot copper and the board', async () => {
    const assessment = await of({ esc: 'burst: 45 A for 5 s' });
    const hot = 0.1 * (1 + 0.00393 * 50) + 0.005;
    const expected = (value(assessment, 'hover_duty') * hovering(assessment).busVoltage) / hot;
    expect(value(assessment, 'stall_current') / expected).toBeCloseTo(1, 6);
    expect(value(assessment, 'stall_ratio') / (expected / 45)).toBeCloseTo(1, 6);
  });
});

describe('rails and loads', () => {
  const without = of();
  const added = async (lines: Lines): Promise<{ amperes: number; watts: number; assessment: Assessment }> => {
    const assessment = await of(lines);
    const before = hovering(await without);
    const after = hovering(assessment);
    // The rest draws nearly the same power at a hair less voltage.
    const watts = after.packCurrent * after.busVoltage - before.packCurrent * before.busVoltage;
    return { amperes: watts / after.busVoltage, watts, assessment };
  };

  test('a load of constant current takes its amperes off the pack', async () => {
    const { amperes } = await added({
      parts: 'load Heater { draw: 0.5 A }',
      build: 'load: Heater from pack',
    });
    expect(amperes).toBeCloseTo(0.5, 2);
  });

  test('a step-up delivers more than the pack has, at its efficiency', async () => {
    const { watts, assessment } = await added({
      parts:
        'regulator Up { type: boost  output: 20 V  efficiency: 90 %  standby_current: 0 mA }\nload Lamp { draw: 6 W }',
      build: 'regulator: Up from pack  load: Lamp from Up',
    });
    expect(value(assessment, 'rail.Up.voltage')).toBeCloseTo(20, 9);
    expect(watts).toBeCloseTo(6 / 0.9, 1);
  });

  test('a linear one passes its current on', async () => {
    const { amperes, assessment } = await added({
      parts: 'regulator Burner { type: linear  output: 5 V  standby_current: 0 mA }\nload Servo { draw: 0.4 A }',
      build: 'regulator: Burner from pack  load: Servo from Burner',
    });
    expect(value(assessment, 'rail.Burner.voltage')).toBeCloseTo(5, 9);
    expect(amperes).toBeCloseTo(0.4, 2);
  });

  test('efficiencies of a chain multiply', async () => {
    const { watts } = await added({
      parts: `regulator First { output: 10 V  efficiency: 90 %  standby_current: 0 mA }
regulator Second { output: 5 V  efficiency: 80 %  standby_current: 0 mA }
load Chip { draw: 4 W }`,
      build: 'regulator: First from pack  regulator: Second from First  load: Chip from Second',
    });
    expect(watts).toBeCloseTo(4 / 0.72, 1);
  });

  test('a buck whose input falls below its output follows it', async () => {
    const { assessment } = await added({
      parts: 'regulator High { output: 16 V  dropout: 0.5 V  standby_current: 0 mA }\nload Radio { draw: 3 W }',
      build: 'regulator: High from pack  load: Radio from High',
    });
    const { hoverAtReserve } = assessment.points;
    if (!hoverAtReserve || 'impossible' in hoverAtReserve) throw new Error('it does not hover');
    expect(value(assessment, 'rail.High.voltage')).toBeCloseTo(hoverAtReserve.busVoltage - 0.5, 6);
  });
});

describe('rotors', () => {
  test('a coaxial pair gives 0.87 of two lone rotors, and turns faster for it', async () => {
    const lone = value(await of({ motors: 'motors: 4 x M with P' }), 'hover_speed');
    const coaxial = await of({ motors: 'upper_motors: 2 x M with P  lower_motors: 2 x M with P' });
    expect(value(coaxial, 'hover_speed') / lone).toBeCloseTo(0.87 ** (-1 / SPEED_EXPONENT), 6);
  });

  test('a duct that adds thrust lowers the speed', async () => {
    const open = value(await of(), 'hover_speed');
    const ducted = value(await of({ frame: 'guard_diameter: 80 mm  duct_gain: 10 %' }), 'hover_speed');
    expect(ducted / open).toBeCloseTo(1.1 ** (-1 / SPEED_EXPONENT), 6);
  });
});

describe('flight', () => {
  test('time on the ground and bursts shorten it; the charge stays the same', async () => {
    const hover = await of();
    const waited = await of({ parts: 'load Cam { draw: 8 W }', build: 'load: Cam from pack  ground: 5 min' });
    const atOnce = await of({ parts: 'load Cam { draw: 8 W }', build: 'load: Cam from pack' });
    expect(value(waited, 'flight_time')).toBeLessThan(value(atOnce, 'flight_time'));
    expect(value(waited, 'charge_used') / value(atOnce, 'charge_used')).toBeCloseTo(1, 6);
    const mixed = await of({ build: 'flown: 80 % at hover\n  flown: 20 % at 2 x hover' });
    expect(value(mixed, 'flight_time')).toBeLessThan(0.85 * value(hover, 'hover_time'));
    expect(value(mixed, 'hover_time')).toBeCloseTo(value(hover, 'hover_time'), 6);
  });

  // The induced velocity in edgewise flow after Glauert: v_i = v_h² / √(v² + v_i²), solved here by halving.
  test.each([
    { name: 'open rotors stop a quarter of the air they swallow', frame: '', share: 0.25, wake: 0.5 },
    { name: 'ducts stop all of it', frame: 'guard_diameter: 80 mm  duct_gain: 0 %', share: 1, wake: 1 },
  ])('wind held: $name', async ({ frame, share, wake }) => {
    const assessment = await of({ frame: `drag_area: 80 cm^2  ${frame}`, build: 'air: 15 degC at 0 m  tilt: 40 deg' });
    const wind = value(assessment, 'wind_held');
    const weight = value(assessment, 'all_up_weight') * 9.80665;
    const thrust = weight / Math.cos((40 * Math.PI) / 180);
    const area = 4 * (Math.PI / 4) * 0.076 ** 2;
    const inHover = Math.sqrt((wake * thrust) / (1.225 * area));
    let low = 0;
    let high = inHover;
    for (let i = 0; i < 60; i++) {
      const middle = (low + high) / 2;
      if (middle * Math.hypot(wind, middle) < inHover ** 2) low = middle;
      else high = middle;
    }
    const drag = 0.5 * 1.225 * 80e-4 * wind ** 2 + share * 1.225 * area * low * wind;
    expect(drag / (weight * Math.tan((40 * Math.PI) / 180))).toBeCloseTo(1, 4);
  });
});
