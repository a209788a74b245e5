/** What a log is read for, by what a line of the fit is about. */
import type { Averages } from '../log/flight-series.ts';
import { type Disputed, EASY_WORK, type FlightReading, HARD_WORK, isReading, READINGS } from './flight-readings.ts';
import type { MeasuredLine } from './scene.ts';

export type LogReading =
  | 'rested_before'
  | 'rested'
  | 'rest_current'
  | 'logged_voltage'
  | 'sag'
  | 'hover_current'
  | 'hover_output'
  | 'hover_speed'
  | 'burst_current'
  | 'burst_voltage'
  | 'flown_power'
  | 'counted';

interface Kind {
  readonly words: string;
  readonly unit: string;
  /** One standard deviation of one stretch, without scale and zero of the recorder: of the logarithm, or SI where `isPlain`. Ours. */
  readonly error: number;
  readonly isPlain?: boolean;
}

/** One that an observation can have as well is disputed in the same words; of others `never`: it decides too little. */
type Kinds = {
  readonly [Name in LogReading]: Name extends FlightReading ? Kind : Kind & { readonly disputed: Disputed | 'never' };
};

export const LOG_READINGS: Kinds = {
  rested_before: {
    words: 'resting voltage before take-off',
    unit: 'V',
    error: 0.003,
    disputed: {
      words: 'resting voltage before take-off',
      more: 'cells of another chemistry than stated, or a recorder whose volts read high',
      less: 'a recorder whose volts read low, or a craft that did not rest',
    },
  },
  // Seconds after landing it has not quite come back.
  rested: { words: 'resting voltage after landing', unit: 'V', error: 0.006 },
  rest_current: { words: 'current at rest', unit: 'A', error: 0.03, isPlain: true, disputed: 'never' },
  logged_voltage: { words: 'voltage over the logged current', unit: 'V', error: 0.005, disputed: 'never' },
  sag: { words: 'resistance by the sag', unit: 'mohm', error: 0.15, disputed: 'never' },
  hover_current: { words: 'current in steady flight', unit: 'A', error: 0.012 },
  hover_output: { words: 'output in steady flight', unit: '%', error: 0.018, isPlain: true },
  hover_speed: { words: 'speed in steady flight', unit: 'rpm', error: 0.015 },
  burst_current: { words: 'current in a burst', unit: 'A', error: 0.04 },
  burst_voltage: { words: 'voltage in a burst', unit: 'V', error: 0.012 },
  // One flight is not flown as the next.
  flown_power: {
    words: 'mean power in the air',
    unit: 'W',
    error: 0.03,
    disputed: {
      words: 'mean power in the air',
      more: `${HARD_WORK}; it was flown harder than in hover`,
      less: EASY_WORK,
    },
  },
  counted: { words: 'charge counted', unit: 'mAh', error: 0.022 },
};

/** How a line that was read in a flight or in its log is disputed; none of a scale or a stand, which have findings of their own. */
export function disputedOf(reading: string): Disputed | undefined {
  const own = isReading(reading) ? READINGS[reading].disputed : disputedInLogs.get(reading);
  return typeof own === 'object' ? own : undefined;
}

const disputedInLogs = new Map<string, Disputed | 'never'>(
  Object.entries(LOG_READINGS).flatMap(([name, kind]) => ('disputed' in kind ? [[name, kind.disputed]] : [])),
);

export interface MeasuredLogLine extends MeasuredLine {
  readonly kind: LogReading;
  readonly at: Averages;
}
