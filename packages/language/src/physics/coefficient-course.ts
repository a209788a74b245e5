/**
 * A propeller's coefficients over its speed: C(ω) = C · (ω/ω₀)^e · exp(δ(ln ω/ω₀)).
 *
 * The exponent refers to the Reynolds number: in the open data C_T rises by some 8 % and C_P falls by some 7 % over a propeller's range
 * (UIUC Propeller Database, J. B. Brandt and M. S. Selig, AIAA 2011-1255). δ is what no power law follows: a Gaussian process with a squared
 * exponential of fixed width, given at a few knots (M. C. Kennedy and A. O'Hagan, J. R. Stat. Soc. B 63 (2001) 425), here as a sum of bumps.
 * Neglected: the Mach number of the tips.
 */
import type { CoefficientCourse, Propeller } from './craft.ts';

/**
 * Speed of the tips at which coefficients apply, m/s: about the middle between hover and full duty, in logarithms, for hover turns the tips of
 * craft of all sizes at some 65 m/s. It is where propellers were measured that the estimates rest on.
 */
const TIP_SPEED = 100;

/** rad/s, of a propeller so wide (m). */
export const courseSpeed = (diameter: number): number => TIP_SPEED / (diameter / 2);

/** In ln of speed over that: from well below hover to beyond full duty. */
const FIRST_KNOT = -0.95;
const LAST_KNOT = 1.05;
const KNOT_COUNT = 6;
/** Of a bump, in ln of speed. */
const WIDTH = 0.7;

/** Knots of δ, in ln(ω/ω₀). */
export const KNOTS: readonly number[] = Array.from(
  { length: KNOT_COUNT },
  (_, i) => FIRST_KNOT + ((LAST_KNOT - FIRST_KNOT) * i) / (KNOT_COUNT - 1),
);

/** How alike δ is at two places, 0 … 1. */
export const likeness = (a: number, b: number): number => Math.exp(-(((a - b) / WIDTH) ** 2) / 2);

function departure(weights: readonly number[], place: number): number {
  let sum = 0;
  for (let i = 0; i < weights.length; i++) sum += (weights[i] ?? 0) * likeness(place, KNOTS[i] ?? 0);
  return sum;
}

/** dδ/d ln ω */
function departureSlope(weights: readonly number[], place: number): number {
  let sum = 0;
  for (let i = 0; i < weights.length; i++) {
    const away = (KNOTS[i] ?? 0) - place;
    sum += ((weights[i] ?? 0) * likeness(away, 0) * away) / WIDTH ** 2;
  }
  return sum;
}

type Which = 'thrust' | 'power';

const exponentOf = (course: CoefficientCourse, which: Which) =>
  which === 'thrust' ? course.thrustExponent : course.powerExponent;
const weightsOf = (course: CoefficientCourse, which: Which) =>
  which === 'thrust' ? course.thrustWeights : course.powerWeights;

/** Factor on a coefficient at a speed (rad/s, above zero). */
export function courseFactor({ course }: Propeller, which: Which, speed: number): number {
  if (!course) return 1;
  const place = Math.log(speed / course.speed);
  return Math.exp(exponentOf(course, which) * place + departure(weightsOf(course, which), place));
}

/** Its logarithmic slope over speed. */
export function courseSlope({ course }: Propeller, which: Which, speed: number): number {
  if (!course) return 0;
  return exponentOf(course, which) + departureSlope(weightsOf(course, which), Math.log(speed / course.speed));
}

const STEPS = 40;
/** Newton squares its error: after a step this small, what is left is rounding. */
const SETTLED = 1e-8;

/** Speed, rad/s, at which factor · C(ω)/C · ω² reaches a thrust (factor and thrust above zero). Newton in logarithms. */
export function speedAtThrust(propeller: Propeller, factor: number, thrust: number): number {
  let speed = Math.sqrt(thrust / factor);
  if (!propeller.course) return speed;
  for (let step = 0; step < STEPS; step++) {
    const excess = Math.log((factor * courseFactor(propeller, 'thrust', speed) * speed ** 2) / thrust);
    const change = excess / (2 + courseSlope(propeller, 'thrust', speed));
    speed *= Math.exp(-change);
    if (Math.abs(change) <= SETTLED) break;
  }
  return speed;
}
