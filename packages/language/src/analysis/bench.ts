/**
 * A propeller's coefficients from rows of a test stand, in place of the estimate from its size.
 *
 * With speed in a row: C_T = T / (ρ n² D⁴), and C_P = P / (ρ n³ D⁵) from torque (P = 2π n Q) or from what the motor takes,
 * its losses taken off. Without speed: from voltage, current and duty, through the motor's own figures. Bus current is power, so
 * v·i = V·I gives the winding current i where the speed is known, and i = I/d where the duty is.
 * Of several rows the median counts; their scatter about it becomes the ±. Rows below a fifth of the largest thrust are left out:
 * there what a board and an idling motor take outweighs the propeller.
 *
 * Sources: definitions of the UIUC propeller database (AIAA 2011-1255); the motor as in `physics/motor.ts`.
 * Neglected: the trend of the coefficients over speed (it is in the scatter), the board's idle draw, ripple.
 */
import { isAbout, isSamePart } from '../model/benches.ts';
import type { Bench, Build, Figure, Part, Reading, RotorLine } from '../model/build.ts';
import { airAt } from '../physics/air.ts';
import type { Motor } from '../physics/craft.ts';
import { noLoadLoss } from '../physics/motor.ts';
import { figureOfMerit } from '../physics/propeller.ts';
import { NONE } from '../units/dimension.ts';
import { escTemplate, Lack, motorTemplate } from './drive.ts';
import { asItStands, fill, type Template } from './template.ts';

/** One row that says something about the propeller. */
export interface BenchRow {
  readonly bench: Bench;
  /** In the order written, the first is 1. */
  readonly number: number;
  /** N */
  readonly thrust: number;
  readonly duty?: number;
  readonly voltage?: number;
  readonly current?: number;
  readonly torque?: number;
  /** rad/s */
  readonly speed?: number;
}

export interface Coefficients {
  readonly thrust: number;
  /** Absent where the row tells thrust and speed alone. */
  readonly power?: number;
}

export interface BenchFit {
  readonly thrustCoefficient: Figure;
  readonly powerCoefficient?: Figure;
  /** The thrust was measured in the build's own ducts. */
  readonly inDuct: boolean;
  /** Rows that count, each with its own coefficients as the figures stand. */
  readonly rows: readonly { readonly row: BenchRow; readonly coefficients: Coefficients }[];
}

const LEAST_SHARE_OF_THRUST = 0.2;
/** Relative standard uncertainties of a coefficient from one good row, and of the air where the bench does not say it. */
const INSTRUMENTS = 0.02;
const SINGLE_ROW = 0.03;
const UNKNOWN_AIR = 0.02;
/** Temperature (K) and altitude (m) of a stand that says neither: a workshop. */
const WORKSHOP = { temperature: 293.15, altitude: 100 };

const fits = new WeakMap<RotorLine, BenchFit | undefined>();

/** What test stands say of a rotor line's propeller; undefined where none does. */
export function benchFit(build: Build, line: RotorLine): BenchFit | undefined {
  if (!fits.has(line)) fits.set(line, fit(build, line));
  return fits.get(line);
}

function fit(build: Build, line: RotorLine): BenchFit | undefined {
  const { propeller } = line;
  const about = build.benches.filter((bench) => isAbout(bench, propeller));
  const inDucts = about.filter(({ part }) => isFrameOf(build, part.part('airframe')));
  // A stand in another craft's ducts says little about this one.
  const bare = about.filter(({ part }) => !part.part('airframe'));
  const counted = inDucts.length > 0 ? inDucts : bare;
  const diameter = propeller.figure('diameter');
  if (counted.length === 0 || !diameter) return undefined;

  const rows = counted.flatMap(rowsOf).flatMap((row) => {
    const formula = coefficientsOf(row, diameter);
    const coefficients = formula?.(asItStands);
    const counts = formula && coefficients && faultOf(row, coefficients, inDucts.length > 0) === undefined;
    return counts ? [{ row, formula, coefficients }] : [];
  });
  const thrusts = rows.map(({ row }) => row.thrust);
  const used = rows.filter(({ row }) => row.thrust >= LEAST_SHARE_OF_THRUST * Math.max(...thrusts));
  const thrust = figureOf('thrust', propeller, counted, used);
  if (!thrust) return undefined;
  const power = figureOf('power', propeller, counted, used);
  return {
    thrustCoefficient: thrust,
    ...(power && { powerCoefficient: power }),
    inDuct: inDucts.length > 0,
    rows: used,
  };
}

/** What no propeller does. */
export type RowFault = 'faster than unloaded' | 'too much thrust' | 'less power than ideal';

/** Of kv times the voltage: meters and the last digits of a kv. */
const FASTER = 1.05;
/** No propeller has such a thrust coefficient, nor so small a one. */
export const MOST_THRUST = 0.3;

/** Loaded faster than its winding turns unloaded, more thrust for its speed than any propeller, or less power than moving the air takes. */
export function faultOf(row: BenchRow, { thrust, power }: Coefficients, inDuct: boolean): RowFault | undefined {
  const unloaded = unloadedSpeed(row);
  if (row.speed !== undefined && unloaded !== undefined && row.speed > FASTER * unloaded) return 'faster than unloaded';
  if (thrust > MOST_THRUST) return 'too much thrust';
  if (power === undefined) return undefined;
  // Measured in a duct, a rotor may do √2 better than the open one; meters may be off.
  const merit = figureOfMerit({ diameter: 1, thrustCoefficient: thrust, powerCoefficient: power });
  return merit > FASTER * (inDuct ? Math.SQRT2 : 1) ? 'less power than ideal' : undefined;
}

/** rad/s, of the row's motor at its voltage and duty, where all that is known. */
export function unloadedSpeed({ bench, voltage, duty }: BenchRow): number | undefined {
  const kv = bench.part.part('motor')?.declared('kv');
  return kv && voltage !== undefined ? kv.value * voltage * (duty ?? 1) : undefined;
}

/** As `fit` has them, for rows that it may have left out. */
export function coefficientsOfRow(row: BenchRow, diameter: Figure): Coefficients | undefined {
  return coefficientsOf(row, diameter)?.(asItStands);
}

const isFrameOf = ({ airframe }: Build, measured: Part | undefined): boolean =>
  airframe !== undefined && measured !== undefined && isSamePart(airframe.part, measured);

export function rowsOf(bench: Bench): BenchRow[] {
  const index = (name: string) => bench.columns.findIndex((column) => column.name === name);
  const at = { thrust: index('thrust'), duty: index('duty'), voltage: index('voltage'), current: index('current') };
  const further = { power: index('power'), torque: index('torque'), speed: index('speed') };
  return bench.rows.flatMap((cells, i) => {
    const cell = (column: number) => (column < 0 ? undefined : positive(cells[column]));
    const thrust = cell(at.thrust);
    if (thrust === undefined) return [];
    const voltage = cell(at.voltage);
    const power = cell(further.power);
    const current = cell(at.current) ?? (power !== undefined && voltage !== undefined ? power / voltage : undefined);
    return [
      {
        bench,
        number: i + 1,
        thrust,
        ...present({ duty: cell(at.duty), voltage, current, torque: cell(further.torque), speed: cell(further.speed) }),
      },
    ];
  });
}

const positive = (value: number | undefined): number | undefined =>
  value !== undefined && value > 0 ? value : undefined;

function present<Key extends string>(values: Readonly<Record<Key, number | undefined>>): { [K in Key]?: number } {
  const kept: { [K in Key]?: number } = {};
  for (const key of Object.keys(values) as Key[]) {
    const value = values[key];
    if (value !== undefined) kept[key] = value;
  }
  return kept;
}

type RowFormula = (read: Reading) => Coefficients | undefined;

/** Undefined where the row says too little, or the motor's figures cannot make it come true. */
function coefficientsOf(row: BenchRow, diameter: Figure): RowFormula | undefined {
  const { part } = row.bench;
  const drive = driveOf(part);
  if (row.speed === undefined && (!drive || row.duty === undefined || !row.voltage || !row.current)) return undefined;
  return (read) => {
    const numbers = drive && fill<Drive>(drive, read).filled;
    const point = numbers ? turning(row, numbers) : undefined;
    const speed = row.speed ?? point?.speed;
    if (speed === undefined || !(speed > 0)) return undefined;
    const turns = speed / (2 * Math.PI);
    const density = densityOf(part, read);
    const across = read(diameter);
    if (!(across > 0)) return undefined;
    const shaftPower = row.torque === undefined ? point?.shaftPower : row.torque * speed;
    const thrust = row.thrust / (density * turns ** 2 * across ** 4);
    if (shaftPower === undefined || !(shaftPower > 0)) return { thrust };
    return { thrust, power: shaftPower / (density * turns ** 3 * across ** 5) };
  };
}

interface Drive {
  readonly motor: Motor;
  /** Of the board's channel, ohm. */
  readonly boardResistance: number;
}

function driveOf(bench: Part): Template<Drive> | undefined {
  const motor = bench.part('motor');
  const board = bench.part('esc');
  const numbers = motor && motorTemplate(motor, new Lack());
  const channel = board && escTemplate(board, new Lack());
  // A stand's board is a good one, and seldom named.
  return numbers && { motor: numbers, boardResistance: channel?.resistance ?? 0 };
}

/** Speed and shaft power of a row, from what it says of the electrical side. */
function turning(row: BenchRow, { motor, boardResistance }: Drive): { speed: number; shaftPower: number } | undefined {
  const { voltage, current, duty } = row;
  if (voltage === undefined || current === undefined) return undefined;
  const emf = 1 / motor.speedConstant;
  const resistance = motor.resistance + boardResistance;
  let speed = row.speed;
  let winding: number;
  if (speed === undefined) {
    if (duty === undefined) return undefined;
    winding = current / duty;
    speed = (duty * voltage - winding * resistance) / (emf + winding * motor.commutationSlope);
  } else {
    // V·I = (ω/K + i·(R + X))·i
    const series = resistance + motor.commutationSlope * speed;
    const back = speed * emf;
    winding = (2 * voltage * current) / (back + Math.sqrt(back ** 2 + 4 * series * voltage * current));
  }
  const lossless = (1 - motor.commutationLossShare) * motor.commutationSlope * speed;
  return { speed, shaftPower: winding * speed * emf + lossless * winding ** 2 - noLoadLoss(motor, speed) };
}

function densityOf(bench: Part, read: Reading): number {
  const air = bench.declared('air');
  const altitude = air?.conditions.at;
  return airAt({
    temperature: air ? read(air) : WORKSHOP.temperature,
    altitude: altitude ? read(altitude) : WORKSHOP.altitude,
  }).density;
}

interface Used {
  readonly row: BenchRow;
  readonly formula: RowFormula;
  readonly coefficients: Coefficients;
}

function figureOf(
  which: 'thrust' | 'power',
  propeller: Part,
  benches: readonly Bench[],
  used: readonly Used[],
): Figure | undefined {
  const telling = used.filter(({ coefficients }) => coefficients[which] !== undefined);
  if (telling.length === 0) return undefined;
  const estimate = (read: Reading) =>
    median(telling.flatMap(({ formula, coefficients }) => (formula(read) ?? coefficients)[which] ?? []));
  const value = estimate(asItStands);
  const scatter = scatterAbout(
    value,
    telling.flatMap(({ coefficients }) => coefficients[which] ?? []),
  );
  const airKnown = benches.every(({ part }) => part.declared('air'));
  const names = benches.map(({ part }) => part.name).join(', ');
  const rows = telling.length === 1 ? 'one row' : `${telling.length} rows`;
  const [first] = benches;
  return {
    id: `${propeller.place.uri}#propeller ${propeller.name}.${which}_coefficient.bench`,
    label: `${which} coefficient of ${propeller.name}, from ${names}`,
    value,
    dimension: NONE,
    unit: '',
    standardUncertainty: value * Math.hypot(scatter, INSTRUMENTS, airKnown ? 0 : UNKNOWN_AIR),
    origin: 'measured',
    source: `${rows} of ${names}`,
    because: `${rows} of ${names}; its ± is their scatter`,
    ...(first && { place: first.place }),
    conditions: {},
    estimate,
  };
}

function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const middle = sorted.length >> 1;
  const upper = sorted[middle] ?? 0;
  return sorted.length % 2 === 1 ? upper : (upper + (sorted[middle - 1] ?? upper)) / 2;
}

/** Relative standard deviation of rows about their median; a lone row is taken to be as good as rows usually are. */
function scatterAbout(value: number, values: readonly number[]): number {
  if (values.length < 2) return SINGLE_ROW;
  const squares = values.reduce((sum, one) => sum + (one / value - 1) ** 2, 0);
  return Math.sqrt(squares / (values.length - 1));
}

/** The coefficients that a rotor line flies with: from a stand, else declared, else estimated. */
export function coefficientsOfLine(
  build: Build,
  line: RotorLine,
): { thrust?: Figure; power?: Figure; inDuct: boolean } {
  const fit = benchFit(build, line);
  const thrust = fit?.thrustCoefficient ?? line.propeller.figure('thrust_coefficient');
  const power = fit?.powerCoefficient ?? powerBeside(line.propeller, fit?.thrustCoefficient);
  return { ...(thrust && { thrust }), ...(power && { power }), inDuct: fit?.inDuct ?? false };
}

/** In the open data a propeller that pulls 1 % more takes this many percent more: `physics/propeller-estimate.ts`. */
const POWER_FOLLOWS_THRUST = 0.86;

/** The power coefficient beside a thrust coefficient that was measured without it: it follows, or the pair would make no sense. */
function powerBeside(propeller: Part, measured: Figure | undefined): Figure | undefined {
  const power = propeller.figure('power_coefficient');
  const thrust = propeller.figure('thrust_coefficient');
  if (!power || !thrust || !measured) return power;
  const estimate = (read: Reading) => read(power) * (read(measured) / read(thrust)) ** POWER_FOLLOWS_THRUST;
  return {
    ...power,
    id: `${power.id}.beside_bench`,
    value: estimate(asItStands),
    standardUncertainty: 0,
    because: 'as stated or estimated, and as its measured thrust coefficient lies above or below what that went with',
    estimate,
  };
}

/** What the model's own terms rest on: rows with volts and amperes, at full duty, and near hover. */
export function electricalRows({ rows }: BenchFit): BenchRow[] {
  return rows.map(({ row }) => row).filter(({ voltage, current }) => voltage !== undefined && current !== undefined);
}
