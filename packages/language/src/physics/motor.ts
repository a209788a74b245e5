/**
 * The brushless motor as a machine on direct current: v = ω/K + i·(R + X), X(ω) = slope·ω.
 *
 * X is the drop through commutation: current needs time to leave one winding and build up in the next, so the mean
 * voltage at the winding falls by about 1.05·p·ω·L/2 times the current (overlap of bridge converters; p pole pairs, L
 * line to line). Part of it is free of loss, the rest (`commutationLossShare`) heats the motor:
 *
 *   shaft power = i·ω/K + (1 − share)·X·i² − no-load loss(ω),   no-load loss = i₀(ω)·ω/K,
 *   i₀(ω) = i₀·(½ + ½·ω/ω₀): half the no-load current is friction-like, half grows with speed.
 *
 * Sources: A. E. Fitzgerald, C. Kingsley, S. D. Umans, Electric Machinery, 6th ed. 2003, ch. 7 (the machine); overlap of
 * bridge converters from power-electronics texts, from memory; the split of i₀: common practice.
 *
 * Compared with measured pairs (ten of 8 to 15 inch on three motors, Czech Technical University in Prague; the test prints the
 * numbers), with R and L from stator size and kv alone, and the propeller's power from its thrust:
 *   - What is a term: X. Without it the loaded speed at full throttle comes out 25 % high and the current nearly double; with it
 *     speed is right within 8 % and current within 28 % (rms), and for the two motors whose winding is as their size suggests
 *     within 3 and 10 %. Power at a given thrust, as in hover, is right within 11 %, with X or without.
 *   - What is ±: the share of X that is lost (0.55 ± 0.3 in these pairs); the winding, × or ÷ 2 (k = 2) on R and L alike when they
 *     come from size, for one motor of the three has twice the apparent resistance R + X that its size suggests; and for full-duty
 *     current from size alone a further 40 % (k = 2). One loaded speed, or one full-duty current, settles most of it.
 *
 * Neglected: torque ripple, saturation at high current, the ESC's timing advance.
 */
import { courseFactor, courseSlope } from './coefficient-course.ts';
import type { Motor, Propeller } from './craft.ts';
import type { SolverWork } from './work.ts';

/** X over speed, ohm per (rad/s), from pole pairs and inductance line to line (H). */
export function commutationSlope(polePairs: number, inductance: number): number {
  return (1.05 * polePairs * inductance) / 2;
}

/** Iron and friction loss, W, at a speed in rad/s. */
export function noLoadLoss(motor: Motor, speed: number): number {
  const current = motor.noLoadCurrent * (0.5 + (0.5 * speed) / motor.noLoadSpeed);
  return (current * speed) / motor.speedConstant;
}

/** Winding current, A, at a speed (rad/s, above zero) that delivers a shaft power (W): the root of a quadratic. */
export function windingCurrent(motor: Motor, speed: number, shaftPower: number): number {
  const backVoltage = speed / motor.speedConstant;
  const lossless = (1 - motor.commutationLossShare) * motor.commutationSlope * speed;
  const power = shaftPower + noLoadLoss(motor, speed);
  return (2 * power) / (backVoltage + Math.sqrt(backVoltage * backVoltage + 4 * lossless * power));
}

/** Mean voltage at the terminals, V, at a speed (rad/s) and winding current (A). */
export function motorVoltage(motor: Motor, speed: number, current: number): number {
  return speed / motor.speedConstant + current * (motor.resistance + motor.commutationSlope * speed);
}

/** Heat in the motor, W: copper, the lossy share of commutation, iron and friction. Ripple comes on top. */
export function motorLoss(motor: Motor, speed: number, current: number): number {
  const lossyCommutation = motor.commutationLossShare * motor.commutationSlope * speed;
  return current * current * (motor.resistance + lossyCommutation) + noLoadLoss(motor, speed);
}

/**
 * Speed, rad/s, at which a motor behind a series resistance settles with a propeller (shaft power = `powerFactor`·ω³) on a
 * mean voltage ahead of both. Newton from above: the balance rises with speed and is convex, so it cannot miss.
 * @param voltage V, above zero
 * @param start a speed to start from, rad/s; 0 for none
 * @param propeller whose power coefficient changes over speed; the balance is then convex but for a few per cent
 */
export function speedOnVoltage(
  motor: Motor,
  powerFactor: number,
  seriesResistance: number,
  voltage: number,
  start: number,
  work?: SolverWork,
  propeller?: Propeller,
): number {
  const { speedConstant, noLoadCurrent, noLoadSpeed } = motor;
  const resistance = motor.resistance + seriesResistance;
  const losslessSlope = (1 - motor.commutationLossShare) * motor.commutationSlope;
  const course = propeller?.course && propeller;
  let speed = start > 0 ? start : voltage * speedConstant;
  for (let step = 0; step < 60; step++) {
    if (work) work.speedEvaluations++;
    // Everything that the current feeds, and its derivative over speed.
    const lossSlope = (0.5 * noLoadCurrent) / speedConstant;
    const factor = course ? powerFactor * courseFactor(course, 'power', speed) : powerFactor;
    const exponent = course ? 3 + courseSlope(course, 'power', speed) : 3;
    const power = speed * (lossSlope * (1 + speed / noLoadSpeed) + factor * speed * speed);
    const powerSlope = lossSlope * (1 + (2 * speed) / noLoadSpeed) + exponent * factor * speed * speed;
    const backVoltage = speed / speedConstant;
    const root = Math.sqrt(backVoltage * backVoltage + 4 * losslessSlope * speed * power);
    const current = (2 * power) / (backVoltage + root);
    const currentSlope = (powerSlope - current * current * losslessSlope - current / speedConstant) / root;

    const series = resistance + motor.commutationSlope * speed;
    const excess = backVoltage + current * series - voltage;
    const slope = 1 / speedConstant + currentSlope * series + current * motor.commutationSlope;
    const next = speed - excess / slope;
    // Newton squares its error: after a step this small, what is left is rounding.
    if (Math.abs(next - speed) <= 1e-8 * speed) return next;
    // A start far below can throw the first step anywhere above zero speed; never below.
    speed = next > 0 ? next : speed / 2;
  }
  return speed;
}
