import { describe, expect, test } from 'vitest';
import {
  discArea,
  figureOfMerit,
  IDEAL_DUCT_GAIN,
  idealPower,
  installedThrustFactor,
  powerFactor,
  tipSpeedAt,
} from '../../packages/language/src/physics/propeller.ts';
import { estimateCoefficients } from '../../packages/language/src/physics/propeller-estimate.ts';
import { driveAtThrust } from '../../packages/language/src/physics/rotor.ts';
import { below, record, worst } from '../agreement.ts';
import { BENCH_PAIRS } from '../reference/motor-propeller-bench.ts';
import { STATIC_PROPELLERS, type StaticPropeller } from '../reference/static-propellers.ts';
import { ductedRotors } from './sample-craft.ts';

const INCH = 0.0254;

describe('momentum theory', () => {
  test('tilt-rotor in hover: 45,000 lb on two discs of 38 ft (J. G. Leishman, ch. 2; inputs from memory, recomputed)', () => {
    const [pound, foot, horsepower, slugPerCubicFoot] = [4.4482216, 0.3048, 745.69987, 515.37882];
    const power = idealPower(22_500 * pound, 38 * foot, 0.002378 * slugPerCubicFoot) / horsepower;
    expect(power).toBeCloseTo(2642.176, 0);
  });

  // Recomputed from T^1.5/√(2ρA) at 1.225 kg/m³: diameter (inch), thrust (N), ideal power (W).
  test.each([
    [3, 0.35, 1.958931],
    [5, 1.5, 10.4281],
    [5, 5, 63.4634],
    [8, 4, 28.38169],
  ])('%d inch at %d N needs at least %d W', (diameter, thrust, power) => {
    expect(idealPower(thrust, diameter * INCH, 1.225) / power).toBeCloseTo(1, 5);
  });

  // J. L. Pereira, PhD thesis, Univ. of Maryland 2008, ch. 2 (from memory): wake expansion, power for 5 N on 127 mm, thrust gain.
  test.each([
    [0.5, 63.4634, 1],
    [0.75, 51.81765, 1.144714],
    [1, 44.8754, 1.259921],
    [1.5, 36.64061, 1.44225],
  ])('shroud whose wake widens to %d discs: %d W, thrust × %d at equal power', (expansion, power, gain) => {
    expect(idealPower(5, 0.127, 1.225, expansion) / power).toBeCloseTo(1, 5);
    expect(idealPower(5 * gain, 0.127, 1.225, expansion)).toBeCloseTo(idealPower(5, 0.127, 1.225), 3);
    if (expansion === 1) expect(IDEAL_DUCT_GAIN).toBeCloseTo(gain, 6);
  });

  test('agreement with momentum theory', () => {
    const shrouds = [
      [0.5, 63.4634],
      [0.75, 51.81765],
      [1, 44.8754],
      [1.5, 36.64061],
    ] as const;
    record({
      id: 'momentum',
      check: 'ideal power of a shrouded rotor at four wake expansions; no measured propeller beats the bound',
      source: 'J. L. Pereira, PhD thesis, Univ. of Maryland 2008, ch. 2; J. G. Leishman, ch. 2; UIUC data',
      standing: 'from memory',
      suite: 'test/physics/propeller.test.ts',
      found: `power ${below(worst(shrouds.map(([expansion, power]) => idealPower(5, 0.127, 1.225, expansion) / power - 1)))}; best measured figure of merit ${Math.max(...STATIC_PROPELLERS.map(figureOfMerit)).toFixed(2)}`,
    });
  });

  test('figure of merit is ideal over actual power of the same rotor', () => {
    const { propeller } = ductedRotors;
    const air = { density: 1.2, speedOfSound: 340 };
    const open = { ...ductedRotors, thrustGain: 1 };
    const drive = driveAtThrust(open, air, 0.4);
    expect(idealPower(0.4, propeller.diameter, 1.2) / drive.shaftPower).toBeCloseTo(figureOfMerit(propeller), 10);
    // No measured propeller beats momentum theory; the best of these small ones reach 0.7.
    for (const measured of STATIC_PROPELLERS) expect(figureOfMerit(measured)).toBeLessThan(0.75);
  });

  test('rotor and propeller coefficients: C_T = 7.7516 and C_P = 24.352 times the rotor convention', () => {
    const speed = 1000;
    const propeller = { diameter: 0.2, thrustCoefficient: 7.751569 * 0.01, powerCoefficient: 24.352273 * 0.001 };
    const air = { density: 1.2, speedOfSound: 340 };
    const tip = tipSpeedAt(0.2, speed);
    const thrust = installedThrustFactor({ ...ductedRotors, thrustGain: 1, propeller }, air) * speed ** 2;
    expect(thrust / (0.01 * 1.2 * discArea(0.2) * tip ** 2)).toBeCloseTo(1, 6);
    expect((powerFactor(propeller, air) * speed ** 3) / (0.001 * 1.2 * discArea(0.2) * tip ** 3)).toBeCloseTo(1, 6);
  });

  test('tip speed: 5 inch at 30,000 rpm is 199.49 m/s', () => {
    expect(tipSpeedAt(5 * INCH, (3000 * Math.PI) / 3)).toBeCloseTo(199.49, 2);
  });
});

describe('estimate from size against the UIUC static data', () => {
  const BLADES = { thrustCoefficient: 0.634, powerCoefficient: 0.755 };
  type Coefficient = keyof typeof BLADES;
  const STATED = { thrustCoefficient: 0.21, powerCoefficient: 0.24 };

  /** Logarithm of a coefficient with the blade count taken out, over that of pitch/diameter: least squares. */
  function fitted(propellers: readonly StaticPropeller[], coefficient: Coefficient) {
    const x = propellers.map(({ pitch, diameter }) => Math.log(pitch / diameter));
    const y = propellers.map((propeller) => reduced(propeller, coefficient));
    const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b) / values.length;
    const [mx, my] = [mean(x), mean(y)];
    const covariance = mean(x.map((value, i) => (value - mx) * ((y[i] as number) - my)));
    const exponent = covariance / mean(x.map((value) => (value - mx) ** 2));
    return { exponent, scale: Math.exp(my - exponent * mx) };
  }
  const reduced = (propeller: StaticPropeller, coefficient: Coefficient): number =>
    Math.log(propeller[coefficient]) - BLADES[coefficient] * Math.log(propeller.blades / 2);

  test.each(['thrustCoefficient', 'powerCoefficient'] as const)(
    '%s: the stated ± covers at least nine tenths of the propellers left out of the fit',
    (coefficient) => {
      const errors = STATIC_PROPELLERS.map((left) => {
        const { exponent, scale } = fitted(
          STATIC_PROPELLERS.filter((other) => other !== left),
          coefficient,
        );
        const predicted = Math.log(scale) + exponent * Math.log(left.pitch / left.diameter);
        return predicted - reduced(left, coefficient);
      });
      const sorted = errors.map(Math.abs).sort((a, b) => a - b);
      const rms = Math.sqrt(errors.reduce((sum, error) => sum + error ** 2, 0) / errors.length);
      const covered = errors.filter((error) => Math.abs(error) <= 2 * STATED[coefficient]).length / errors.length;
      const at = (share: number): string =>
        `${(100 * (sorted[Math.floor(share * (sorted.length - 1))] as number)).toFixed(0)} %`;
      console.log(
        `${coefficient}: left out, rms ${(100 * rms).toFixed(0)} %, half within ${at(0.5)}, nine tenths within ${at(0.9)}, worst ${at(1)}; ±${200 * STATED[coefficient]} % covers ${(100 * covered).toFixed(0)} %`,
      );
      record({
        id: `propeller, ${coefficient}`,
        check: `${coefficient === 'thrustCoefficient' ? 'C_T' : 'C_P'} from size, each of ${STATIC_PROPELLERS.length} propellers left out of the fit in turn`,
        source: 'UIUC Propeller Database, static rows (AIAA 2011-1255, AIAA 2014-2151)',
        standing: 'read',
        suite: 'test/physics/propeller.test.ts',
        found: `${(100 * rms).toFixed(0)} % rms, half within ${at(0.5)}, nine tenths within ${at(0.9)}; the stated ±${200 * STATED[coefficient]} % covers ${(100 * covered).toFixed(0)} %`,
      });
      expect(covered).toBeGreaterThanOrEqual(0.9);
      expect(rms).toBeLessThanOrEqual(STATED[coefficient] + 0.005);
    },
  );

  test('the coefficients in the code are those of the fit', () => {
    const thrust = fitted(STATIC_PROPELLERS, 'thrustCoefficient');
    const power = fitted(STATIC_PROPELLERS, 'powerCoefficient');
    const estimate = estimateCoefficients({ diameter: 0.2, pitch: 0.1, blades: 2 });
    expect(estimate.thrustCoefficient / (thrust.scale * 0.5 ** thrust.exponent)).toBeCloseTo(1, 2);
    expect(estimate.powerCoefficient / (power.scale * 0.5 ** power.exponent)).toBeCloseTo(1, 2);
    expect(estimate).toMatchObject({ thrustUncertainty: 0.21, powerUncertainty: 0.24, outsideData: false });
  });

  test.each(['thrust', 'power'] as const)(
    'pitch unsaid: the stated ± of %s covers at least nine tenths all the same',
    (which) => {
      const covered = STATIC_PROPELLERS.filter((measured) => {
        const estimate = estimateCoefficients({ diameter: measured.diameter * INCH, blades: measured.blades });
        const off = Math.log(measured[`${which}Coefficient`] / estimate[`${which}Coefficient`]);
        return Math.abs(off) <= 2 * estimate[`${which}Uncertainty`];
      });
      expect(covered.length / STATIC_PROPELLERS.length).toBeGreaterThanOrEqual(0.9);
    },
  );

  test('extrapolated to 9.4 to 15 inch: thrust on a bench lies within the stated ±', () => {
    const AIR_DENSITY = 1.19;
    const large = BENCH_PAIRS.filter(({ diameter }) => diameter * INCH > 0.204);
    const errors = large.map(({ diameter, pitch, rows }) => {
      const across = diameter * INCH;
      const estimate = estimateCoefficients({
        diameter: across,
        blades: 2,
        ...(pitch === undefined ? {} : { pitch: pitch * INCH }),
      });
      const coefficients = rows.map(
        ([, grams, rpm]) => (grams * 9.80665e-3) / (AIR_DENSITY * (rpm / 60) ** 2 * across ** 4),
      );
      const measured = coefficients.reduce((sum, one) => sum + one, 0) / coefficients.length;
      return Math.log(measured / estimate.thrustCoefficient);
    });
    const rms = Math.sqrt(errors.reduce((sum, error) => sum + error ** 2, 0) / errors.length);
    record({
      id: 'propeller, larger than the data',
      check: `C_T from size of ${large.length} propellers of 9.4 to 15 inch, larger than those of the fit`,
      source: 'Czech Technical University in Prague, motor tests: thrust by load cell, and speed',
      standing: 'read',
      suite: 'test/physics/propeller.test.ts',
      found: `${(100 * rms).toFixed(0)} % rms; the stated ±${200 * STATED.thrustCoefficient} % covers all`,
    });
    expect(large.length).toBe(9);
    expect(rms).toBeLessThan(STATED.thrustCoefficient);
    for (const error of errors) expect(Math.abs(error)).toBeLessThan(2 * STATED.thrustCoefficient);
  });

  // Ranges seen in practice (common practice, no source): diameter (mm), blades, C_T from … to, C_P from … to.
  test.each([
    [31, 3, 0.18, 0.25, 0.16, 0.24],
    [31, 4, 0.18, 0.25, 0.16, 0.24],
    [40, 3, 0.17, 0.22, 0.14, 0.2],
    [48, 3, 0.16, 0.2, 0.12, 0.17],
    [51, 4, 0.19, 0.24, 0.16, 0.24],
    [76, 3, 0.15, 0.18, 0.11, 0.14],
    [129, 3, 0.16, 0.19, 0.11, 0.135],
    [178, 3, 0.12, 0.145, 0.06, 0.08],
  ])('%d mm, %d blades, pitch unknown: the range of practice lies within the stated ±', (mm, blades, ...range) => {
    const estimate = estimateCoefficients({ diameter: mm / 1000, blades });
    const [leastThrust, mostThrust, leastPower, mostPower] = range;
    const middleThrust = (leastThrust + mostThrust) / 2;
    const middlePower = (leastPower + mostPower) / 2;
    expect(Math.abs(Math.log(estimate.thrustCoefficient / middleThrust))).toBeLessThan(estimate.thrustUncertainty);
    expect(Math.abs(Math.log(estimate.powerCoefficient / middlePower))).toBeLessThan(estimate.powerUncertainty);
    expect(estimate.outsideData).toBe(mm < 57);
  });
});
