/**
 * One rotor as driven: propeller, motor and ESC channel together, at a given thrust or at a given voltage.
 * None of it depends on the bus voltage; that comes in only as the duty, and with it the bus current.
 */
import { courseFactor, speedAtThrust } from './coefficient-course.ts';
import type { Air, Craft, RotorGroup, RotorState } from './craft.ts';
import { partDutyFactor, rippleMeanSquare } from './esc.ts';
import { motorVoltage, speedOnVoltage, windingCurrent } from './motor.ts';
import { installedThrustFactor, powerFactor } from './propeller.ts';
import type { SolverWork } from './work.ts';

export interface Drive {
  readonly group: RotorGroup;
  /** rad/s */
  readonly speed: number;
  /** W */
  readonly shaftPower: number;
  /** A, in the winding. */
  readonly current: number;
  /** V, mean at the motor. */
  readonly motorVoltage: number;
  /** V, mean ahead of the ESC's switches: duty times bus voltage. */
  readonly appliedVoltage: number;
  /** N, as installed. */
  readonly thrust: number;
}

/** One rotor of a group that gives a thrust (N, above zero); closed form where its coefficients are constant. */
export function driveAtThrust(group: RotorGroup, air: Air, thrust: number): Drive {
  return driveAtSpeed(group, air, speedAtThrust(group.propeller, installedThrustFactor(group, air), thrust));
}

/** One rotor of a group on an applied voltage (V, above zero). */
function driveAtVoltage(group: RotorGroup, air: Air, voltage: number, startSpeed: number, work?: SolverWork): Drive {
  const load = powerFactor(group.propeller, air);
  const { propeller } = group;
  const speed = speedOnVoltage(group.motor, load, group.esc.resistance, voltage, startSpeed, work, propeller);
  return driveAtSpeed(group, air, speed);
}

/** One rotor of a group at a speed (rad/s, above zero). */
export function driveAtSpeed(group: RotorGroup, air: Air, speed: number): Drive {
  const { motor, propeller } = group;
  const shaftPower = powerFactor(propeller, air) * courseFactor(propeller, 'power', speed) * speed ** 3;
  const current = windingCurrent(motor, speed, shaftPower);
  const voltage = motorVoltage(motor, speed, current);
  return {
    group,
    speed,
    shaftPower,
    current,
    motorVoltage: voltage,
    appliedVoltage: voltage + current * group.esc.resistance,
    thrust: installedThrustFactor(group, air) * courseFactor(propeller, 'thrust', speed) * speed ** 2,
  };
}

/** The same rotors at the same speeds with so many times the power at their shafts: in air that flows, that takes more or less. */
export const drivesLoaded = (drives: readonly Drive[], factor: number): readonly Drive[] =>
  factor === 1 ? drives : drives.map((drive) => driveLoaded(drive, drive.shaftPower * factor));

function driveLoaded(drive: Drive, shaftPower: number): Drive {
  const { motor, esc } = drive.group;
  const current = windingCurrent(motor, drive.speed, shaftPower);
  const voltage = motorVoltage(motor, drive.speed, current);
  return {
    ...drive,
    shaftPower,
    current,
    motorVoltage: voltage,
    appliedVoltage: voltage + current * esc.resistance,
  };
}

/** Whether two groups are of the same parts. */
const isAlike = (one: RotorGroup, other: RotorGroup): boolean =>
  one.motor === other.motor &&
  one.propeller === other.propeller &&
  one.esc === other.esc &&
  one.thrustGain === other.thrustGain &&
  one.coaxialFactor === other.coaxialFactor;

/** All groups at one duty, together giving a thrust (N). Groups of the same parts: closed form. No thrust: no drives. */
export function drivesAtThrust(craft: Craft, thrust: number, work?: SolverWork): readonly Drive[] {
  const [first, ...others] = craft.rotors;
  if (!first || thrust <= 0) return [];
  const rotorCount = craft.rotors.reduce((sum, group) => sum + group.count, 0);
  if (others.every((other) => isAlike(other, first))) {
    const drive = driveAtThrust(first, craft.air, thrust / rotorCount);
    return craft.rotors.map((group) => ({ ...drive, group }));
  }

  // Thrust goes nearly as the square of the common voltage: secants on its root.
  const target = Math.sqrt(thrust);
  let older = 0;
  let olderRoot = 0;
  let newer = driveAtThrust(first, craft.air, thrust / rotorCount).appliedVoltage;
  let drives = drivesAtVoltage(craft, newer, [], work);
  for (let step = 0; step < 40; step++) {
    const root = Math.sqrt(totalThrust(drives));
    const next = newer + ((target - root) * (newer - older)) / (root - olderRoot);
    if (!(Math.abs(next - newer) > 1e-14 * newer)) break;
    older = newer;
    olderRoot = root;
    newer = next > 0 ? next : newer / 2;
    drives = drivesAtVoltage(craft, newer, drives, work);
  }
  return drives;
}

/** All groups on one applied voltage (V); the drives at a nearby voltage, if any, to start from. */
export function drivesAtVoltage(
  craft: Craft,
  voltage: number,
  near: readonly Pick<Drive, 'speed'>[],
  work?: SolverWork,
): readonly Drive[] {
  return craft.rotors.map((group, i) => driveAtVoltage(group, craft.air, voltage, near[i]?.speed ?? 0, work));
}

/** N, all rotors of all groups. */
export function totalThrust(drives: readonly Drive[]): number {
  let sum = 0;
  for (const drive of drives) sum += drive.group.count * drive.thrust;
  return sum;
}

/** The highest voltage that any drive needs, V. */
export function highestAppliedVoltage(drives: readonly Drive[]): number {
  let highest = 0;
  for (const drive of drives) highest = Math.max(highest, drive.appliedVoltage);
  return highest;
}

/** A, all channels of all groups, at a bus voltage in V. */
export function rotorsCurrent(drives: readonly Drive[], busVoltage: number, partDuty: number): number {
  let sum = 0;
  for (const drive of drives)
    sum += drive.group.count * channelCurrent(drive, busVoltage, partDuty, rippleLoss(drive, busVoltage));
  return sum;
}

/** Extra heat by current ripple in one motor and its switches, W. */
function rippleLoss({ group, appliedVoltage }: Drive, busVoltage: number): number {
  const { motor, esc } = group;
  const resistance = motor.resistance + esc.resistance;
  const duty = appliedVoltage / busVoltage;
  return resistance * rippleMeanSquare(busVoltage, duty, resistance, motor.inductance, esc.pwmFrequency);
}

/** One channel's current from the bus, A, with its ripple loss in W. */
function channelCurrent(drive: Drive, busVoltage: number, partDuty: number, ripple: number): number {
  const power = drive.appliedVoltage * drive.current + ripple;
  return (power * partDutyFactor(partDuty, drive.appliedVoltage / busVoltage)) / busVoltage;
}

/** One rotor of each group in its state at a bus voltage in V. */
export function rotorState(drive: Drive, busVoltage: number, partDuty: number): RotorState {
  const ripple = rippleLoss(drive, busVoltage);
  return {
    speed: drive.speed,
    // Rounding can leave full duty a hair above one.
    duty: Math.min(1, drive.appliedVoltage / busVoltage),
    motorVoltage: drive.motorVoltage,
    motorCurrent: drive.current,
    busCurrent: channelCurrent(drive, busVoltage, partDuty, ripple),
    shaftPower: drive.shaftPower,
    thrust: drive.thrust,
    rippleLoss: ripple,
  };
}
