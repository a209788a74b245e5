/**
 * Rows of a test stand, and what no row can be. What is learnt from rows is found by the fit, see `stand-lines.ts`.
 *
 * With speed in a row C_T = T / (ρ n² D⁴), and C_P is at most P / (ρ n³ D⁵), P from torque (2π n Q) or all that the board takes.
 *
 * Sources: definitions of the UIUC propeller database (AIAA 2011-1255).
 */
import type { Bench, Figure, Part } from '../../model/build.ts';
import { airAt } from '../../physics/air.ts';
import { figureOfMerit } from '../../physics/propeller.ts';
import { keysOf } from '../../units/lookup-table.ts';

/** One row of evidence about the propeller. */
export interface BenchRow {
  readonly bench: Bench;
  /** In the order written, the first is 1. */
  readonly number: number;
  /** N */
  readonly thrust?: number;
  readonly duty?: number;
  readonly voltage?: number;
  readonly current?: number;
  /** W */
  readonly power?: number;
  readonly torque?: number;
  /** rad/s */
  readonly speed?: number;
  /** Of the motor, K. */
  readonly temperature?: number;
}

/** Of the propeller, by one row alone. */
export interface Coefficients {
  readonly thrust: number;
  /** No smaller than the true one. Absent where the row reports thrust and speed alone. */
  readonly power?: number;
}

/** Temperature (K) and altitude (m) of a stand that states neither: a workshop. */
export const WORKSHOP = { temperature: 293.15, altitude: 100 };

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

export function rowsOf(bench: Bench): BenchRow[] {
  const index = (name: string) => bench.columns.findIndex((column) => column.name === name);
  const at = { thrust: index('thrust'), duty: index('duty'), voltage: index('voltage'), current: index('current') };
  const further = {
    power: index('power'),
    torque: index('torque'),
    speed: index('speed'),
    temperature: index('temperature'),
  };
  return bench.rows.map((cells, i) => {
    const cell = (column: number) => (column < 0 ? undefined : positive(cells[column]));
    const voltage = cell(at.voltage);
    const power = cell(further.power);
    const current = cell(at.current) ?? (power !== undefined && voltage !== undefined ? power / voltage : undefined);
    return {
      bench,
      number: i + 1,
      ...present({
        thrust: cell(at.thrust),
        duty: cell(at.duty),
        voltage,
        current,
        power,
        torque: cell(further.torque),
        speed: cell(further.speed),
        temperature: cell(further.temperature),
      }),
    };
  });
}

const positive = (value: number | undefined): number | undefined =>
  value !== undefined && value > 0 ? value : undefined;

function present<Key extends string>(values: Readonly<Record<Key, number | undefined>>): { [K in Key]?: number } {
  const kept: { [K in Key]?: number } = {};
  for (const key of keysOf(values)) {
    const value = values[key];
    if (value !== undefined) kept[key] = value;
  }
  return kept;
}

/** Undefined where the row states too little. */
export function coefficientsOfRow(row: BenchRow, diameter: Figure): Coefficients | undefined {
  const { bench, thrust: pull, speed, torque, voltage, current, power: watts } = row;
  const across = diameter.value;
  if (pull === undefined || speed === undefined || !(across > 0)) return undefined;
  const turns = speed / (2 * Math.PI);
  const density = densityOf(bench.part);
  const thrust = pull / (density * turns ** 2 * across ** 4);
  const electrical = voltage !== undefined && current !== undefined ? voltage * current : watts;
  const power = torque === undefined ? electrical : torque * speed;
  return power === undefined ? { thrust } : { thrust, power: power / (density * turns ** 3 * across ** 5) };
}

function densityOf(bench: Part): number {
  const air = bench.declared('air');
  const { temperature, altitude } = WORKSHOP;
  return airAt({ temperature: air?.value ?? temperature, altitude: air?.conditions.at?.value ?? altitude }).density;
}
