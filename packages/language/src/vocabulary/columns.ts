/** Columns that the rows of a `bench` may have: what a test stand reads. */
import {
  CURRENT,
  FORCE,
  NONE,
  POWER,
  ROTATIONAL_SPEED,
  TEMPERATURE_POINT,
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
  readonly says: string;
}

export const COLUMNS: Readonly<Record<string, ColumnSchema>> = {
  duty: { dimension: NONE, unit: '%', plausible: [0, 100], says: 'Duty commanded to the board.' },
  voltage: { dimension: VOLTAGE, unit: 'V', plausible: [0, 70], says: 'At the board, under load.' },
  current: { dimension: CURRENT, unit: 'A', plausible: [0, 300], says: 'Into the board.' },
  power: { dimension: POWER, unit: 'W', plausible: [0, 15_000], says: 'Into the board.' },
  thrust: {
    dimension: FORCE,
    unit: 'gf',
    plausible: [0, 30_000],
    says: 'Of the rotor, with its duct where it has one.',
  },
  torque: { dimension: TORQUE, unit: 'N*m', plausible: [0, 20], says: 'On the shaft.' },
  speed: { dimension: ROTATIONAL_SPEED, unit: 'rpm', plausible: [0, 150_000], says: 'Of the rotor.' },
  temperature: { dimension: TEMPERATURE_POINT, unit: 'degC', plausible: [-40, 250], says: 'Of the motor, inside.' },
};

export function columnOf(name: string): ColumnSchema | undefined {
  return Object.hasOwn(COLUMNS, name) ? COLUMNS[name] : undefined;
}
