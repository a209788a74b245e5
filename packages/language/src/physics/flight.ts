/**
 * One craft on one pack, in the air: operating points at a state of charge, and the time and charge of a whole flight.
 *
 * In hover the chain is nearly closed form: thrust gives speed, speed gives shaft power, power gives winding current and
 * motor voltage; only the bus voltage is left to solve for. At full duty the rotors' speeds follow from the bus voltage.
 * Rotor groups that differ run at one common duty, as a flight controller without knowledge of them drives them; where arms
 * and masses are uneven the true split differs (positions are not known here).
 * Neglected: dynamics (a burst is a steady state at its end), gusts, ground and ceiling effect, descent into one's own wake.
 *
 * A state of charge is a share of the charge at flying rates, 0 … 1. Every point is an `OperatingPoint` or an `Impossible`
 * with its shortfall. `work`, where given, counts the solvers' evaluations; `near` is the same point of a craft that differs very little.
 */
import { STANDARD_GRAVITY } from './air.ts';
import { type Craft, type Impossible, isImpossible, type OperatingPoint, type Source } from './craft.ts';
import { type Endurance, enduranceOf, lowestChargeHolding, lowestHoverCharge } from './discharge.ts';
import { type NearPoint, pointAtDutyLimit, pointAtRest, pointAtThrust, pointUpToDutyLimit } from './operating-point.ts';
import { type LoadLevel, requiredBusVoltage } from './rails.ts';
import { drivesAtThrust } from './rotor.ts';
import type { SolverWork } from './work.ts';

/** N */
export const weight = (craft: Craft): number => craft.mass * STANDARD_GRAVITY;

/** Hovering, out of ground effect, loads at their ordinary draw. */
export function hover(
  craft: Craft,
  stateOfCharge: number,
  work?: SolverWork,
  near?: NearPoint,
): OperatingPoint | Impossible {
  return atHoverMultiple(craft, stateOfCharge, 1, work, near);
}

/** A steady thrust of `multiple` times the weight, loads at their ordinary draw. */
export function atHoverMultiple(
  craft: Craft,
  stateOfCharge: number,
  multiple: number,
  work?: SolverWork,
  near?: NearPoint,
): OperatingPoint | Impossible {
  return pointAtThrust(craft, stateOfCharge, multiple * weight(craft), 'draw', work, near);
}

/** The charge at which a flight is half over. */
export const middleCharge = ({ pack }: Craft): number => (1 + pack.reserve) / 2;

/** A phase of flight at a multiple of hover thrust; one that demands more than full duty gets full duty. */
export function flownPhase(
  craft: Craft,
  stateOfCharge: number,
  hoverMultiple: number,
  near?: NearPoint,
): OperatingPoint | Impossible {
  const requested = atHoverMultiple(craft, stateOfCharge, hoverMultiple, undefined, near);
  return isImpossible(requested) ? fullDuty(craft, stateOfCharge, undefined, near) : requested;
}

/** `burstMultiple` times the weight, or full duty where that is less; loads at their peak. */
export function burst(
  craft: Craft,
  stateOfCharge: number,
  work?: SolverWork,
  near?: NearPoint,
): OperatingPoint | Impossible {
  const drives = drivesAtThrust(craft, craft.burstMultiple * weight(craft), work);
  return pointUpToDutyLimit(craft, stateOfCharge, drives, 'peak', work, near);
}

/** All rotors at the duty limit, loads at their peak. */
export function fullDuty(
  craft: Craft,
  stateOfCharge: number,
  work?: SolverWork,
  near?: NearPoint,
): OperatingPoint | Impossible {
  return pointAtDutyLimit(craft, stateOfCharge, 'peak', work, near);
}

/** Motors stopped, loads at their ordinary draw. */
export function atRest(
  craft: Craft,
  stateOfCharge: number,
  work?: SolverWork,
  near?: NearPoint,
): OperatingPoint | Impossible {
  return pointAtRest(craft, stateOfCharge, work, near);
}

/** Hovering from the full pack to the reserve or the first brown-out. */
export function hoverEndurance(craft: Craft, work?: SolverWork): Endurance | Impossible {
  return enduranceOf(craft, weight(craft), [{ share: 1, hoverMultiple: 1 }], 0, work);
}

/** As flown: time on the ground first, then the mix of phases, to the reserve or the first brown-out. */
export function flightEndurance(craft: Craft, work?: SolverWork): Endurance | Impossible {
  return enduranceOf(craft, weight(craft), craft.flown, craft.groundTime, work);
}

export type FlightPoint = 'hover' | 'burst';

/**
 * The lowest state of charge at which the bus still has a voltage (V) in hover or in a burst: 0 where it has it until the pack is
 * empty, undefined where it fails even on a full pack. A hover that becomes impossible fails as well.
 */
export type BusHolding = (point: FlightPoint, voltage: number) => number | undefined;

/** Of one craft: what several loads demand is found once. */
export function busHolding(craft: Craft): BusHolding {
  const inHover = holdingAt(craft, 1, 'draw');
  const inBurst = holdingAt(craft, craft.burstMultiple, 'peak');
  let lowestHover: { readonly charge: number | undefined } | undefined;
  return (point, voltage) => {
    const held = (point === 'hover' ? inHover : inBurst)(voltage);
    if (held === undefined || point === 'burst') return held;
    lowestHover ??= { charge: lowestHoveringCharge(craft) };
    return lowestHover.charge === undefined ? undefined : Math.max(held, lowestHover.charge);
  };
}

function holdingAt(craft: Craft, hoverMultiple: number, level: LoadLevel): (voltage: number) => number | undefined {
  const drives = drivesAtThrust(craft, hoverMultiple * weight(craft));
  const known = new Map<number, number | undefined>();
  // A voltage that an empty pack still delivers is delivered for every lower minimum too.
  let heldEmpty = 0;
  return (voltage) => {
    if (voltage <= heldEmpty && heldEmpty > 0) return 0;
    if (!known.has(voltage)) known.set(voltage, lowestChargeHolding(craft, drives, voltage, level));
    const charge = known.get(voltage);
    if (charge === 0) heldEmpty = Math.max(heldEmpty, voltage);
    return charge;
  };
}

/** The lowest state of charge at which a source still has `minimumVoltage` (V): 0 and undefined as of `BusHolding`. */
export function lastSafeCharge(
  craft: Craft,
  source: Source,
  minimumVoltage: number,
  point: FlightPoint,
  holding: BusHolding = busHolding(craft),
): number | undefined {
  const needed = requiredBusVoltage(craft, source, minimumVoltage);
  return needed === undefined ? undefined : holding(point, needed);
}

/** The lowest state of charge at which it hovers; undefined where a full pack does not lift it. */
function lowestHoveringCharge(craft: Craft): number | undefined {
  return isImpossible(hover(craft, 1))
    ? undefined
    : lowestHoverCharge(craft, drivesAtThrust(craft, weight(craft))).stateOfCharge;
}
