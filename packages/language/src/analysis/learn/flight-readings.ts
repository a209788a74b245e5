/** The lines that an observation can have, by what they are about. */

/** What a line of an observation is about. */
export type Reading =
  | 'scale'
  | 'put_back'
  | 'counted'
  | 'hover_current'
  | 'hover_output'
  | 'hover_speed'
  | 'hover_voltage'
  | 'burst_current'
  | 'burst_voltage'
  | 'burst_speed'
  | 'rested'
  | 'cell_resistance';

interface Kind {
  readonly words: string;
  readonly unit: string;
  /**
   * How alike two readings of one craft are in addition to the instrument's own ±, one standard deviation, relative (of an output: of full): a gust, a
   * hand that is not steady, a pack that is not quite full. Ours, from a spike on simulated craft.
   */
  readonly alike: number;
  readonly isPlain?: boolean;
}

export const READINGS: Readonly<Record<Reading, Kind>> = {
  scale: { words: 'weight on the scale', unit: 'g', alike: 0 },
  put_back: { words: 'charge put back', unit: 'mAh', alike: 0.041 },
  counted: { words: 'charge counted', unit: 'mAh', alike: 0.0161 },
  hover_current: { words: 'current in hover', unit: 'A', alike: 0.0102 },
  hover_output: { words: 'output in hover', unit: '%', alike: 0.0132, isPlain: true },
  hover_speed: { words: 'speed in hover', unit: 'rpm', alike: 0.015 },
  hover_voltage: { words: 'voltage in hover', unit: 'V', alike: 0.0033 },
  burst_current: { words: 'current in a burst', unit: 'A', alike: 0.02 },
  burst_voltage: { words: 'voltage in a burst', unit: 'V', alike: 0.0098 },
  burst_speed: { words: 'speed in a burst', unit: 'rpm', alike: 0.015 },
  rested: { words: 'resting voltage after landing', unit: 'V', alike: 0.0025 },
  cell_resistance: { words: 'resistance of a cell', unit: 'mohm', alike: 0 },
};

/** One standard deviation of what all readings of one recorder, or of one charger, have in common. */
export const INSTRUMENTS = { current: 0.05, voltage: 0.005, charger: 0.015 };
/** Which of them a reading shares. */
export const SHARED: Readonly<Partial<Record<Reading, keyof typeof INSTRUMENTS>>> = {
  put_back: 'charger',
  counted: 'current',
  hover_current: 'current',
  burst_current: 'current',
  hover_voltage: 'voltage',
  burst_voltage: 'voltage',
};
