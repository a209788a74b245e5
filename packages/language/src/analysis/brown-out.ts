/** When a load's supply falls below what it needs. */
import { packRestingVoltage } from '../physics/chemistry.ts';
import type { Craft, Impossible, Load, OperatingPoint } from '../physics/craft.ts';
import { hover, lastSafeCharge, weight } from '../physics/flight.ts';
import { currentAtVoltage, sourceResistance } from '../physics/operating-point.ts';
import { type Electronics, electronics, type LoadLevel, requiredBusVoltage } from '../physics/rails.ts';
import { type Drive, drivesAtThrust } from '../physics/rotor.ts';

/** The highest state of charge at which a load gets less than its minimum: 1 from the start, undefined never before empty. */
export interface BrownOut {
  readonly inHover: number | undefined;
  readonly inBurst: number | undefined;
  /** Hover at the charge at which a burst browns it out: what a pilot reads then. */
  readonly hoverAtBurst?: OperatingPoint | Impossible;
}

const POINTS = ['hover', 'burst'] as const;
type FlightPoint = (typeof POINTS)[number];

const brownOut = (craft: Craft, inHover: number | undefined, inBurst: number | undefined): BrownOut => ({
  inHover,
  inBurst,
  ...(inBurst !== undefined && { hoverAtBurst: hover(craft, inBurst) }),
});

/** One a load. */
export function brownOutsOf(craft: Craft): BrownOut[] {
  return craft.loads.map((load) => brownOut(craft, firstBelow(craft, load, 'hover'), firstBelow(craft, load, 'burst')));
}

function firstBelow(craft: Craft, { from, minimumVoltage }: Load, point: FlightPoint): number | undefined {
  if (minimumVoltage === undefined) return undefined;
  const lowestSafe = lastSafeCharge(craft, from, minimumVoltage, point);
  if (lowestSafe === undefined) return 1;
  return lowestSafe === 0 ? undefined : lowestSafe;
}

/**
 * The same for a craft that differs so little from a known one that only the first order counts: the charge moves by the change
 * of the bus voltage's margin over that margin's slope.
 */
export function brownOutsNear(craft: Craft, near: Craft, known: readonly BrownOut[]): readonly BrownOut[] {
  if (known.every(({ inHover, inBurst }) => inHover === undefined && inBurst === undefined)) return known;
  const margins = { hover: marginsOf(craft, 'hover'), burst: marginsOf(craft, 'burst') };
  const nearMargins = { hover: marginsOf(near, 'hover'), burst: marginsOf(near, 'burst') };
  const moved = (load: Load, nearLoad: Load, charge: number | undefined, point: FlightPoint): number | undefined => {
    if (charge === undefined || charge === 1) return charge;
    const before = nearMargins[point](nearLoad);
    const after = margins[point](load);
    if (!before || !after || Math.abs(before(charge)) > SETTLED) return firstBelow(craft, load, point);
    const slope = (before(charge + SLOPE_STEP) - before(charge - SLOPE_STEP)) / (2 * SLOPE_STEP);
    return charge - (after(charge) - before(charge)) / slope;
  };
  return known.map(({ inHover, inBurst }, i) => {
    const load = craft.loads[i] as Load;
    const nearLoad = near.loads[i] as Load;
    return brownOut(craft, moved(load, nearLoad, inHover, 'hover'), moved(load, nearLoad, inBurst, 'burst'));
  });
}

/** A margin of less than this, V, is a bus that stands where the load just works; more, and something else ends it. */
const SETTLED = 1e-9;
const SLOPE_STEP = 1e-5;

/** By how much the bus stands above what a load needs, V, over the state of charge; undefined where it is never enough. */
function marginsOf(craft: Craft, point: FlightPoint): (load: Load) => ((charge: number) => number) | undefined {
  const level: LoadLevel = point === 'hover' ? 'draw' : 'peak';
  const multiple = point === 'hover' ? 1 : craft.burstMultiple;
  let supplied: Electronics | undefined;
  let drives: readonly Drive[] | undefined;
  return ({ from, minimumVoltage }) => {
    const needed = minimumVoltage === undefined ? undefined : requiredBusVoltage(craft, from, minimumVoltage);
    if (needed === undefined || needed <= 0) return undefined;
    supplied ??= electronics(craft, level);
    drives ??= drivesAtThrust(craft, multiple * weight(craft));
    const current = currentAtVoltage(craft, drives, needed, supplied);
    return (charge) => packRestingVoltage(craft.pack, charge) - current * sourceResistance(craft, charge) - needed;
  };
}
