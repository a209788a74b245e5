/** The other model is consistent: it returns what its inputs require. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { EXAMPLE_LOG, exampleLog } from './example-log.ts';
import { atDuty, hovering, onStand, restingVolts, secondsTo, type TrueCraft, usedIn } from './physics.ts';

const CRAFT: TrueCraft = {
  mass: 0.25,
  density: 1.22,
  dutyLimit: 1,
  draw: 5,
  peak: 5,
  pack: {
    cells: 4,
    resistance: 0.008,
    leads: 0.004,
    capacity: 2900,
    label: 3060,
    highVoltage: false,
    offset: 0,
    tilt: 0,
    growth: 0.8,
    reserve: 0.2,
  },
  drive: {
    count: 4,
    gain: 1,
    escResistance: 0.004,
    pwmFrequency: 48e3,
    partDutyLoss: 0,
    motor: {
      speedConstant: 398,
      resistance: 0.09,
      commutation: 4e-5,
      lossShare: 0.5,
      saturation: 0,
      inductance: 2e-5,
      noLoadCurrent: 0.8,
      noLoadSpeed: 4000,
    },
    propeller: {
      diameter: 0.0762,
      thrustCoefficient: 0.16,
      powerCoefficient: 0.11,
      speed: 2700,
      thrust: [0.05, 0],
      power: [-0.05, 0],
    },
  },
};

describe('the other model', () => {
  test('hovers on its weight, and draws its power over the voltage', () => {
    const point = hovering(CRAFT, 0.6);
    const bare = onStand(CRAFT.drive, CRAFT.density, point?.volts ?? 0, point?.duty ?? 0);
    expect(4 * bare.thrust).toBeCloseTo(0.25 * 9.80665, 1);
    expect(point?.amperes).toBeCloseTo(4 * bare.amperes + CRAFT.draw / (point?.volts ?? 1), 1);
  });

  test('keeps the energy: shaft, copper and what else is lost', () => {
    const { amperes, speed, torque } = onStand(CRAFT.drive, CRAFT.density, 15, 1);
    const shaft = torque * speed;
    expect(shaft).toBeLessThan(15 * amperes);
    expect(shaft).toBeGreaterThan(0.5 * 15 * amperes);
  });

  test('flies as long as its charge lasts', () => {
    const seconds = secondsTo(CRAFT, 0.2) ?? 0;
    expect(usedIn(CRAFT, seconds) / (0.8 * CRAFT.pack.capacity)).toBeCloseTo(1, 2);
  });

  test('sags under load, less than it has', () => {
    const full = atDuty(CRAFT, 1, 1);
    expect(full?.volts).toBeLessThan(restingVolts(CRAFT.pack, 1));
    expect(full?.volts).toBeCloseTo(restingVolts(CRAFT.pack, 1) - (full?.amperes ?? 0) * 0.0337, 0);
  });
});

test('the log of the examples is the flight that is simulated here', () => {
  // A checkout may have other line ends.
  expect(readFileSync(EXAMPLE_LOG, 'utf8').replaceAll('\r\n', '\n')).toBe(exampleLog());
});
