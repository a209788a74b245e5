/**
 * Propellers at rest: thrust and shaft power from speed, and the bounds of momentum theory.
 *
 * T = C_T ρ n² D⁴, P = C_P ρ n³ D⁵ with n in revolutions per second (definitions of the UIUC propeller database,
 * J. B. Brandt and M. S. Selig, AIAA 2011-1255). Coefficients are constant over speed here; in the open data C_T rises by
 * some 8 % and C_P falls by some 7 % over a propeller's range (Reynolds number), and nothing is published above a tip
 * Mach number of about 0.26. Edgewise and axial flow are neglected.
 */
import type { Air, Propeller, RotorGroup } from './craft.ts';

const TURN = 2 * Math.PI;

/** Thrust of one bare rotor over speed squared, N/(rad/s)². */
export function thrustFactor({ thrustCoefficient, diameter }: Propeller, { density }: Air): number {
  return (thrustCoefficient * density * diameter ** 4) / TURN ** 2;
}

/** Shaft power over speed cubed, W/(rad/s)³. */
export function powerFactor({ powerCoefficient, diameter }: Propeller, { density }: Air): number {
  return (powerCoefficient * density * diameter ** 5) / TURN ** 3;
}

/** Thrust of one rotor as installed (duct gain and stacking included) over speed squared, N/(rad/s)². */
export function installedThrustFactor(group: RotorGroup, air: Air): number {
  return group.thrustGain * group.coaxialFactor * thrustFactor(group.propeller, air);
}

/** m² */
export function discArea(diameter: number): number {
  return (Math.PI / 4) * diameter ** 2;
}

/** m/s, at a speed in rad/s. */
export function tipSpeedAt(diameter: number, speed: number): number {
  return (speed * diameter) / 2;
}

/**
 * Power that momentum theory requires for a thrust from a disc: T^1.5 / √(4 σ ρ A), the wake expanding to σ times the disc.
 * σ = ½ is the open rotor, σ = 1 a straight duct (W, N, m, kg/m³).
 * Sources: J. G. Leishman, Principles of Helicopter Aerodynamics, 2006, ch. 2; J. L. Pereira, PhD thesis, Maryland 2008, ch. 2.
 */
export function idealPower(thrust: number, diameter: number, density: number, wakeExpansion = 0.5): number {
  return thrust ** 1.5 / Math.sqrt(4 * wakeExpansion * density * discArea(diameter));
}

/** Ideal over actual power of the open rotor, √(2/π) C_T^1.5 / C_P; above 1 the coefficients cannot be true. */
export function figureOfMerit({ thrustCoefficient, powerCoefficient }: Propeller): number {
  return (Math.sqrt(2 / Math.PI) * thrustCoefficient ** 1.5) / powerCoefficient;
}

/** The most that an ideal straight duct adds to thrust at equal shaft power, 2^(1/3). */
export const IDEAL_DUCT_GAIN = 2 ** (1 / 3);
