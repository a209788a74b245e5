import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { solveBus } from '../../packages/language/src/physics/circuit.ts';
import { type Craft, isImpossible, type OperatingPoint } from '../../packages/language/src/physics/craft.ts';
import { burst, flightEndurance, fullDuty, hover, weight } from '../../packages/language/src/physics/flight.ts';
import { noWork } from '../../packages/language/src/physics/work.ts';
import { below, record } from '../agreement.ts';
import { plausibleCraft, stateOfCharge } from './plausible-craft.ts';
import { coaxialCraft, ductedCraft } from './sample-craft.ts';
import { type SpiceCase, type SpicePoint, startSpice } from './spice.ts';

describe('a source with resistance and a load of constant power', () => {
  // Elementary: I = (E − √(E² − 4RP))/2R, none above E²/4R. Values computed, and checked with ngspice to 1e-9.
  const rows: readonly (readonly [number, number])[] = [
    [10, 8.352108],
    [50, 8.154744],
    [100, 7.893237],
    [200, 7.304835],
    [400, 5.480625],
  ];
  test.each(rows)('%d W on 8.4 V behind 40 mΩ', (power, voltage) => {
    expect(solveBus(8.4, 0.04, (volts) => power / volts)).toBeCloseTo(voltage, 6);
  });

  test('just below the most that the source can give', () => {
    const power = 441 * (1 - 1e-6);
    const exact = 4.2 * (1 + Math.sqrt(1e-6));
    expect(solveBus(8.4, 0.04, (volts) => power / volts)).toBeCloseTo(exact, 9);
  });

  test.each([442, 500, 5000])('%d W is more than it can give, by the difference to E²/4R', (power) => {
    const result = solveBus(8.4, 0.04, (volts) => power / volts);
    expect(result).toMatchObject({ impossible: 'power' });
    expect((result as { shortfall: number }).shortfall).toBeCloseTo(power - 441, 4);
  });

  test('a resistive load that pulls the source below half its voltage counts as a collapse', () => {
    expect(solveBus(8, 1, (volts) => volts / 1.01)).toBeCloseTo(8 / (1 + 1 / 1.01), 10);
    expect(solveBus(8, 1, (volts) => volts / 0.99)).toMatchObject({ impossible: 'power' });
  });

  test('no load, no sag', () => {
    expect(solveBus(8.4, 0.04, () => 0)).toBe(8.4);
  });

  test('a load that falls away below a voltage is found on its upper branch', () => {
    // 10 A above 7 V, 2 A below: 8.4 − 0.1·10 = 7.4 V.
    expect(solveBus(8.4, 0.1, (volts) => (volts > 7 ? 10 : 2))).toBeCloseTo(7.4, 12);
  });
});

describe('random craft against ngspice', () => {
  const builds = Number(process.env.FETTLE_SPICE_BUILDS ?? 300);
  let solveWithSpice: (given: SpiceCase) => Promise<SpicePoint | undefined>;
  beforeAll(async () => {
    solveWithSpice = await startSpice();
  });

  test.each(['hover', 'full duty'] as const)(
    'bus voltage, motor and total current within 0.1 %, %s',
    async (point) => {
      const cases = fc.sample(fc.tuple(plausibleCraft, stateOfCharge), { numRuns: 2 * builds, seed: 20_240_611 });
      let compared = 0;
      let unanswered = 0;
      let withRails = 0;
      let worst = 0;
      for (const [craft, charge] of cases) {
        if (compared === builds) break;
        const ours = point === 'hover' ? hover(craft, charge) : fullDuty(craft, charge);
        if (isImpossible(ours)) continue;
        const thrust = point === 'hover' ? weight(craft) : undefined;
        const theirs = await solveWithSpice({ craft, stateOfCharge: charge, thrust });
        if (!theirs) {
          unanswered++;
          continue;
        }
        compared++;
        if (craft.rails.length > 0) withRails++;
        const error = largestDifference(ours, theirs);
        worst = Math.max(worst, error);
        expect(error, JSON.stringify({ craft, charge, ours, theirs })).toBeLessThan(1e-3);
      }
      console.log(
        `${point}: ${compared} builds compared, ${withRails} with rails, largest difference ${worst.toExponential(1)}; ngspice left ${unanswered} unanswered`,
      );
      expect(compared).toBe(builds);
      if (process.env.FETTLE_SPICE_BUILDS === undefined) {
        record({
          id: `circuit, ${point}`,
          check: `bus voltage, currents, duty and rails of ${builds} random builds at ${point}, ${withRails} with rails`,
          source: 'ngspice, an independent circuit simulator, on the same circuit',
          standing: 'computed',
          suite: 'test/physics/circuit.test.ts',
          found: `largest relative difference ${below(worst)}`,
        });
      }
      expect(unanswered).toBeLessThanOrEqual(0.02 * builds);
      expect(withRails).toBeGreaterThan(0.4 * builds);
    },
    3_600_000,
  );
});

function largestDifference(ours: OperatingPoint, theirs: SpicePoint): number {
  const relative = (a: number, b: number): number => Math.abs(a - b) / Math.max(1e-9, Math.abs(b));
  return Math.max(
    relative(ours.busVoltage, theirs.busVoltage),
    relative(ours.packCurrent, theirs.packCurrent),
    ...ours.rotors.map((rotor, i) => relative(rotor.motorCurrent, theirs.motorCurrents[i] as number)),
    ...ours.rotors.map((rotor) => relative(rotor.duty, theirs.duty)),
    ...ours.rails.map((rail, i) => relative(rail.voltage, theirs.railVoltages[i] as number)),
  );
}

test('the solvers do the work they did when this was written, no more', () => {
  const counts = (craft: Craft): string[] =>
    Object.entries({ hover, burst, fullDuty }).map(([name, point]) => {
      const work = noWork();
      point(craft, 0.6, work);
      return `${name}: bus ${work.busEvaluations}, speeds ${work.speedEvaluations}`;
    });
  const wholeFlight = (craft: Craft): string => {
    const work = noWork();
    flightEndurance(craft, work);
    return `flight: bus ${work.busEvaluations}, speeds ${work.speedEvaluations}`;
  };
  const [ducted, coaxial] = [ductedCraft(), coaxialCraft()];
  expect([...counts(ducted), wholeFlight(ducted)]).toMatchInlineSnapshot(`
    [
      "hover: bus 4, speeds 0",
      "burst: bus 9, speeds 16",
      "fullDuty: bus 5, speeds 16",
      "flight: bus 66, speeds 0",
    ]
  `);
  expect([...counts(coaxial), wholeFlight(coaxial)]).toMatchInlineSnapshot(`
    [
      "hover: bus 4, speeds 24",
      "burst: bus 9, speeds 62",
      "fullDuty: bus 5, speeds 34",
      "flight: bus 123, speeds 321",
    ]
  `);
});
