import { describe, expect, test } from 'vitest';
import { airAt, standardPressure, standardTemperature } from '../../packages/language/src/physics/air.ts';
import { percent, record, worst } from '../agreement.ts';
import { MOIST_AIR, STANDARD_ATMOSPHERE } from '../reference/atmosphere.ts';

describe('U.S. Standard Atmosphere 1976, Table I, and ISO 2533', () => {
  test.each(STANDARD_ATMOSPHERE)(
    '%d m: %d K, %d Pa, %d kg/m³ to four digits (%s)',
    (altitude, temperature, _, density) => {
      const air = airAt({ altitude });
      // Four significant digits of a printed table: half a unit in the fourth, and the table's own rounding.
      expect(Math.abs(air.density / density - 1)).toBeLessThan(1.5e-4);
      expect(air.speedOfSound).toBeCloseTo(Math.sqrt(1.4 * 287.05287 * temperature), 1);
    },
  );

  test('the tropopause in geopotential metres: 216.65 K and 22632 Pa', () => {
    expect(standardTemperature(11_000)).toBeCloseTo(216.65, 10);
    expect(standardPressure(11_000)).toBeCloseTo(22_632, -0.5);
    // 20 km, isothermal above 11 km: 5474.9 Pa (ISO 2533, from memory).
    expect(standardPressure(20_000) / 5474.9 - 1).toBeCloseTo(0, 4);
  });

  test('speed of sound at sea level is 340.294 m/s', () => {
    expect(airAt({ altitude: 0 }).speedOfSound).toBeCloseTo(340.294, 2);
  });
});

describe('moist air, published examples', () => {
  test.each(MOIST_AIR)(
    '%d °C, %d Pa, humidity %d: %d kg/m³ within 0.1 %%',
    (celsius, pressure, relativeHumidity, density) => {
      // Density scales with pressure but for the vapour: take the altitude at which the standard pressure is the example's.
      let low = -1000;
      let high = 5000;
      for (let i = 0; i < 60; i++) {
        const middle = (low + high) / 2;
        if (standardPressure((6356766 * middle) / (6356766 + middle)) > pressure) low = middle;
        else high = middle;
      }
      const air = airAt({ altitude: low, temperature: celsius + 273.15, relativeHumidity });
      expect(Math.abs(air.density / density - 1)).toBeLessThan(1e-3);
    },
  );
});

test('agreement of the air with its tables', () => {
  const density = worst(
    STANDARD_ATMOSPHERE.map(([altitude, , , density]) => airAt({ altitude }).density / density - 1),
  );
  record({
    id: 'air',
    check: `density of the air at ${STANDARD_ATMOSPHERE.length} altitudes, 0 to 11 km`,
    source: 'U.S. Standard Atmosphere 1976, Table I; ISO 2533:1975',
    standing: 'read, in part from memory',
    suite: 'test/physics/air.test.ts',
    found: `largest difference ${percent(density)}`,
  });
});
