/** Columns that tables may have: the rows of a `bench`, what a test stand reads; a `log`, what a flight recorder writes. */
import {
  CURRENT,
  FORCE,
  LENGTH,
  NONE,
  POWER,
  ROTATIONAL_SPEED,
  SPEED,
  TEMPERATURE_POINT,
  TIME,
  TORQUE,
  VOLTAGE,
} from '../units/dimension.ts';
import type { Dimension } from '../units/quantity.ts';

export interface ColumnSchema {
  readonly dimension: Dimension;
  /** In which the trade writes it. */
  readonly unit: string;
  /** Inclusive, in `unit`. */
  readonly plausible: readonly [number, number];
  /** Several columns of a table may be this one: their average counts. */
  readonly repeats?: boolean;
  readonly description: string;
}

export type Columns = Readonly<Record<string, ColumnSchema>>;

export const COLUMNS: Columns & Readonly<Record<'duty' | 'voltage' | 'current' | 'thrust', ColumnSchema>> = {
  duty: { dimension: NONE, unit: '%', plausible: [0, 100], description: 'Duty commanded to the board.' },
  voltage: { dimension: VOLTAGE, unit: 'V', plausible: [0, 70], description: 'At the board, under load.' },
  current: { dimension: CURRENT, unit: 'A', plausible: [0, 300], description: 'Into the board.' },
  power: { dimension: POWER, unit: 'W', plausible: [0, 15_000], description: 'Into the board.' },
  thrust: {
    dimension: FORCE,
    unit: 'gf',
    plausible: [0, 30_000],
    description: 'Of the rotor, with its duct where it has one.',
  },
  torque: { dimension: TORQUE, unit: 'N*m', plausible: [0, 20], description: 'On the shaft.' },
  speed: { dimension: ROTATIONAL_SPEED, unit: 'rpm', plausible: [0, 150_000], description: 'Of the rotor.' },
  temperature: {
    dimension: TEMPERATURE_POINT,
    unit: 'degC',
    plausible: [-40, 250],
    description: 'Of the motor, inside.',
  },
};

export const LOG_COLUMNS: Columns & { readonly time: ColumnSchema } = {
  time: { dimension: TIME, unit: 's', plausible: [-1e12, 1e12], description: 'Since any moment, or a time of day.' },
  voltage: { dimension: VOLTAGE, unit: 'V', plausible: [0, 70], description: 'Of the pack.' },
  current: { dimension: CURRENT, unit: 'A', plausible: [-300, 1000], description: 'Out of the pack.' },
  output: {
    dimension: NONE,
    unit: '%',
    plausible: [-5, 105],
    repeats: true,
    description: 'Motor output: one column for each motor, or one for their average.',
  },
  speed: {
    dimension: ROTATIONAL_SPEED,
    unit: 'rpm',
    plausible: [0, 150_000],
    repeats: true,
    description: 'Of the rotors: one column for each, or one for their average.',
  },
  height: { dimension: LENGTH, unit: 'm', plausible: [-500, 10_000], description: 'Above any level.' },
  ground_speed: {
    dimension: SPEED,
    unit: 'm/s',
    plausible: [-100, 100],
    description: 'Over ground; distinguishes hover from cruise.',
  },
  air_temperature: {
    dimension: TEMPERATURE_POINT,
    unit: 'degC',
    plausible: [-40, 60],
    repeats: true,
    description: 'Of the air around the craft; replaced by an `air` line of the block.',
  },
  pack_temperature: {
    dimension: TEMPERATURE_POINT,
    unit: 'degC',
    plausible: [-40, 100],
    repeats: true,
    description: 'Of the pack, on its cells: its resistance is compared at that temperature.',
  },
};

export function columnOf(name: string, columns: Columns = COLUMNS): ColumnSchema | undefined {
  return Object.hasOwn(columns, name) ? columns[name] : undefined;
}
