/**
 * Pack, bus, rotors and rails solved together at one state of charge: at a demanded thrust, at the duty limit, or at rest.
 */
import { packCellResistance, packRestingVoltage } from './chemistry.ts';
import { solveBus, solveBusForPower, solveBusNear } from './circuit.ts';
import { type Craft, type Impossible, isImpossible, type OperatingPoint, type RotorState } from './craft.ts';
import { type Electronics, electronics, electronicsCurrent, type LoadLevel, railStates } from './rails.ts';
import {
  type Drive,
  drivesAtThrust,
  drivesAtVoltage,
  highestAppliedVoltage,
  rotorState,
  rotorsCurrent,
  totalThrust,
} from './rotor.ts';
import type { SolverWork } from './work.ts';

/** A duty this little above the limit is rounding, not lack of thrust. */
const DUTY_ROUNDING = 1e-12;

/** The same point of a craft that differs very little, to start from; see `solveBusNear`. */
export type NearPoint = OperatingPoint | Impossible | undefined;

/** What the circuit settles at. */
interface Balance {
  readonly drives: readonly Drive[];
  readonly supplied: Electronics;
  /** Of the bus, V. */
  readonly voltage: number;
}

/** Rotors that together give a thrust (N, above zero), and the loads. */
export function pointAtThrust(
  craft: Craft,
  stateOfCharge: number,
  thrust: number,
  level: LoadLevel,
  work?: SolverWork,
  near?: NearPoint,
): OperatingPoint | Impossible {
  const balance = balanceWithDrives(craft, stateOfCharge, drivesAtThrust(craft, thrust, work), level, work, near);
  if (balance !== 'beyond duty limit') return pointOf(craft, balance);
  const full = pointAtDutyLimit(craft, stateOfCharge, level, work);
  return isImpossible(full) ? full : { impossible: 'thrust', shortfall: thrust - full.thrust };
}

/** Rotors driven as given, or at the duty limit where the pack cannot drive them so, and the loads. */
export const pointUpToDutyLimit = (
  craft: Craft,
  stateOfCharge: number,
  drives: readonly Drive[],
  level: LoadLevel,
  work?: SolverWork,
  near?: NearPoint,
): OperatingPoint | Impossible => pointOf(craft, balanceUpToDutyLimit(craft, stateOfCharge, drives, level, work, near));

/** Bus voltage, V, of the same; undefined where the pack cannot. @param near about the power it draws, W */
export function busUpToDutyLimit(
  craft: Craft,
  stateOfCharge: number,
  drives: readonly Drive[],
  level: LoadLevel,
  near?: number,
): number | undefined {
  const driven = busWithinDutyLimit(craft, stateOfCharge, drives, level, undefined, near);
  if (driven !== undefined) return driven;
  const limited = balanceAtDutyLimit(craft, stateOfCharge, level);
  return isImpossible(limited) ? undefined : limited.voltage;
}

/** Bus voltage, V, with rotors driven as given; undefined where the pack, or the duty limit, does not allow that. */
export function busWithinDutyLimit(
  craft: Craft,
  stateOfCharge: number,
  drives: readonly Drive[],
  level: LoadLevel,
  work?: SolverWork,
  near?: number,
): number | undefined {
  const balance = balanceWithDrives(craft, stateOfCharge, drives, level, work, near);
  return balance === 'beyond duty limit' || isImpossible(balance) ? undefined : balance.voltage;
}

/** All rotors at the duty limit, and the loads. */
export const pointAtDutyLimit = (
  craft: Craft,
  stateOfCharge: number,
  level: LoadLevel,
  work?: SolverWork,
  near?: NearPoint,
): OperatingPoint | Impossible => pointOf(craft, balanceAtDutyLimit(craft, stateOfCharge, level, work, near));

function balanceWithDrives(
  craft: Craft,
  stateOfCharge: number,
  drives: readonly Drive[],
  level: LoadLevel,
  work?: SolverWork,
  near?: NearPoint | number,
): Balance | Impossible | 'beyond duty limit' {
  const supplied = electronics(craft, level);
  const voltage = busWithDrives(craft, stateOfCharge, drives, supplied, work, near);
  if (typeof voltage !== 'number') return voltage;
  return exceedsDutyLimit(craft, drives, voltage) ? 'beyond duty limit' : { drives, supplied, voltage };
}

function balanceUpToDutyLimit(
  craft: Craft,
  stateOfCharge: number,
  drives: readonly Drive[],
  level: LoadLevel,
  work?: SolverWork,
  near?: NearPoint,
): Balance | Impossible {
  const balance = balanceWithDrives(craft, stateOfCharge, drives, level, work, near);
  if (balance !== 'beyond duty limit' && !isImpossible(balance)) return balance;
  return balanceAtDutyLimit(craft, stateOfCharge, level, work, near);
}

function balanceAtDutyLimit(
  craft: Craft,
  stateOfCharge: number,
  level: LoadLevel,
  work?: SolverWork,
  near?: NearPoint,
): Balance | Impossible {
  const supplied = electronics(craft, level);
  let latest: readonly Pick<Drive, 'speed'>[] = near && !isImpossible(near) ? near.rotors : [];
  const drivenAt = (voltage: number): readonly Drive[] => {
    const drives = drivesAtVoltage(craft, craft.dutyLimit * voltage, latest, work);
    latest = drives;
    return drives;
  };
  const demand = (voltage: number): number => busCurrent(craft, drivenAt(voltage), voltage, supplied);
  const voltage = solve(craft, stateOfCharge, demand, work, near);
  return typeof voltage === 'number' ? { drives: drivenAt(voltage), supplied, voltage } : voltage;
}

/** Motors stopped, electronics on. */
export function pointAtRest(
  craft: Craft,
  stateOfCharge: number,
  work?: SolverWork,
  near?: NearPoint,
): OperatingPoint | Impossible {
  const point = pointUpToDutyLimit(craft, stateOfCharge, [], 'draw', work, near);
  return isImpossible(point) ? point : { ...point, rotors: craft.rotors.map(() => STOPPED) };
}

const STOPPED: RotorState = {
  speed: 0,
  duty: 0,
  motorVoltage: 0,
  motorCurrent: 0,
  busCurrent: 0,
  shaftPower: 0,
  thrust: 0,
  rippleLoss: 0,
};

/** Bus voltage, V, with rotors driven as given. @param near the same point of another craft, or about the power it draws, W */
function busWithDrives(
  craft: Craft,
  stateOfCharge: number,
  drives: readonly Drive[],
  supplied: Electronics,
  work?: SolverWork,
  near?: NearPoint | number,
): number | Impossible {
  return solve(craft, stateOfCharge, (voltage) => busCurrent(craft, drives, voltage, supplied), work, near);
}

/** Of the resting voltage: from less sag the current cannot be read. */
const LEGIBLE = 1e-4;

/** What the pack gives, A, where it settles at a voltage (V) with rotors driven as given. */
export function settledCurrent(
  craft: Craft,
  stateOfCharge: number,
  drives: readonly Drive[],
  supplied: Electronics,
  voltage: number,
): number {
  const resting = packRestingVoltage(craft.pack, stateOfCharge);
  const sag = resting - voltage;
  return sag > LEGIBLE * resting
    ? sag / sourceResistance(craft, stateOfCharge)
    : busCurrent(craft, drives, voltage, supplied);
}

/**
 * Current from the bus, A, held at a voltage (V, above zero): rotors driven as given, or at the duty limit where the voltage
 * is too low for that.
 */
export function currentAtVoltage(
  craft: Craft,
  drives: readonly Drive[],
  voltage: number,
  supplied: Electronics,
): number {
  const limited = exceedsDutyLimit(craft, drives, voltage);
  const driven = limited ? drivesAtVoltage(craft, craft.dutyLimit * voltage, drives) : drives;
  return busCurrent(craft, driven, voltage, supplied);
}

/** Everything drawn from the bus, A, at a bus voltage in V. */
function busCurrent(craft: Craft, drives: readonly Drive[], voltage: number, supplied: Electronics): number {
  const others = electronicsCurrent(supplied, voltage) + craft.escStandbyCurrent;
  return others + rotorsCurrent(drives, voltage, craft.partDutyPowerFactor);
}

/** Whether rotors driven as given need more than the duty limit at a bus voltage (V). */
function exceedsDutyLimit(craft: Craft, drives: readonly Drive[], voltage: number): boolean {
  return highestAppliedVoltage(drives) > craft.dutyLimit * voltage * (1 + DUTY_ROUNDING);
}

/** Ohms between the cells' resting voltage and the bus. */
export function sourceResistance(craft: Craft, stateOfCharge: number): number {
  return packCellResistance(craft.pack, stateOfCharge) + craft.pack.leadResistance;
}

function solve(
  craft: Craft,
  stateOfCharge: number,
  demand: (voltage: number) => number,
  work?: SolverWork,
  near?: NearPoint | number,
): number | Impossible {
  const resting = packRestingVoltage(craft.pack, stateOfCharge);
  const resistance = sourceResistance(craft, stateOfCharge);
  if (typeof near === 'number') return solveBusForPower(near, resting, resistance, demand, work);
  return near && !isImpossible(near)
    ? solveBusNear(near.busVoltage, resting, resistance, demand, work)
    : solveBus(resting, resistance, demand, work);
}

function pointOf(craft: Craft, balance: Balance | Impossible): OperatingPoint | Impossible {
  if (isImpossible(balance)) return balance;
  const { drives, supplied, voltage } = balance;
  const rotors = drives.map((drive) => rotorState(drive, voltage, craft.partDutyPowerFactor));
  const packCurrent = drives.reduce(
    (sum, { group }, i) => sum + group.count * (rotors[i] as RotorState).busCurrent,
    electronicsCurrent(supplied, voltage) + craft.escStandbyCurrent,
  );
  return {
    busVoltage: voltage,
    cellVoltage: (voltage + packCurrent * craft.pack.leadResistance) / craft.pack.cellsInSeries,
    packCurrent,
    rotors,
    rails: railStates(supplied, voltage),
    thrust: totalThrust(drives),
    atDutyLimit: highestAppliedVoltage(drives) >= craft.dutyLimit * voltage * (1 - DUTY_ROUNDING),
  };
}
