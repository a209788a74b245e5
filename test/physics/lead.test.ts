import { describe, expect, test } from 'vitest';
import {
  adiabaticRise,
  copperFactor,
  gaugeArea,
  gaugeDiameter,
  leadPairResistance,
} from '../../packages/language/src/physics/lead.ts';
import { percent, record, worst } from '../agreement.ts';
import { FUSING_IN_ONE_SECOND, WIRE_HANDBOOK, WIRE_TABLE } from '../reference/wire.ts';

describe('ASTM B258 wire gauges', () => {
  test.each(WIRE_TABLE)('%d AWG: %d mm, %d ohm/km at 20 °C', (gauge, diameter, perKilometre) => {
    expect(gaugeDiameter(gauge) * 1000).toBeCloseTo(diameter, 4);
    // Out and back over half a kilometre is one kilometre of wire.
    expect(leadPairResistance(gaugeArea(gauge), 500, 293.15) / perKilometre).toBeCloseTo(1, 4);
  });

  test.each(WIRE_HANDBOOK)('%d AWG: %d ohm per 1000 ft (NBS Handbook 100, from memory)', (gauge, perThousandFeet) => {
    const resistance = leadPairResistance(gaugeArea(gauge), 152.4, 293.15);
    expect(Math.abs(resistance / perThousandFeet - 1)).toBeLessThan(6e-4);
  });

  test('copper at 80 °C measures 1.2358 times its value at 20 °C (IEC 60028)', () => {
    expect(copperFactor(353.15)).toBeCloseTo(1.2358, 4);
    expect(copperFactor(273.15)).toBeCloseTo(0.9214, 4);
    const [warm, cold] = [353.15, 293.15].map((temperature) => leadPairResistance(1e-6, 1, temperature));
    expect((warm ?? 0) / (cold ?? 0)).toBeCloseTo(1.2358, 4);
  });
});

describe('adiabatic rise', () => {
  test.each(FUSING_IN_ONE_SECOND)("%d AWG melts within a second at %d A (Onderdonk's formula)", (gauge, current) => {
    // Two published formulas with constants of their own agree within 4 % in the rise.
    const end = 25 + adiabaticRise(current, gaugeArea(gauge), 1, 298.15);
    expect(Math.abs(end / 1083 - 1)).toBeLessThan(0.04);
  });

  test('small rises follow I²R·t over the heat capacity of the copper', () => {
    // 3.45 MJ/(m³ K), a handbook value from memory: 20 A for 1 s through 0.5 mm².
    const area = 0.5e-6;
    const expected = 20 ** 2 / 58e6 / area ** 2 / 3.45e6;
    expect(Math.abs(adiabaticRise(20, area, 1, 293.15) / expected - 1)).toBeLessThan(0.03);
  });
});

test('agreement of leads with their tables', () => {
  const table = worst(
    WIRE_TABLE.map(([gauge, , perKilometre]) => leadPairResistance(gaugeArea(gauge), 500, 293.15) / perKilometre - 1),
  );
  const melting = worst(
    FUSING_IN_ONE_SECOND.map(
      ([gauge, current]) => (25 + adiabaticRise(current, gaugeArea(gauge), 1, 298.15)) / 1083 - 1,
    ),
  );
  record({
    id: 'lead',
    check: `resistance of copper, ${WIRE_TABLE.length} gauges; heat of a burst against melting in one second`,
    source: 'ASTM B258, IEC 60028, IEC 60949; Onderdonk’s formula',
    standing: 'computed',
    suite: 'test/physics/lead.test.ts',
    found: `resistance within ${percent(table)}; temperature at melting within ${percent(melting)}`,
  });
});
