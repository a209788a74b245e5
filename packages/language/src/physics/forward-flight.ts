/**
 * Power of a craft that flies at a steady speed, level or climbing, and the speeds at which it takes least: momentum theory with profile and
 * body drag.
 *
 * P(v, c) = κ·T·v_i/(2σ) + P_o·(1 + 4.65·μ²) + D·v + W·c
 *
 * Thrust T balances weight W and drag D (`windDrag`); v_i is the induced velocity after Glauert with the disc tilted into the wind by
 * arctan(D/W) and air through it by that tilt and by the climb at c; P_o is what the shafts take in hover beyond κ times the ideal induced
 * power; μ is the speed along the disc over the tip speed.
 * Sources: H. Glauert, in J. G. Leishman, Principles of Helicopter Aerodynamics, 2006, sec. 2.13 (climb: without wind it is
 * P/P_h = x + √(x² + 1) with x = c/(2·v_h)), 2.14 (induced velocity), 5.4 (profile power, 4.65 μ²), 5.5 (power in level flight). Compared with measured power of a 3.7 kg and a 4.2 kg quadcopter from 2 to 10 m/s (T. A. Rodrigues
 * et al., Scientific Data 8 (2021) 155): within 5 % once the power in hover is known.
 * Neglected: rotors at different angles of attack, rotors in the wake of others, lift and upright drag of the body, stall of the retreating
 * blade; with that it holds up to μ of about 0.2. Descents are not computed by it: rotors that meet their own wake have no one state.
 */
import { STANDARD_GRAVITY } from './air.ts';
import { strongestWind, type WindCase, windDrag } from './wind.ts';

export interface LevelFlight {
  readonly wind: WindCase;
  /** Mechanical power of all rotors in hover, W. */
  readonly hoverShaftPower: number;
  /** Of the fastest blade tip in hover, m/s. */
  readonly tipSpeed: number;
  /** Induced power over the ideal one, 1 or more. */
  readonly inducedFactor: number;
}

/** Growth of profile power with the square of the advance ratio (Leishman, sec. 5.4). */
const PROFILE_GROWTH = 4.65;

export interface LevelPower {
  /** N */
  readonly drag: number;
  readonly thrust: number;
  /** m/s */
  readonly inducedVelocity: number;
  /** W, at the shafts. */
  readonly induced: number;
  readonly profile: number;
  readonly parasite: number;
  /** Weight times the climb. */
  readonly lifting: number;
  readonly total: number;
}

/**
 * N, the thrust that balances weight and drag, and the drag. More drag needs more thrust, which draws more air through the rotors and adds drag:
 * about six steps of the secant method solve it.
 */
function settled(wind: WindCase, weight: number, speed: number): { thrust: number; drag: number } {
  const needed = (thrust: number): number => Math.sqrt(weight ** 2 + windDrag(wind, thrust, speed) ** 2);
  let [before, thrust] = [weight, needed(weight)];
  let gap = thrust - before;
  for (let round = 0; round < 30; round++) {
    const left = needed(thrust) - thrust;
    const next = thrust - (left * (thrust - before)) / (left - gap);
    // Where drag does not depend on thrust, or hardly, the first round has settled it.
    if (!Number.isFinite(next) || Math.abs(next - thrust) <= CLOSE * thrust) break;
    [before, thrust, gap] = [thrust, next, left];
  }
  return { thrust, drag: windDrag(wind, thrust, speed) };
}

/** Relative: nearer than the digits of a number is no difference. */
const CLOSE = 1e-15;

/** Of all rotors at a speed, m/s. @param climb upwards, m/s, not below zero */
export function levelPower(craft: LevelFlight, speed: number, climb = 0): LevelPower {
  const { wind, tipSpeed, inducedFactor } = craft;
  const weight = wind.mass * STANDARD_GRAVITY;
  const { thrust, drag } = settled(wind, weight, speed);
  const along = (speed * weight - climb * drag) / thrust;
  const through = (speed * drag + climb * weight) / thrust;
  const velocity = inducedVelocity(wind, thrust, along, through);
  const induced = inducedFactor * idealPower(wind, thrust, velocity);
  const profile = profileInHover(craft) * (1 + PROFILE_GROWTH * (along / tipSpeed) ** 2);
  const parasite = drag * speed;
  const lifting = weight * climb;
  const total = induced + profile + parasite + lifting;
  return { drag, thrust, inducedVelocity: velocity, induced, profile, parasite, lifting, total };
}

/** What the shafts take in hover beyond the induced power, W; never below nothing. */
export function profileInHover({ wind, hoverShaftPower, inducedFactor }: LevelFlight): number {
  const weight = wind.mass * STANDARD_GRAVITY;
  return Math.max(0, hoverShaftPower - inducedFactor * idealPower(wind, weight, hoverVelocity(wind, weight)));
}

/** m/s: of the air in the disc, in hover at a thrust, N. */
export const hoverVelocity = ({ wakeExpansion, airDensity, discArea }: WindCase, thrust: number): number =>
  Math.sqrt((wakeExpansion * thrust) / (airDensity * discArea));

/** W, at an induced velocity, m/s: the wake moves 1/σ times as fast as the air in the disc. */
const idealPower = ({ wakeExpansion }: WindCase, thrust: number, velocity: number): number =>
  (thrust * velocity) / (2 * wakeExpansion);

/**
 * m/s: the root of v_i·√(along² + (through + v_i)²) = v_h². The left side rises with v_i ever more steeply and is at least v_h² at v_h, so
 * that Newton's steps from there come down to the root and never pass it; half a dozen are enough.
 */
function inducedVelocity(wind: WindCase, thrust: number, along: number, through: number): number {
  const hover = hoverVelocity(wind, thrust);
  let velocity = hover;
  for (let round = 0; round < 60; round++) {
    const flow = Math.sqrt(along ** 2 + (through + velocity) ** 2);
    const next = velocity - (velocity * flow - hover ** 2) / (flow + (velocity * (through + velocity)) / flow);
    if (!(next < velocity)) break;
    velocity = next;
  }
  return velocity;
}

/** Where power, or power over speed, is least. */
export type Best = 'endurance' | 'range';

/**
 * m/s. Both lie below what tilt and thrust allow (`windHeld`), or at it.
 * @param otherPower W at the shafts' side of what is drawn whatever the speed: what flies longest and what flies farthest depend on it
 * @param wind m/s from ahead, below zero from behind: what flies farthest over the ground
 * @returns undefined where the thrust does not lift the craft, or none is faster than the wind
 */
export function bestSpeed(craft: LevelFlight, best: Best, otherPower: number, wind = 0): number | undefined {
  const fastest = strongestWind(craft.wind)?.speed;
  if (fastest === undefined || wind >= fastest) return undefined;
  const cost = (speed: number): number => {
    const power = levelPower(craft, speed).total + otherPower;
    return best === 'endurance' ? power : power / (speed - wind);
  };
  const slowest = Math.max(0, wind);
  return lowestOf(cost, slowest + (fastest - slowest) / 1000, fastest);
}

const GOLDEN = (Math.sqrt(5) - 1) / 2;

/**
 * Where a function with one valley is lowest, by golden sections: forty rounds narrow it to 4e-9 of the range; nearer to the bottom the last digits
 * of its values decide.
 */
function lowestOf(cost: (at: number) => number, from: number, to: number): number {
  let [low, high] = [from, to];
  let [left, right] = [high - GOLDEN * (high - low), low + GOLDEN * (high - low)];
  let [atLeft, atRight] = [cost(left), cost(right)];
  for (let round = 0; round < 40; round++) {
    if (atLeft < atRight) {
      [high, right, atRight] = [right, left, atLeft];
      left = high - GOLDEN * (high - low);
      atLeft = cost(left);
    } else {
      [low, left, atLeft] = [left, right, atRight];
      right = low + GOLDEN * (high - low);
      atRight = cost(right);
    }
  }
  return (low + high) / 2;
}
