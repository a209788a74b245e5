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
import { type Endurance, endurance, lowestChargeHolding, lowestHoverCharge } from './discharge.ts';
import { type Near, pointAtDutyLimit, pointAtRest, pointAtThrust, pointUpToDutyLimit } from './operating-point.ts';
import { requiredBusVoltage } from './rails.ts';
import { drivesAtThrust } from './rotor.ts';
import type { Work } from './work.ts';

/** N */
export const weight = (craft: Craft): number => craft.mass * STANDARD_GRAVITY;

/** Hovering, out of ground effect, loads at their ordinary draw. */
export function hover(craft: Craft, stateOfCharge: number, work?: Work, near?: Near): OperatingPoint | Impossible {
  return atHoverMultiple(craft, stateOfCharge, 1, work, near);
}

/** A steady thrust of `multiple` times the weight, loads at their ordinary draw. */
export function atHoverMultiple(
  craft: Craft,
  stateOfCharge: number,
  multiple: number,
  work?: Work,
  near?: Near,
): OperatingPoint | Impossible {
  return pointAtThrust(craft, stateOfCharge, multiple * weight(craft), 'draw', work, near);
}

/** The charge at which a flight is half over. */
export const middleCharge = ({ pack }: Craft): number => (1 + pack.reserve) / 2;

/** A phase of flight at a multiple of hover thrust; one that asks for more than full duty gets full duty. */
export function flownPhase(
  craft: Craft,
  stateOfCharge: number,
  hoverMultiple: number,
  near?: Near,
): OperatingPoint | Impossible {
  const asked = atHoverMultiple(craft, stateOfCharge, hoverMultiple, undefined, near);
  return isImpossible(asked) ? fullDuty(craft, stateOfCharge, undefined, near) : asked;
}

/** `burstMultiple` times the weight, or full duty where that is less; loads at their peak. */
export function burst(craft: Craft, stateOfCharge: number, work?: Work, near?: Near): OperatingPoint | Impossible {
  const drives = drivesAtThrust(craft, craft.burstMultiple * weight(craft), work);
  return pointUpToDutyLimit(craft, stateOfCharge, drives, 'peak', work, near);
}

/** All rotors at the duty limit, loads at their peak. */
export function fullDuty(craft: Craft, stateOfCharge: number, work?: Work, near?: Near): OperatingPoint | Impossible {
  return pointAtDutyLimit(craft, stateOfCharge, 'peak', work, near);
}

/** Motors stopped, loads at their ordinary draw. */
export function atRest(craft: Craft, stateOfCharge: number, work?: Work, near?: Near): OperatingPoint | Impossible {
  return pointAtRest(craft, stateOfCharge, work, near);
}

/** Hovering from the full pack to the reserve or the first brown-out. */
export function hoverTime(craft: Craft, work?: Work): Endurance | Impossible {
  return endurance(craft, weight(craft), [{ share: 1, hoverMultiple: 1 }], 0, work);
}

/** As flown: time on the ground first, then the mix of phases, to the reserve or the first brown-out. */
export function flightTime(craft: Craft, work?: Work): Endurance | Impossible {
  return endurance(craft, weight(craft), craft.flown, craft.groundTime, work);
}

/**
 * The lowest state of charge at which a source still carries `minimumVoltage` (V) in hover or in a burst: 0 where it holds
 * until the pack is empty, undefined where it fails even on a full pack. A hover that becomes impossible fails as well.
 */
export function lastSafeCharge(
  craft: Craft,
  source: Source,
  minimumVoltage: number,
  point: 'hover' | 'burst',
  lowestHover: () => number | undefined = () => lowestHoveringCharge(craft),
): number | undefined {
  const needed = requiredBusVoltage(craft, source, minimumVoltage);
  if (needed === undefined) return undefined;
  const multiple = point === 'hover' ? 1 : craft.burstMultiple;
  const drives = drivesAtThrust(craft, multiple * weight(craft));
  const held = lowestChargeHolding(craft, drives, needed, point === 'hover' ? 'draw' : 'peak');
  if (held === undefined || point === 'burst') return held;
  const hovering = lowestHover();
  return hovering === undefined ? undefined : Math.max(held, hovering);
}

/** The lowest state of charge at which it hovers; undefined where a full pack does not lift it. */
export function lowestHoveringCharge(craft: Craft): number | undefined {
  return isImpossible(hover(craft, 1)) ? undefined : lowestHoverCharge(craft, weight(craft)).stateOfCharge;
}
