/**
 * Rows of a test stand as lines of the fit, whatever their columns. A row with voltage and duty is solved; of any other the speed (and the
 * voltage, where what was read depends on it) is an input of its own that starts from what the row states and is otherwise free.
 *
 * The motor, the propeller, their losses and the model's own terms are those that fly; amperes and thrust of the stand have a scale of their own,
 * which is also what one specimen is off from another.
 * Where a column states how warm the motor was, its copper was so warm. Neglected: the board's own draw is in the error of small currents.
 */

import type { Bench, Build, Figure } from '../../model/build.ts';
import { partId } from '../../model/identities.ts';
import { ofKind } from '../../model/of-kind.ts';
import { airAt } from '../../physics/air.ts';
import type { EscChannel, Motor, Propeller, RotorGroup } from '../../physics/craft.ts';
import { copperFactor } from '../../physics/lead.ts';
import { speedOnVoltage } from '../../physics/motor.ts';
import { powerFactor, thrustFactor } from '../../physics/propeller.ts';
import { driveAtSpeed, rotorState } from '../../physics/rotor.ts';
import { keysOf } from '../../units/lookup-table.ts';
import { asRead, escTemplate, Lack, motorTemplate, propellerTemplate } from '../setup/drive.ts';
import { type Formula, fill, type Template } from '../setup/template.ts';
import { WINDING_TEMPERATURE } from '../uncertainty/model-form.ts';
import { fullDutyWeight } from './flight-points.ts';
import { type AnyScene, type MeasuredLine, NOTHING, nuisance, ownIdentity, sceneOf, withOwn } from './scene.ts';
import { type BenchRow, rowsOf, WORKSHOP } from './stand-rows.ts';

export type StandReading = 'current' | 'power' | 'thrust' | 'speed' | 'torque' | 'duty';

interface Kind {
  readonly words: string;
  readonly unit: string;
  /** One standard deviation, relative; of a duty absolute. */
  readonly error: number;
  /** SI, on top: last digits, and what the board itself takes. */
  readonly floor: number;
  readonly isPlain?: boolean;
}

export const STAND_READINGS: Readonly<Record<StandReading, Kind>> = {
  current: { words: 'current', unit: 'A', error: 0.012, floor: 0.02 },
  power: { words: 'power', unit: 'W', error: 0.012, floor: 0.2 },
  thrust: { words: 'thrust', unit: 'gf', error: 0.012, floor: 0.005 },
  speed: { words: 'speed', unit: 'rpm', error: 0.008, floor: 0 },
  torque: { words: 'torque', unit: 'N*m', error: 0.02, floor: 1e-5 },
  duty: { words: 'duty', unit: '%', error: 0.01, floor: 0, isPlain: true },
};

/** One standard deviation of what all rows of a stand have in common. */
export const STAND_SCALES = { current: 0.02, thrust: 0.018 };
/** Standard deviations of the temperature (K) and the altitude (m) of a stand that states neither. */
const WORKSHOP_SCATTER = { temperature: 3, altitude: 100 };
/** Of a board that nobody names: a good one. */
const UNNAMED_BOARD = { resistance: [3e-3, 0.4], switching: [48e3, 0.2] } as const;
/** Standard deviation of the logarithm of what is left open. */
const OPEN = 1;

/** Everything that the rows of one stand need. */
interface Stand {
  readonly motor: Motor;
  readonly esc: EscChannel;
  readonly propeller: Propeller;
  readonly thrustGain: number;
  readonly density: number;
  readonly partDuty: number;
  readonly fullDutyFactor: number;
  readonly current: number;
  readonly thrust: number;
  /** rad/s; 0 where the row reports it. */
  readonly speeds: readonly number[];
  /** V */
  readonly voltages: readonly number[];
  /** Of the motor's resistance: how warm a row's winding was over how warm windings are. */
  readonly warmth: readonly number[];
}

export interface ModelTerms {
  readonly partDuty: Figure;
  readonly fullDuty: Figure;
}

interface RowLine extends MeasuredLine {
  /** Among those that count. */
  readonly index: number;
  readonly quantity: StandReading;
}

/** Undefined where too little is known of what was on the stand. @param build whose propeller it was */
export function standScene(
  build: Build,
  bench: Bench,
  isCounted: (row: BenchRow) => boolean,
  terms: ModelTerms,
  isLeft = NOTHING,
): AnyScene | undefined {
  const { part } = bench;
  const propeller = ofKind(part.part('propeller'), 'propeller');
  const motor = ofKind(part.part('motor'), 'motor');
  const lack = new Lack();
  const motorNumbers = motor && motorTemplate(motor, lack);
  const propellerNumbers = propeller && propellerTemplate(build, propeller, lack);
  if (!motorNumbers || !propellerNumbers) return undefined;
  const rows = rowsOf(bench).filter(isCounted);
  const lines = rows.flatMap((row, index) =>
    linesOf(row, index).filter(({ quantity }) => !isLeft(quantity, row.number)),
  );
  if (lines.length === 0) return undefined;

  const id = standId(bench);
  const board = ofKind(part.part('esc'), 'esc');
  const gain = ofKind(part.part('airframe'), 'airframe')?.figure('duct_gain');
  const air = part.declared('air');
  const altitude = air?.conditions.at;
  const temperature =
    air ?? nuisance(`${id}.air`, `air at ${part.name}`, WORKSHOP.temperature, WORKSHOP_SCATTER.temperature, 'plain');
  const height =
    altitude ??
    nuisance(`${id}.altitude`, `altitude of ${part.name}`, WORKSHOP.altitude, WORKSHOP_SCATTER.altitude, 'plain');
  const own = { ...WINDING_TEMPERATURE, ...ownIdentity(`${id}.winding_temperature`) };
  const template: Template<Stand> = {
    motor: motorNumbers,
    esc: (board && escTemplate(board, lack)) ?? unnamedBoard(id, part.name),
    propeller: propellerNumbers,
    thrustGain: gain ? (read) => 1 + read(gain) : 1,
    density: (read) => airAt({ temperature: read(temperature), altitude: read(height) }).density,
    partDuty: asRead(terms.partDuty),
    fullDutyFactor: asRead(terms.fullDuty),
    current: asRead(nuisance(`${id}.current_scale`, `scale of the amperes of ${part.name}`, 1, STAND_SCALES.current)),
    thrust: asRead(nuisance(`${id}.thrust_scale`, `scale of the thrust of ${part.name}`, 1, STAND_SCALES.thrust)),
    warmth: rows.map((row) => warmthOf(row, id)),
    ...openOf(rows, id, fill<Propeller>(propellerNumbers).filled, fill<Motor>(motorNumbers).filled),
  };
  return sceneOf<Stand>({
    template: withOwn<Stand>(template, (figure) => (figure.id === WINDING_TEMPERATURE.id ? own : figure)),
    lines,
    circumstances: rows.map(({ bench: _, ...numbers }) => numbers),
    predict: (numbers, near) => {
      const known = near && solved.get(near);
      const states = rows.map((row, i) => stateOf(row, i, numbers, known?.[i]));
      solved.set(
        numbers,
        states.map((state) => state?.ownSpeed),
      );
      return lines.map(({ index, quantity }) => states[index]?.[quantity]);
    },
  });
}

/** Standard deviation, K: a sensor at the bell, or inside, is not the copper. */
const BESIDE_THE_COPPER = 8;

function warmthOf({ number, temperature }: BenchRow, id: string): Formula | number {
  if (temperature === undefined) return 1;
  const name = `${id}.row ${number}.temperature`;
  const winding = nuisance(
    name,
    `temperature of the winding in row ${number}`,
    temperature,
    BESIDE_THE_COPPER,
    'plain',
  );
  return (read) => copperFactor(read(winding)) / copperFactor(read(WINDING_TEMPERATURE));
}

export const standId = ({ part }: Bench): string => partId(part);

function unnamedBoard(id: string, name: string): Template<EscChannel> {
  const [resistance, width] = UNNAMED_BOARD.resistance;
  const [switching, spread] = UNNAMED_BOARD.switching;
  return {
    resistance: asRead(nuisance(`${id}.board`, `resistance of the board of ${name}`, resistance, resistance * width)),
    pwmFrequency: asRead(
      nuisance(`${id}.switching`, `switching of the board of ${name}`, switching, switching * spread),
    ),
  };
}

/** Solved from voltage and duty. */
const isDriven = ({ voltage, duty }: BenchRow): boolean => voltage !== undefined && duty !== undefined;

function linesOf(row: BenchRow, index: number): RowLine[] {
  const { bench, number } = row;
  const isRead: Readonly<Record<StandReading, number | undefined>> = {
    current: row.current,
    power: row.current === undefined ? row.power : undefined,
    thrust: row.thrust,
    speed: row.speed,
    torque: row.torque,
    duty: isDriven(row) ? undefined : row.duty,
  };
  return keysOf(STAND_READINGS).flatMap((quantity): RowLine[] => {
    const value = isRead[quantity];
    const { words, unit, error, floor, isPlain = false } = STAND_READINGS[quantity];
    if (value === undefined || value <= 0) return [];
    const column =
      bench.columns.find(({ name }) => name === quantity) ?? bench.columns.find(({ name }) => name === 'power');
    return [
      {
        label: `${words} in row ${number} of ${bench.part.name}`,
        reading: quantity,
        quantity,
        from: bench.part.name,
        source: standId(bench),
        index,
        row: number,
        isOpen: !isDriven(row),
        value,
        unit: column?.name === quantity ? column.unit : unit,
        error: isPlain ? error : Math.hypot(error, floor / value),
        isPlain,
        place: bench.rowPlaces[number - 1] ?? bench.place,
      },
    ];
  });
}

/** Speeds and voltages that rows leave open, as inputs of their own. */
function openOf(
  rows: readonly BenchRow[],
  id: string,
  propeller: Propeller,
  motor: Motor,
): Pick<Template<Stand>, 'speeds' | 'voltages'> {
  const air = airAt(WORKSHOP);
  const guess = ({ speed, thrust, torque, current, power, voltage }: BenchRow): number => {
    if (speed !== undefined) return speed;
    if (thrust !== undefined) return Math.sqrt(thrust / thrustFactor(propeller, air));
    const factor = powerFactor(propeller, air);
    if (torque !== undefined) return Math.sqrt(torque / factor);
    const watts = power ?? (current ?? 1) * (voltage ?? 10);
    return Math.cbrt((0.7 * watts) / factor);
  };
  const open = (i: number, what: string, value: number): Formula =>
    asRead(nuisance(`${id}.row ${rows[i]?.number}.${what}`, `${what} of row ${rows[i]?.number}`, value, OPEN * value));
  return {
    speeds: rows.map((row, i) => (isDriven(row) ? 0 : open(i, 'speed', guess(row)))),
    voltages: rows.map((row, i) => {
      if (row.voltage !== undefined) return row.voltage;
      const back = guess(row) / motor.speedConstant;
      return open(i, 'voltage', (1.3 * back) / (row.duty ?? 0.7));
    }),
  };
}

type State = Readonly<Record<StandReading, number>> & {
  /** rad/s, before the model's term for full duty. */
  readonly ownSpeed: number;
};

/** Speeds as solved, one per row, of stands that are being moved about. */
const solved = new WeakMap<Stand, readonly (number | undefined)[]>();

/** @param start a speed that hardly differs, rad/s */
function stateOf(row: BenchRow, index: number, numbers: Stand, start = 0): State | undefined {
  const { esc, propeller, thrustGain, density } = numbers;
  const air = { density, speedOfSound: 340 };
  const warmth = numbers.warmth[index] ?? 1;
  const motor = warmth === 1 ? numbers.motor : { ...numbers.motor, resistance: numbers.motor.resistance * warmth };
  const voltage = numbers.voltages[index] ?? 0;
  const group: RotorGroup = { count: 1, motor, propeller, esc, thrustGain, coaxialFactor: 1 };
  const speed = isDriven(row)
    ? speedOnVoltage(
        motor,
        powerFactor(propeller, air),
        esc.resistance,
        (row.duty ?? 1) * voltage,
        start,
        undefined,
        propeller,
      )
    : (numbers.speeds[index] ?? 0);
  if (!(speed > 0) || !(voltage > 0)) return undefined;
  const drive = driveAtSpeed(group, air, speed);
  const { busCurrent, duty, shaftPower } = rotorState(drive, voltage, numbers.partDuty);
  const factor = isDriven(row) ? numbers.fullDutyFactor ** fullDutyWeight(duty) : 1;
  const current = busCurrent * factor * numbers.current;
  return {
    ownSpeed: speed,
    current,
    power: current * voltage,
    thrust: drive.thrust * factor ** (2 / 3) * numbers.thrust,
    speed: speed * factor ** (1 / 3),
    torque: (shaftPower / speed) * factor ** (2 / 3),
    duty: drive.appliedVoltage / voltage,
  };
}
