/**
 * How long a pack lasts: pack current integrated over the discharge, and the state of charge at which a flight must end.
 *
 * Time = Q·∫ dz / I(z) from take-off to the end, with the whole circuit solved anew at every node. The pack keeps one
 * temperature over a flight, and does not recover between bursts.
 */
import { CHARGE_KNOTS, packRestingVoltage } from './chemistry.ts';
import { type Craft, type FlightPhase, type Impossible, isImpossible } from './craft.ts';
import {
  busUpToDutyLimit,
  busWithinDutyLimit,
  currentAtVoltage,
  pointAtDutyLimit,
  pointAtRest,
  pointAtThrust,
  settledCurrent,
  sourceResistance,
} from './operating-point.ts';
import { electronics, type LoadLevel, requiredBusVoltage } from './rails.ts';
import { risingRoot } from './rising-root.ts';
import { type Drive, drivesAtThrust, highestAppliedVoltage } from './rotor.ts';
import type { SolverWork } from './work.ts';

export interface Endurance {
  /** In the air, s. */
  readonly time: number;
  /** From the full pack, ground time included, C. */
  readonly chargeUsed: number;
  /** 0 … 1 */
  readonly finalStateOfCharge: number;
  /** What ended it: the reserve, lack of power or thrust in hover, or a load's supply below its minimum. */
  readonly endedBy: 'reserve' | 'power' | 'thrust' | 'brown-out';
}

interface Phase {
  readonly share: number;
  readonly drives: readonly Drive[];
}

/**
 * A flight from the full pack: time on the ground (s), then phases of flight to the reserve or the first brown-out.
 * Phases alternate quickly, so their currents average; one that demands more than full duty gets full duty, as a pilot would.
 * @param weight N; must be hovered throughout, whatever the phases are
 */
export function enduranceOf(
  craft: Craft,
  weight: number,
  mix: readonly FlightPhase[],
  groundTime: number,
  work?: SolverWork,
): Endurance | Impossible {
  const hovering = drivesAtThrust(craft, weight, work);
  if (busWithinDutyLimit(craft, 1, hovering, 'draw') === undefined) {
    const fresh = pointAtThrust(craft, 1, weight, 'draw', work);
    if (isImpossible(fresh)) return fresh;
  }

  const phases = mix.map(({ share, hoverMultiple }) => ({
    share,
    drives: hoverMultiple === 1 ? hovering : drivesAtThrust(craft, hoverMultiple * weight, work),
  }));
  const start = chargeAfterGround(craft, groundTime, work);
  const lowest = lowestFlyableCharge(craft, hovering, phases);
  const end = Math.min(start, lowest.stateOfCharge);
  const meanCurrent = meanCurrentOf(craft, phases, work);
  // Where a phase cannot be flown no time passes; beyond rounding that lies below the end.
  const secondsPerCoulomb = (charge: number): number => {
    const current = meanCurrent(charge);
    return current === undefined ? 0 : 1 / current;
  };
  return {
    time: craft.pack.capacity * integrateOverCharge(secondsPerCoulomb, end, start),
    chargeUsed: craft.pack.capacity * (1 - end),
    finalStateOfCharge: end,
    endedBy: lowest.endedBy,
  };
}

/** State of charge at take-off: electronics alone drain the pack first (midpoint rule; their current hardly changes). */
export function chargeAfterGround(craft: Craft, groundTime: number, work?: SolverWork): number {
  if (groundTime <= 0) return 1;
  const drain = (stateOfCharge: number): number => {
    const rest = pointAtRest(craft, stateOfCharge, work);
    return isImpossible(rest) ? 0 : (rest.packCurrent * groundTime) / craft.pack.capacity;
  };
  const halfway = Math.max(0, 1 - drain(1) / 2);
  return Math.max(0, 1 - drain(halfway));
}

/**
 * Pack current averaged over the phases, A, at a charge; undefined where the pack cannot feed one of them even at the duty limit.
 * What a phase draws at one charge is nearly what it draws at the next.
 */
function meanCurrentOf(
  craft: Craft,
  phases: readonly Phase[],
  work?: SolverWork,
): (charge: number) => number | undefined {
  const supplied = electronics(craft, 'draw');
  const powers: (number | undefined)[] = phases.map(() => undefined);
  return (charge) => {
    let sum = 0;
    for (let i = 0; i < phases.length; i++) {
      const { share, drives } = phases[i] as Phase;
      const voltage = busWithinDutyLimit(craft, charge, drives, 'draw', work, powers[i]);
      if (voltage === undefined) {
        const full = pointAtDutyLimit(craft, charge, 'draw', work);
        if (isImpossible(full)) return undefined;
        sum += share * full.packCurrent;
      } else {
        const current = settledCurrent(craft, charge, drives, supplied, voltage);
        powers[i] = voltage * current;
        sum += share * current;
      }
    }
    return sum;
  };
}

/** Gauss–Legendre with two points: the nodes lie at ± this on −1 … 1, with equal weights. */
const GAUSS_NODE = 1 / Math.sqrt(3);

/** Integral over the state of charge, piece by piece where the cells' curves are smooth. */
export function integrateOverCharge(value: (stateOfCharge: number) => number, from: number, to: number): number {
  let sum = 0;
  for (let i = 1; i < CHARGE_KNOTS.length; i++) {
    const low = Math.max(from, CHARGE_KNOTS[i - 1] as number);
    const high = Math.min(to, CHARGE_KNOTS[i] as number);
    if (high <= low) continue;
    const half = (high - low) / 2;
    const middle = low + half;
    sum += half * (value(middle - half * GAUSS_NODE) + value(middle + half * GAUSS_NODE));
  }
  return sum;
}

interface LowestCharge {
  readonly stateOfCharge: number;
  readonly endedBy: Endurance['endedBy'];
}

/**
 * The lowest state of charge, not looked for below the reserve, at which hover is possible, the pack feeds every phase, and no
 * load's supply falls below its minimum in any of them.
 */
function lowestFlyableCharge(craft: Craft, hovering: readonly Drive[], phases: readonly Phase[]): LowestCharge {
  const { reserve } = craft.pack;
  const hovers = busWithinDutyLimit(craft, reserve, hovering, 'draw') !== undefined;
  let lowest: LowestCharge = hovers
    ? { stateOfCharge: reserve, endedBy: 'reserve' }
    : lowestHoverCharge(craft, hovering);

  const others = phases.filter(({ drives }) => drives !== hovering);
  const fed = (charge: number): number =>
    others.every(({ drives }) => busUpToDutyLimit(craft, charge, drives, 'draw') !== undefined) ? 1 : -1;
  if (fed(lowest.stateOfCharge) < 0) lowest = { stateOfCharge: risingRoot(fed) ?? 1, endedBy: 'power' };

  const needed = highestNeed(craft);
  if (needed === undefined) return lowest;
  for (const { drives } of phases) {
    const held = Number.isFinite(needed) ? lowestChargeHolding(craft, drives, needed, 'draw') : undefined;
    const stateOfCharge = held ?? 1;
    if (stateOfCharge > lowest.stateOfCharge) lowest = { stateOfCharge, endedBy: 'brown-out' };
  }
  return lowest;
}

/**
 * Bus voltage, V, for the load that needs most: it browns out first, so that the others need no look. Infinite where no voltage is
 * enough for one, undefined where no load states what it needs.
 */
export function highestNeed(craft: Craft): number | undefined {
  let highest: number | undefined;
  for (const { from, minimumVoltage } of craft.loads) {
    if (minimumVoltage === undefined) continue;
    const needed = requiredBusVoltage(craft, from, minimumVoltage) ?? Number.POSITIVE_INFINITY;
    highest = Math.max(highest ?? 0, needed);
  }
  return highest;
}

/** The lowest state of charge at which rotors can be driven as in hover, given that a full pack can. */
export function lowestHoverCharge(craft: Craft, drives: readonly Drive[]): LowestCharge {
  const atDutyLimit = highestAppliedVoltage(drives) / craft.dutyLimit;
  const busVoltage = (charge: number, near?: number): number =>
    busWithinDutyLimit(craft, charge, drives, 'draw', undefined, near) ?? NO_VOLTAGE;
  const stateOfCharge = chargeReaching(craft, drives, atDutyLimit, 'draw', busVoltage) ?? 1;
  // A bus that is still above the duty limit at the end did not sink there: the pack collapsed.
  const collapsed = busVoltage(stateOfCharge) > atDutyLimit * (1 + SAME_VOLTAGE);
  return { stateOfCharge, endedBy: collapsed ? 'power' : 'thrust' };
}

/**
 * The lowest state of charge at which the bus still has a voltage (V) with rotors driven as given, or at the duty limit
 * where that is less: 0 where it has it until the pack is empty, undefined where it fails even on a full pack.
 */
export function lowestChargeHolding(
  craft: Craft,
  drives: readonly Drive[],
  voltage: number,
  level: LoadLevel,
): number | undefined {
  const busVoltage = (charge: number, near?: number): number =>
    busUpToDutyLimit(craft, charge, drives, level, near) ?? NO_VOLTAGE;
  return chargeReaching(craft, drives, voltage, level, busVoltage);
}

/** Below any bus voltage that could be requested. */
const NO_VOLTAGE = -1;

/** Two bus voltages this close, relatively, are one. */
const SAME_VOLTAGE = 1e-9;

/**
 * The lowest state of charge at which the solved bus voltage reaches a voltage (V). Held at that voltage the current is known, so
 * the charge follows without solving the circuit; one solution there decides whether it lies on the stable branch, and only if not
 * is the circuit solved at one charge after another.
 */
function chargeReaching(
  craft: Craft,
  drives: readonly Drive[],
  voltage: number,
  level: LoadLevel,
  busVoltage: (charge: number, near?: number) => number,
): number | undefined {
  if (voltage > 0) {
    const current = currentAtVoltage(craft, drives, voltage, electronics(craft, level));
    const charge = chargeAtVoltage(craft, voltage, current) ?? 1;
    const excess = busVoltage(charge, voltage * current) - voltage;
    if (charge === 0 && excess >= 0) return 0;
    if (Math.abs(excess) <= SAME_VOLTAGE * voltage) return charge;
  }
  return risingRoot((charge) => busVoltage(charge) - voltage);
}

/** State of charge at which the cells just keep the bus at a voltage (V, above zero) and a current (A), stable or not. */
function chargeAtVoltage(craft: Craft, voltage: number, current: number): number | undefined {
  return risingRoot(
    (charge) => packRestingVoltage(craft.pack, charge) - current * sourceResistance(craft, charge) - voltage,
  );
}
