/** Laws of every plausible craft in flight: numbers or a reason, monotone where physics is. */
import fc from 'fast-check';
import { describe, expect, test, vi } from 'vitest';
import { packRestingVoltage } from '../../packages/language/src/physics/chemistry.ts';
import {
  type Craft,
  type Impossible,
  isImpossible,
  type OperatingPoint,
} from '../../packages/language/src/physics/craft.ts';
import {
  atRest,
  burst,
  flightEndurance,
  fullDuty,
  hover,
  hoverEndurance,
  lastSafeCharge,
} from '../../packages/language/src/physics/flight.ts';
import { plausibleCraft, stateOfCharge } from './plausible-craft.ts';
import { ductedCraft, possible } from './sample-craft.ts';

/** The same few hundred each time; on demand many more, other ones each time. */
const demanded = process.env.FETTLE_RANDOM_BUILDS;
const RUNS = demanded ? { numRuns: Number(demanded) } : { numRuns: 300, seed: 20_240_611 };
if (demanded) vi.setConfig({ testTimeout: 3_600_000 });
const anyCharge = fc.double({ min: 0, max: 1, noNaN: true });

describe('results are numbers, or a reason', () => {
  const finite = (value: unknown): boolean => {
    if (typeof value === 'number') return Number.isFinite(value);
    if (typeof value === 'object' && value !== null) return Object.values(value).every(finite);
    return value !== undefined;
  };

  test('no NaN and no infinity for any plausible craft at any charge', () => {
    fc.assert(
      fc.property(plausibleCraft, anyCharge, (craft, charge) => {
        for (const point of [hover, burst, fullDuty, atRest]) {
          const result = point(craft, charge);
          expect(finite(result), JSON.stringify(result)).toBe(true);
          if (isImpossible(result)) expect(result.shortfall).toBeGreaterThan(0);
        }
        for (const time of [hoverEndurance(craft), flightEndurance(craft)]) {
          expect(finite(time), JSON.stringify(time)).toBe(true);
          if (!isImpossible(time)) expect(time.time).toBeGreaterThanOrEqual(0);
        }
      }),
      RUNS,
    );
  });

  test('a craft too heavy for its rotors lacks thrust; without the missing newtons it hovers', () => {
    const craft = ductedCraft({ mass: 0.43, loads: [] });
    const result = hover(craft, 0.5);
    expect(result).toMatchObject({ impossible: 'thrust' });
    const missing = (result as Impossible).shortfall / 9.80665;
    expect(isImpossible(hover({ ...craft, mass: craft.mass - missing * 1.000001 }, 0.5))).toBe(false);
    expect(isImpossible(hover({ ...craft, mass: craft.mass - missing * 0.999999 }, 0.5))).toBe(true);
    // What does not depend on it still computes.
    expect(isImpossible(fullDuty(craft, 0.5))).toBe(false);
  });

  test('a pack too weak for the required power reports how many watts are missing', () => {
    const weak = ductedCraft({ pack: { ...ductedCraft().pack, positionResistance: 0.3 } });
    expect(hover(weak, 0.5)).toMatchObject({ impossible: 'power' });
    expect(hoverEndurance(weak)).toMatchObject({ impossible: 'power' });
  });
});

describe('monotone where physics is', () => {
  const craftAndCharge = fc.tuple(plausibleCraft, stateOfCharge);
  const moved = (craft: Craft, motor: (resistance: number) => number): Craft => ({
    ...craft,
    rotors: craft.rotors.map((group) => ({
      ...group,
      motor: { ...group.motor, resistance: motor(group.motor.resistance) },
    })),
  });

  test('heavier: more hover duty, and more current but where ripple rules', () => {
    fc.assert(
      fc.property(craftAndCharge, ([craft, charge]) => {
        const [light, heavy] = [hover(craft, charge), hover({ ...craft, mass: craft.mass * 1.01 }, charge)];
        fc.pre(!isImpossible(light) && !isImpossible(heavy));
        heavy.rotors.forEach((rotor, i) => {
          expect(rotor.duty).toBeGreaterThan(light.rotors[i]?.duty ?? 0);
        });
        // Above half duty the ripple falls as the duty grows; where it is most of the power, so can the current.
        const rippling = light.rotors.some(({ rippleLoss, shaftPower }) => rippleLoss > 0.1 * shaftPower);
        if (!rippling && craft.partDutyPowerFactor < 1.1) expect(heavy.packCurrent).toBeGreaterThan(light.packCurrent);
      }),
      RUNS,
    );
  });

  test('more resistance in motor, cells or lead: less full-duty thrust', () => {
    fc.assert(
      fc.property(craftAndCharge, ([craft, charge]) => {
        const { pack } = craft;
        const before = fullDuty(craft, charge);
        fc.pre(!isImpossible(before));
        for (const worse of [
          moved(craft, (resistance) => resistance * 1.05),
          { ...craft, pack: { ...pack, positionResistance: pack.positionResistance * 1.05 } },
          { ...craft, pack: { ...pack, leadResistance: pack.leadResistance * 1.05 } },
        ]) {
          const after = fullDuty(worse, charge);
          if (!isImpossible(after)) expect(after.thrust).toBeLessThan(before.thrust);
        }
      }),
      RUNS,
    );
  });

  test('a fuller pack: higher bus voltage in hover, more full-duty thrust; a burst never beyond full duty', () => {
    fc.assert(
      fc.property(plausibleCraft, stateOfCharge, (craft, charge) => {
        const [low, high] = [hover(craft, charge * 0.9), hover(craft, charge)];
        fc.pre(!isImpossible(low) && !isImpossible(high));
        expect(high.busVoltage).toBeGreaterThan(low.busVoltage);
        const [weak, strong] = [fullDuty(craft, charge * 0.9), fullDuty(craft, charge)];
        fc.pre(!isImpossible(weak) && !isImpossible(strong));
        expect(strong.thrust).toBeGreaterThan(weak.thrust);
        expect(possible(burst(craft, charge)).thrust).toBeLessThanOrEqual(strong.thrust * (1 + 1e-9));
      }),
      RUNS,
    );
  });

  test('small changes give small, even changes: two step sizes agree on the derivative', () => {
    fc.assert(
      fc.property(craftAndCharge, ([craft, charge]) => {
        const current = (result: OperatingPoint | Impossible): number | undefined =>
          isImpossible(result) ? undefined : result.packCurrent;
        const slope = (step: number): number | undefined => {
          const above = current(hover({ ...craft, mass: craft.mass * (1 + step) }, charge));
          const below = current(hover({ ...craft, mass: craft.mass * (1 - step) }, charge));
          return above === undefined || below === undefined ? undefined : (above - below) / step;
        };
        const [fine, coarse] = [slope(1e-6), slope(1e-4)];
        fc.pre(fine !== undefined && coarse !== undefined);
        // Where the pack is about to collapse, or a rail to drop out between the steps, the curve bends.
        const tolerance =
          possible(hover(craft, charge)).busVoltage < 0.75 * packRestingVoltage(craft.pack, charge) ? 0.05 : 2e-3;
        const rails = possible(hover(craft, charge)).rails.some(({ droppedOut }) => droppedOut);
        if (!rails) expect(Math.abs(fine / coarse - 1)).toBeLessThan(tolerance);
      }),
      RUNS,
    );
  });
});

describe('the last safe charge of a supply', () => {
  const supplies = fc.tuple(plausibleCraft, fc.double({ min: 0.6, max: 0.98, noNaN: true }), fc.nat(3));

  test.each(['hover', 'burst'] as const)('above it the supply suffices in %s, below it does not', (kind) => {
    fc.assert(
      fc.property(supplies, ([craft, share, which]) => {
        const source = which < craft.rails.length ? which : 'bus';
        const solve = kind === 'hover' ? hover : burst;
        const volts = (charge: number): number => {
          const point = solve(craft, charge);
          if (isImpossible(point)) return 0;
          return source === 'bus' ? point.busVoltage : (point.rails[source]?.voltage ?? 0);
        };
        const minimum =
          share * (source === 'bus' ? packRestingVoltage(craft.pack, 1) : (craft.rails[source]?.output ?? 0));
        const safe = lastSafeCharge(craft, source, minimum, kind);
        if (safe === undefined) {
          expect(volts(1)).toBeLessThan(minimum);
          return;
        }
        const margin = 1e-6;
        if (safe + margin <= 1) expect(volts(safe + margin)).toBeGreaterThanOrEqual(minimum * (1 - 1e-9));
        if (safe - margin >= 0) expect(volts(safe - margin)).toBeLessThan(minimum);
      }),
      RUNS,
    );
  });

  test('a load that needs 3.5 V per cell straight off the pack browns out in bursts towards the end (common practice)', () => {
    const craft = ductedCraft();
    const needed = 3.5 * craft.pack.cellsInSeries;
    const inBurst = lastSafeCharge(craft, 'bus', needed, 'burst') ?? 1;
    const inHover = lastSafeCharge(craft, 'bus', needed, 'hover') ?? 1;
    expect(inBurst).toBeGreaterThan(0.2);
    expect(inHover).toBeLessThan(inBurst);
    // A regulated rail of the same board cures it.
    expect(lastSafeCharge(craft, 0, 4.75, 'burst')).toBeLessThan(0.1);
    const oneCellMore = { ...craft, pack: { ...craft.pack, cellsInSeries: craft.pack.cellsInSeries + 1 } };
    expect(lastSafeCharge(oneCellMore, 'bus', needed, 'burst')).toBeLessThan(0.1);
  });
});
