import { describe, expect, test } from 'vitest';
import { frontShare, packPosition } from '../../packages/language/src/physics/balance.ts';
import { type WindingHeat, windingTemperature } from '../../packages/language/src/physics/heat.ts';
import {
  edgewiseVelocityRatio,
  strongestWind,
  type WindCase,
  windDrag,
} from '../../packages/language/src/physics/wind.ts';

describe('wind', () => {
  // H. Glauert 1926, in J. G. Leishman 2006, sec. 2.14: induced velocity over that in hover (from memory, also read in public code).
  test.each([
    [0, 1],
    [0.5, 0.9395649],
    [1, 0.7861514],
    [2, 0.4858683],
    [3, 0.3313189],
  ])('edgewise flow of %d induced velocities leaves %d', (speed, ratio) => {
    expect(edgewiseVelocityRatio(speed)).toBeCloseTo(ratio, 6);
  });

  const craft: WindCase = {
    mass: 0.3,
    airDensity: 1.225,
    dragArea: 0.009,
    discArea: 0.018,
    momentumShare: 0,
    wakeExpansion: 0.5,
    tiltLimit: (45 * Math.PI) / 180,
    availableThrust: 9,
  };

  test('without momentum drag, at 45°: the wind whose drag is the weight', () => {
    const held = strongestWind(craft);
    expect(held?.limitedBy).toBe('tilt');
    expect(held?.speed).toBeCloseTo(Math.sqrt((0.3 * 9.80665) / (0.5 * 1.225 * 0.009)), 9);
  });

  test('the thrust required is the hypotenuse of weight and drag', () => {
    const weak = { ...craft, availableThrust: 3.5, momentumShare: 1, wakeExpansion: 1 };
    const held = strongestWind(weak);
    expect(held?.limitedBy).toBe('thrust');
    expect(Math.hypot(0.3 * 9.80665, windDrag(weak, 3.5, held?.speed ?? 0))).toBeCloseTo(3.5, 9);
  });

  test('ducts that stop all of the air withstand less wind than open rotors', () => {
    const open = strongestWind({ ...craft, momentumShare: 0.25 })?.speed ?? 0;
    const ducted = strongestWind({ ...craft, momentumShare: 1, wakeExpansion: 1 })?.speed ?? 0;
    expect(ducted).toBeLessThan(0.8 * open);
  });

  test('a craft that cannot lift itself withstands no wind', () => {
    expect(strongestWind({ ...craft, availableThrust: 2 })).toBeUndefined();
    expect(strongestWind({ ...craft, availableThrust: 0.3 * 9.80665 })?.speed).toBe(0);
  });
});

describe('winding temperature', () => {
  const motor: WindingHeat = {
    airTemperature: 293.15,
    thermalResistance: 14,
    current: 3,
    resistance: 0.2,
    otherLosses: 0.5,
  };

  test('satisfies its own balance', () => {
    const temperature = windingTemperature(motor);
    if (temperature === 'runaway') throw new Error('runaway');
    const copper = 9 * 0.2 * (1 + 0.00393 * (temperature - 293.15));
    expect(temperature).toBeCloseTo(293.15 + 14 * (copper + 0.5), 9);
  });

  test('runs away once a kelvin makes more than a kelvin: R_th·i²·R·α = 1', () => {
    const critical = Math.sqrt(1 / (14 * 0.2 * 0.00393));
    expect(windingTemperature({ ...motor, current: critical * 0.99 })).toBeGreaterThan(1000);
    expect(windingTemperature({ ...motor, current: critical * 1.01 })).toBe('runaway');
  });
});

describe('balance', () => {
  test('a lever by hand', () => {
    expect(frontShare(0.005, 0.04, -0.04)).toBeCloseTo(0.5625, 12);
    // 0.1 kg 50 mm ahead and 0.3 kg 10 mm behind: 2 g m, balanced by 0.1 kg 20 mm behind.
    expect(packPosition(0.1 * 0.05 - 0.3 * 0.01, 0.1)).toBeCloseTo(-0.02, 12);
  });
});
