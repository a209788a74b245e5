import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Motor } from '../../packages/language/src/physics/craft.ts';
import { rippleMeanSquare } from '../../packages/language/src/physics/esc.ts';
import {
  motorLoss,
  motorVoltage,
  noLoadLoss,
  speedOnVoltage,
  windingCurrent,
} from '../../packages/language/src/physics/motor.ts';
import { below, record, worst } from '../agreement.ts';
import { TEXTBOOK_MOTOR, THREE_CONSTANT_MOTORS } from '../reference/direct-current-motor.ts';
import { BENCH_PAIRS, type BenchPair } from '../reference/motor-propeller-bench.ts';
import { plausibleCraft } from './plausible-craft.ts';
import { sampleMotor } from './sample-craft.ts';

const RPM = (2 * Math.PI) / 60;

/** No commutation drop, and a no-load current that does not grow with speed. */
function threeConstants(kv: number, resistance: number, noLoadCurrent: number): Motor {
  return {
    speedConstant: kv * RPM,
    resistance,
    commutationSlope: 0,
    commutationLossShare: 0,
    inductance: 1e-5,
    noLoadCurrent: 2 * noLoadCurrent,
    noLoadSpeed: 1e15,
  };
}

describe.each(THREE_CONSTANT_MOTORS)('three-constant motor, $kv rpm/V on $voltage V', (given) => {
  const motor = threeConstants(given.kv, given.resistance, given.noLoadCurrent);
  test.each(given.points)('%d A, %d rpm, %d W', (current, rpm, power) => {
    const speed = rpm * RPM;
    expect(windingCurrent(motor, speed, power) / current).toBeCloseTo(1, 5);
    expect(motorVoltage(motor, speed, current)).toBeCloseTo(given.voltage, 4);
    expect(speedOnVoltage(motor, power / speed ** 3, 0, given.voltage, 0) / speed).toBeCloseTo(1, 5);
  });
});

test('agreement with the machine on direct current', () => {
  const points = THREE_CONSTANT_MOTORS.flatMap((given) => {
    const motor = threeConstants(given.kv, given.resistance, given.noLoadCurrent);
    return given.points.map(([current, rpm, power]) => windingCurrent(motor, rpm * RPM, power) / current - 1);
  });
  record({
    id: 'motor, direct current',
    check: `current of ${THREE_CONSTANT_MOTORS.length} three-constant motors at ${points.length} points`,
    source: 'M. Drela, First-Order DC Electric Motor Model, MIT 2007; A. Hughes and W. Drury, 5th ed. 2019, ch. 3',
    standing: 'computed',
    suite: 'test/physics/motor.test.ts',
    found: `largest relative difference ${below(worst(points))}`,
  });
});

test('textbook machine: Fitzgerald, Kingsley, Umans, Example 7.9, within the 5 % that models of its loss differ by', () => {
  const { noLoadVoltage, noLoadCurrent, noLoadSpeed, resistance, voltage, speed, shaftPower } = TEXTBOOK_MOTOR;
  const perVolt = noLoadSpeed / (noLoadVoltage - noLoadCurrent * resistance);
  const motor = { ...threeConstants(perVolt, resistance, 0), noLoadCurrent, noLoadSpeed: noLoadSpeed * RPM };
  const back = speed / perVolt;
  const current = (voltage - back) / resistance;
  const power = back * current - noLoadLoss(motor, speed * RPM);
  expect(Math.abs(power / shaftPower - 1)).toBeLessThan(0.05);
  expect(windingCurrent(motor, speed * RPM, power)).toBeCloseTo(current, 10);
});

test.each([
  // S. P. Burman, Special Electrical Machines, Example 4.1: 0.12 N m/A on 48 V runs free at 3819 rpm.
  [0.12, 48, 3819],
  // Example 4.2: 1 N m at 5 A stalled, on 28 V, 1336.9 rpm.
  [0.2, 28, 1336.9],
])('no-load speed from a torque constant of %d N m/A on %d V: %d rpm', (constant, voltage, published) => {
  const motor = threeConstants(1 / constant / RPM, 0.5, 0);
  expect(Math.abs(speedOnVoltage(motor, 1e-15, 0, voltage, 0) / RPM - published)).toBeLessThan(1);
});

test('input is shaft power and heat, whatever the motor', () => {
  fc.assert(
    fc.property(plausibleCraft, fc.double({ min: 0.05, max: 1, noNaN: true }), (craft, share) => {
      for (const { motor } of craft.rotors) {
        const speed = 0.8 * share * motor.noLoadSpeed;
        const power = (share * 4) / motor.resistance;
        const current = windingCurrent(motor, speed, power);
        const input = motorVoltage(motor, speed, current) * current;
        expect((power + motorLoss(motor, speed, current)) / input).toBeCloseTo(1, 10);
      }
    }),
    { seed: 20_240_611 },
  );
});

test('ripple: the textbook triangle while periods are short, the resistive square wave when they are long', () => {
  // R. W. Erickson, D. Maksimovic, ch. 2: peak to peak V·d·(1 − d)/(f·L); mean square of a triangle is its square over 12.
  const triangle = (8 * 0.4 * 0.6) / (48e3 * 2e-5);
  expect(rippleMeanSquare(8, 0.4, 0.02, 2e-5, 48e3) / (triangle ** 2 / 12)).toBeCloseTo(1, 3);
  expect(rippleMeanSquare(8, 0.4, 0.5, 1e-9, 100)).toBeCloseTo(0.4 * 0.6 * (8 / 0.5) ** 2, 3);
  expect(rippleMeanSquare(8, 1, 0.1, 1e-5, 24e3)).toBe(0);

  // Against the current itself, stepped through one settled period.
  const [voltage, duty, resistance, inductance, frequency] = [4, 0.55, 0.1, 4.8e-6, 24e3];
  const steps = 20_000;
  const decay = Math.exp(-resistance / (inductance * frequency * steps));
  let current = 0;
  let sum = 0;
  let squares = 0;
  for (let period = 0; period < 30; period++) {
    sum = 0;
    squares = 0;
    for (let i = 0; i < steps; i++) {
      const target = (i + 0.5) / steps < duty ? voltage / resistance : 0;
      current = target + (current - target) * decay;
      sum += current;
      squares += current ** 2;
    }
  }
  const swing = squares / steps - (sum / steps) ** 2;
  expect(rippleMeanSquare(voltage, duty, resistance, inductance, frequency) / swing).toBeCloseTo(1, 3);
});

/**
 * Motors known by stator size and kv alone, as in a build from data sheets; propellers by their measured thrust, with the figure
 * of merit that the open data give for their pitch. So what is tested is the motor and its estimated constants.
 */
describe('measured pairs, 8 to 15 inch (Czech Technical University in Prague)', () => {
  const AIR_DENSITY = 1.2;

  interface Inputs {
    /** Factor on resistance and inductance alike: both follow from the stator's size by one law. */
    readonly winding: number;
    readonly lossShare: number;
    readonly kv: number;
    readonly merit: number;
    readonly noLoadCurrent: number;
  }
  const STATED: Inputs = { winding: 1, lossShare: 0.55, kv: 1, merit: 1, noLoadCurrent: 0.7 };
  /** One standard deviation each: × or ÷ 2, ±0.3, ±3 % (k = 2); scatter of the figure of merit; ±0.8 A (k = 2). */
  const DEVIATION: Inputs = {
    winding: 0.35,
    lossShare: 0.15,
    kv: 0.015,
    merit: 0.15,
    noLoadCurrent: 0.4,
  };

  function predict(
    pair: BenchPair,
    [throttle, , measuredSpeed, voltage]: BenchPair['rows'][number],
    inputs: Inputs,
    withCommutation: boolean,
  ) {
    const kv = pair.kv * inputs.kv;
    const scaled = sampleMotor(kv, pair.stator[0], pair.stator[1]);
    const inductance = scaled.inductance * inputs.winding;
    const motor: Motor = {
      ...scaled,
      resistance: scaled.resistance * inputs.winding,
      inductance,
      commutationSlope: withCommutation ? scaled.commutationSlope * inputs.winding : 0,
      commutationLossShare: inputs.lossShare,
      noLoadCurrent: inputs.noLoadCurrent,
      noLoadSpeed: kv * RPM * 10,
    };
    const diameter = pair.diameter * 0.0254;
    const coefficients = pair.rows.map(
      ([, grams, rpm]) => (grams * 9.80665e-3) / (AIR_DENSITY * (rpm / 60) ** 2 * diameter ** 4),
    );
    const thrustCoefficient = coefficients.reduce((a, b) => a + b) / coefficients.length;
    // UIUC static data: figure of merit as a straight line in pitch over diameter.
    const merit = inputs.merit * (pair.pitch === undefined ? 0.55 : 0.723 - 0.343 * (pair.pitch / pair.diameter));
    const powerCoefficient = (Math.sqrt(2 / Math.PI) * thrustCoefficient ** 1.5) / merit;
    const load = (powerCoefficient * AIR_DENSITY * diameter ** 5) / (2 * Math.PI) ** 3;

    const escResistance = 0.006;
    const resistance = motor.resistance + escResistance;
    const busCurrent = (speed: number): number => {
      const current = windingCurrent(motor, speed, load * speed ** 3);
      const applied = motorVoltage(motor, speed, current) + current * escResistance;
      const duty = Math.min(1, applied / voltage);
      const ripple = resistance * rippleMeanSquare(voltage, duty, resistance, inductance, 24e3);
      return (applied * current + ripple) / voltage;
    };
    const speed = speedOnVoltage(motor, load, escResistance, throttle * voltage, 0);
    return { rpm: speed / RPM, amperes: busCurrent(speed), amperesAtMeasuredSpeed: busCurrent(measuredSpeed * RPM) };
  }

  /**
   * Model-form standard uncertainty of what a motor known by size alone takes at a given throttle. What scatters is the
   * winding: of the three motors here one has twice the apparent resistance that its size suggests, two fit within 7 %.
   */
  const FORM_AT_GIVEN_THROTTLE = 0.2;

  interface Comparison {
    readonly throttle: number;
    /** Relative error of the prediction. */
    readonly error: number;
    /** Relative standard uncertainty of the prediction. */
    readonly uncertainty: number;
  }
  type Quantity = 'rpm' | 'amperes' | 'amperesAtMeasuredSpeed';

  function compare(quantity: Quantity, withCommutation: boolean): readonly Comparison[] {
    return BENCH_PAIRS.flatMap((pair) =>
      pair.rows.map((row) => {
        const value = (inputs: Inputs): number => predict(pair, row, inputs, withCommutation)[quantity];
        const stated = value(STATED);
        const keys = Object.keys(DEVIATION) as (keyof Inputs)[];
        const shifts = keys.map((key) => value({ ...STATED, [key]: STATED[key] + DEVIATION[key] }) / stated - 1);
        const [throttle, , rpm, , amperes] = row;
        const form = quantity === 'amperes' ? FORM_AT_GIVEN_THROTTLE : 0;
        const measured = quantity === 'rpm' ? rpm : amperes;
        return { throttle, error: stated / measured - 1, uncertainty: Math.hypot(...shifts, form) };
      }),
    );
  }

  const rms = (values: readonly number[]): number =>
    Math.sqrt(values.reduce((sum, x) => sum + x * x, 0) / values.length);
  const errors = (rows: readonly Comparison[]): number => rms(rows.map(({ error }) => error));
  const coverage = (rows: readonly Comparison[]): number =>
    rows.filter(({ error, uncertainty }) => Math.abs(error) <= 2 * uncertainty).length / rows.length;
  const percent = (value: number): string => `${(100 * value).toFixed(0)} %`;
  const report = (name: string, rows: readonly Comparison[]): void => {
    const stated = percent(2 * rms(rows.map(({ uncertainty }) => uncertainty)));
    console.log(
      `${name}: error ${percent(errors(rows))} rms, stated ±${stated} (k = 2), covered ${percent(coverage(rows))}`,
    );
  };

  test.each([
    ['rpm', 'speed at a given throttle', 0.09],
    ['amperes', 'current at a given throttle', 0.3],
    ['amperesAtMeasuredSpeed', 'current at a given thrust, as in hover', 0.13],
  ] as const)('%s, from stator size and kv alone: error, and coverage of the stated ±', (quantity, name, limit) => {
    const rows = compare(quantity, true);
    report(name, rows);
    record({
      id: `motor, ${quantity}`,
      check: `${name}, of ${BENCH_PAIRS.length} motor and propeller pairs at ${rows.length} points, from stator size and kv alone`,
      source: 'Czech Technical University in Prague, multirotor group, page “Motor tests”',
      standing: 'read',
      suite: 'test/physics/motor.test.ts',
      found: `${percent(errors(rows))} rms; the stated ±${percent(2 * rms(rows.map(({ uncertainty }) => uncertainty)))} covers ${percent(coverage(rows))}`,
    });
    expect(errors(rows)).toBeLessThan(limit);
    expect(coverage(rows)).toBeGreaterThanOrEqual(0.9);
  });

  test('without the commutation drop the loaded speed would be a fifth too high and the current nearly double', () => {
    const full = (quantity: Quantity) => compare(quantity, false).filter(({ throttle }) => throttle === 1);
    expect(errors(full('rpm'))).toBeGreaterThan(0.2);
    expect(errors(full('amperes'))).toBeGreaterThan(0.7);
    // In hover it hardly matters.
    expect(errors(compare('amperesAtMeasuredSpeed', false))).toBeLessThan(0.15);
  });
});
