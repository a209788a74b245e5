import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  RESISTANCE_GROWTH,
  restingVoltageOffset,
} from '../../packages/language/src/analysis/uncertainty/model-form.ts';
import {
  coldFactor,
  packCellResistance,
  packRestingVoltage,
  resistanceGrowth,
  restingVoltage,
  wornFactor,
} from '../../packages/language/src/physics/chemistry.ts';
import type { Chemistry } from '../../packages/language/src/physics/craft.ts';
import { percent, record, worst } from '../agreement.ts';
import { ductedCraft } from './sample-craft.ts';

const CHEMISTRIES: readonly Chemistry[] = ['lipo', 'lihv', 'liion'];
const charge = fc.double({ min: 0, max: 1, noNaN: true });

describe('resting voltage', () => {
  /**
   * M. Chen and G. A. Rincón-Mora, IEEE Trans. Energy Conversion 21 (2006) 504, eq. (2), a polymer cell charged to 4.10 V.
   * Coefficients read from two public scripts that agree.
   */
  const chenRinconMora = (z: number): number =>
    -1.031 * Math.exp(-35 * z) + 3.685 + 0.2156 * z - 0.1178 * z ** 2 + 0.3201 * z ** 3;

  test('follows the published curve of a polymer cell within 0.1 V from 10 % to full, in the same form', () => {
    for (let z = 0.1; z <= 1; z += 0.05) {
      expect(Math.abs(restingVoltage('lipo', z) - chenRinconMora(z))).toBeLessThan(0.1);
    }
    const charges = Array.from({ length: 19 }, (_, i) => 0.1 + 0.05 * i);
    const largest = worst(charges.map((z) => restingVoltage('lipo', z) - chenRinconMora(z)));
    record({
      id: 'pack-voltage',
      check: 'resting voltage of a polymer cell over its charge, 10 % to full',
      source: 'M. Chen and G. A. Rincón-Mora, IEEE Trans. Energy Conversion 21 (2006) 504, eq. (2)',
      standing: 'read',
      suite: 'test/physics/chemistry.test.ts',
      found: `largest difference ${largest.toFixed(2)} V (that cell was charged to 4.10 V)`,
    });
    // A plateau in the middle, a cliff at the end: the slope below 5 % is more than six times that at 40 %.
    const slope = (curve: (z: number) => number, z: number): number => (curve(z + 0.01) - curve(z - 0.01)) / 0.02;
    const ours = (z: number): number => restingVoltage('lipo', z);
    for (const curve of [ours, chenRinconMora]) expect(slope(curve, 0.03) / slope(curve, 0.4)).toBeGreaterThan(6);
  });

  test.each(CHEMISTRIES)('%s rises with charge, smoothly', (chemistry) => {
    fc.assert(
      fc.property(charge, charge, (a, b) => {
        const [low, high] = a < b ? [a, b] : [b, a];
        expect(restingVoltage(chemistry, high)).toBeGreaterThanOrEqual(restingVoltage(chemistry, low));
      }),
    );
    for (let z = 0.01; z < 0.99; z += 0.01) {
      const h = 1e-6;
      const left = (restingVoltage(chemistry, z) - restingVoltage(chemistry, z - h)) / h;
      const right = (restingVoltage(chemistry, z + h) - restingVoltage(chemistry, z)) / h;
      expect(Math.abs(right - left)).toBeLessThan(0.01);
    }
  });

  test('full cells: 4.20 V, high-voltage ones 4.35 V', () => {
    const full = CHEMISTRIES.map((chemistry) => restingVoltage(chemistry, 1).toFixed(6));
    expect(full).toEqual(['4.200000', '4.350000', '4.200000']);
  });

  /**
   * M. Ecker et al., J. Electrochem. Soc. 162 (2015) A1849, a nickel-cobalt cell of 7.5 Ah (7.74 Ah at low current): charge drawn
   * (Ah), volts at 1C and at 5C. Read from public data; the resting volts are what is left at no current on a straight line.
   */
  test('round cells lie about the typical curve as its ± states, not as pouch cells do', () => {
    const rows = [
      [0.5, 4.0237, 3.7875],
      [1, 3.9558, 3.709],
      [2, 3.8448, 3.6166],
      [3, 3.7516, 3.5496],
      [4, 3.6999, 3.4953],
      [5, 3.657, 3.4084],
      [6, 3.5293, 3.2877],
      [6.5, 3.462, 3.1966],
    ] as const;
    const off = rows.map(([drawn, at1C, at5C]) => {
      const resting = at1C + (at1C - at5C) / 4;
      return Math.abs(restingVoltage('liion', 1 - drawn / 7.74) - resting);
    });
    const plusMinus = (chemistry: Chemistry) => 2 * restingVoltageOffset(chemistry).standardUncertainty;
    const within = (limit: number) => off.filter((one) => one <= limit).length;
    expect(within(plusMinus('liion'))).toBeGreaterThanOrEqual(6);
    expect(Math.max(...off)).toBeLessThan(1.3 * plusMinus('liion'));
    expect(within(plusMinus('lipo'))).toBeLessThan(4);
  });

  test("a pack's offset counts whole up to 90 % and not at all when full", () => {
    const { pack } = ductedCraft();
    const shift = (z: number): number =>
      packRestingVoltage({ ...pack, restingOffset: 0.03 }, z) - packRestingVoltage(pack, z);
    expect(shift(0)).toBeCloseTo(0.06, 12);
    expect(shift(0.2)).toBeCloseTo(0.06, 12);
    expect(shift(0.9)).toBeCloseTo(0.06, 12);
    expect(shift(1)).toBeCloseTo(0, 12);
  });

  test('where the charger stops counts whole when full and not at all below 90 %', () => {
    const { pack } = ductedCraft();
    const shift = (z: number): number =>
      packRestingVoltage({ ...pack, chargeOffset: 0.02 }, z) - packRestingVoltage(pack, z);
    expect(shift(1)).toBeCloseTo(0.02 * pack.cellsInSeries, 12);
    expect(shift(0.95)).toBeCloseTo(0.01 * pack.cellsInSeries, 12);
    for (const z of [0.9, 0.5, 0]) expect(shift(z)).toBe(0);
  });
});

describe('resistance', () => {
  /**
   * W. Ai et al., J. Electrochem. Soc. 167 (2020) 013512, pouch cell of 2.28 Ah: effective resistance at 2C (mΩ) over the charge
   * left. Read from public data, differences of the 0.1C and 2C curves.
   */
  const rows: readonly (readonly [number, number])[] = [
    [0.9, 55.63],
    [0.8, 58.82],
    [0.6, 60],
    [0.5, 62.74],
    [0.4, 67.08],
    [0.3, 72.51],
    [0.2, 78.19],
    [0.1, 90.33],
    [0.05, 109.56],
  ];
  test.each(rows)('at %d of the charge grows as published within 10 %% (%d mΩ)', (z, measured) => {
    expect(Math.abs(resistanceGrowth('lipo', z) / (measured / 60) - 1)).toBeLessThan(0.1);
  });

  test('agreement of the growth with the published rows', () => {
    record({
      id: 'pack-resistance',
      check: `growth of a pouch cell’s resistance towards empty, ${rows.length} states of charge`,
      source: 'W. Ai et al., J. Electrochem. Soc. 167 (2020) 013512, differences of the 0.1C and 2C curves',
      standing: 'read',
      suite: 'test/physics/chemistry.test.ts',
      found: `largest difference ${percent(worst(rows.map(([z, measured]) => resistanceGrowth('lipo', z) / (measured / 60) - 1)))}`,
    });
  });

  /**
   * M. Ecker et al., J. Electrochem. Soc. 162 (2015) A1849, cell with a nickel-cobalt cathode, 7.74 Ah down to 2.77 V: effective
   * resistance (mΩ) at a charge drawn (Ah), the difference of the 1C and 5C curves. Read from public data.
   */
  const nickelRows = [
    [0.5, 7.871],
    [1, 8.226],
    [2, 7.608],
    [3, 6.733],
    [4, 6.823],
    [5, 8.287],
    [6, 8.053],
    [6.5, 8.848],
  ] as const;
  test.each(nickelRows)('round cells: after %d Ah of 7.74 within 20 %% of the published %d mΩ', (drawn, measured) => {
    expect(Math.abs(resistanceGrowth('liion', 1 - drawn / 7.74) / (measured / 6.733) - 1)).toBeLessThan(0.2);
  });

  test('round cells grow less steeply than pouches towards empty', () => {
    for (const z of [0, 0.05, 0.1, 0.2]) expect(resistanceGrowth('liion', z)).toBeLessThan(resistanceGrowth('lipo', z));
  });

  test('the ± on the growth covers what one pouch cell shows from 0.5C to 2C, and none at 60 %', () => {
    const { pack } = ductedCraft();
    const at = (z: number, power: number) => packCellResistance({ ...pack, resistanceGrowthShare: power }, z);
    const { value, standardUncertainty: u } = RESISTANCE_GROWTH;
    for (const [z, half, twice] of [
      [0.2, 88.05, 78.19],
      [0.1, 114.25, 90.33],
      [0.05, 162.39, 109.56],
    ] as const) {
      // Rows of W. Ai et al. at this charge drawn, over those at 60 % (64.69 and 60 mΩ).
      expect(at(z, value + 2 * u) / at(0.6, 1)).toBeGreaterThan(half / 64.69);
      expect(at(z, value - 2 * u) / at(0.6, 1)).toBeLessThan(twice / 60);
    }
    expect(at(0.6, 1.4)).toBe(at(0.6, 0.6));
  });

  test('cold and worn packs (common practice): twice at about 0 °C, half as much again per hundred cycles', () => {
    expect(coldFactor(273.15)).toBeCloseTo(2.15, 2);
    expect(coldFactor(298.15)).toBe(1);
    expect(wornFactor(0)).toBe(1);
    expect(wornFactor(200)).toBeCloseTo(2.25, 12);
  });
});
