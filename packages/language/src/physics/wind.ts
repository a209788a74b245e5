/**
 * The steady wind a hovering craft can keep its position in: tilted thrust against drag of the body and of the air it swallows.
 *
 * Drag = ½ρ·C_dA·v² + share·ṁ·v. The second part is momentum drag: air that goes through the discs (ṁ) is brought to rest
 * sideways first. Ducts turn all of it; open rotors about a quarter (common practice).
 * Sources: statics; induced velocity in edgewise flow after H. Glauert, in J. G. Leishman, Principles of Helicopter
 * Aerodynamics, 2006, sec. 2.14. Neglected: gusts, pitching moment of ducts, drag that changes with tilt.
 */
import { STANDARD_GRAVITY } from './air.ts';

export interface WindCase {
  /** kg */
  readonly mass: number;
  /** kg/m³ */
  readonly airDensity: number;
  /** C_d·A of body and arms, m². */
  readonly dragArea: number;
  /** All discs together, m². */
  readonly discArea: number;
  /** Share of the through-flow's momentum that is stopped: 1 for ducts, 0.25 for open rotors. */
  readonly momentumShare: number;
  /** Wake over disc area: 1 for straight ducts, ½ for open rotors. */
  readonly wakeExpansion: number;
  /** rad, below a right angle */
  readonly tiltLimit: number;
  /** Most the rotors give, N. */
  readonly availableThrust: number;
}

export interface WindHeld {
  /** m/s */
  readonly speed: number;
  /** rad */
  readonly tilt: number;
  readonly limitedBy: 'tilt' | 'thrust';
}

/** The strongest steady wind, or none where the thrust does not even lift the craft. */
export function strongestWind(craft: WindCase): WindHeld | undefined {
  const weight = craft.mass * STANDARD_GRAVITY;
  if (craft.availableThrust < weight) return undefined;
  const tiltByThrust = Math.acos(weight / craft.availableThrust);
  const tilt = Math.min(craft.tiltLimit, tiltByThrust);
  const sideForce = weight * Math.tan(tilt);
  const thrust = weight / Math.cos(tilt);
  const limitedBy = tiltByThrust < craft.tiltLimit ? 'thrust' : 'tilt';
  if (sideForce === 0) return { speed: 0, tilt, limitedBy };

  // Drag rises with the wind: double until it is too strong, then halve.
  let low = 0;
  let high = 1;
  while (windDrag(craft, thrust, high) < sideForce && high < 1000) high *= 2;
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    if (windDrag(craft, thrust, middle) < sideForce) low = middle;
    else high = middle;
  }
  return { speed: (low + high) / 2, tilt, limitedBy };
}

/** Side force, N, of a wind (m/s) on a craft whose rotors give a thrust (N). */
export function windDrag(craft: WindCase, thrust: number, wind: number): number {
  const { airDensity, dragArea, momentumShare } = craft;
  return 0.5 * airDensity * dragArea * wind ** 2 + momentumShare * massFlow(craft, thrust, wind) * wind;
}

/** Air through the discs, kg/s, of the same. */
export function massFlow({ airDensity, discArea, wakeExpansion }: WindCase, thrust: number, wind: number): number {
  const hoverVelocity = Math.sqrt((wakeExpansion * thrust) / (airDensity * discArea));
  return airDensity * discArea * hoverVelocity * edgewiseVelocityRatio(wind / hoverVelocity);
}

/** Induced velocity over that in hover, with air flowing along the disc at a speed over the hover's induced velocity. */
export function edgewiseVelocityRatio(speedRatio: number): number {
  // 2/(x + √(x² + 4)) in place of (√(x² + 4) − x)/2, which loses its digits in strong wind.
  const square = speedRatio ** 2;
  return Math.sqrt(2 / (square + Math.sqrt(square ** 2 + 4)));
}
