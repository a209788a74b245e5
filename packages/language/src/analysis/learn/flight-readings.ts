/**
 * The lines that an observation can have, by what they are about: what each is called, how well it is read, what the craft predicts for it, and
 * what is likely wrong where the two disagree. Its shape, unit and the ± of the instrument are in `vocabulary/kinds/flying.ts`.
 */
import { packRestingVoltage } from '../../physics/chemistry.ts';
import { keysOf } from '../../units/lookup-table.ts';
import type { ObservedLine } from '../../vocabulary/kinds/flying.ts';
import { type FlightPoints, mostOfRotors } from './flight-points.ts';

/** Lines that describe the flight, or that nothing is learnt from. */
type Circumstance = 'on' | 'air' | 'airborne' | 'flown' | 'motor_temperature';

export type FlightReading = Exclude<ObservedLine, Circumstance>;

/** One standard deviation of what all readings of one recorder, or of one charger, have in common. */
export const INSTRUMENTS = { current: 0.05, voltage: 0.005, charger: 0.015 };

/** What a line is called where it contradicts the others, and the likely causes. */
export interface Disputed {
  readonly words: string;
  /** When more was observed. */
  readonly more: string;
  /** When less was. */
  readonly less: string;
}

/** What no craft of this weight takes less than: A in hover, C in the flight as long as it was. */
interface LeastTaken {
  readonly current: number;
  readonly charge: number | undefined;
}

type Kind = About & (OfPoint | OfFlight);

/** Measurements that some tools allow. How each is taken is in `measurement-kinds.ts`. */
export type MeasurementId =
  | 'scale'
  | 'charger'
  | 'resistance'
  | 'rested'
  | 'hover'
  | 'burst'
  | 'counted'
  | 'log'
  | 'speed';

interface About {
  /** Which measurements read it: what `fettle measure` may advise. None where it is never advised. */
  readonly measuredBy: readonly MeasurementId[];
  readonly words: string;
  readonly unit: string;
  /**
   * How alike two readings of one craft are in addition to the instrument's own ±, one standard deviation, relative (of an output: of full): a gust, a
   * hand that is not steady, a pack that is not quite full. Ours, from a spike on simulated craft.
   */
  readonly alike: number;
  readonly isPlain?: boolean;
  /** Whose error it shares with other readings. */
  readonly instrument?: keyof typeof INSTRUMENTS;
  readonly least?: (taken: LeastTaken) => number | undefined;
  /** `elsewhere`: it has a finding of its own. */
  readonly disputed: Disputed | 'elsewhere';
}

interface OfPoint {
  /** Has to be solved for it. */
  readonly point: 'hover' | 'burst';
  /** SI; undefined where there is no such point. */
  readonly predict: (points: FlightPoints) => number | undefined;
}

interface OfFlight {
  readonly point?: undefined;
  readonly predict: (points: Omit<FlightPoints, OfPoint['point']>) => number | undefined;
}

export const HARD_WORK = 'bent or wrong propellers, a dragging bearing, more weight, or a coefficient that is off';
export const EASY_WORK = 'less weight, help from the ground or a wind, or a coefficient that is off';

/** In the order in which their lines are taken into the fit. */
export const READINGS: Readonly<Record<FlightReading, Kind>> = {
  scale: {
    measuredBy: ['scale'],
    words: 'weight on the scale',
    unit: 'g',
    alike: 0,
    predict: ({ craft }) => craft.mass,
    disputed: 'elsewhere',
  },
  put_back: {
    measuredBy: ['charger', 'rested', 'counted'],
    words: 'charge put back',
    unit: 'mAh',
    alike: 0.041,
    instrument: 'charger',
    predict: ({ used }) => used,
    least: ({ charge }) => charge,
    disputed: {
      words: 'charge put back',
      more: `${HARD_WORK}; it did not only hover, or ran on the ground before`,
      less: `${EASY_WORK}; a pack that was not charged full`,
    },
  },
  counted: {
    measuredBy: ['counted', 'log'],
    words: 'charge counted',
    unit: 'mAh',
    alike: 0.0161,
    instrument: 'current',
    // With a charger it is the recorder alone that is compared with it.
    predict: ({ used, circumstances }) => circumstances.back ?? used,
    least: ({ charge }) => charge,
    disputed: {
      words: 'charge counted',
      more: 'a recorder whose amperes are off, or a flight longer than stated',
      less: 'a recorder whose amperes are off, or a flight shorter than stated',
    },
  },
  hover_current: {
    measuredBy: ['hover', 'log'],
    words: 'current in hover',
    unit: 'A',
    alike: 0.0102,
    instrument: 'current',
    point: 'hover',
    predict: ({ hover }) => hover?.packCurrent,
    least: ({ current }) => current,
    disputed: { words: 'current in hover', more: HARD_WORK, less: EASY_WORK },
  },
  hover_output: {
    measuredBy: ['hover', 'log'],
    words: 'output in hover',
    unit: '%',
    alike: 0.0132,
    isPlain: true,
    point: 'hover',
    predict: ({ hover }) => hover && mostOfRotors(hover, ({ duty }) => duty),
    disputed: {
      words: 'output in hover',
      more: `${HARD_WORK}, or a lower kv; an output that is not the duty`,
      less: `${EASY_WORK}, or a higher kv; an output that is not the duty`,
    },
  },
  hover_speed: {
    measuredBy: ['speed'],
    words: 'speed in hover',
    unit: 'rpm',
    alike: 0.015,
    point: 'hover',
    predict: ({ hover }) => hover && mostOfRotors(hover, ({ speed }) => speed),
    disputed: {
      words: 'speed in hover',
      more: 'a wrong pole count, smaller or flatter propellers, or more weight',
      less: 'a wrong pole count, larger or steeper propellers, or less weight',
    },
  },
  hover_voltage: {
    measuredBy: ['hover', 'log'],
    words: 'voltage in hover',
    unit: 'V',
    alike: 0.0033,
    instrument: 'voltage',
    point: 'hover',
    predict: ({ hover }) => hover?.busVoltage,
    disputed: {
      words: 'voltage in hover',
      more: 'another pack than stated, or a voltmeter that is off',
      less: 'another pack than stated, one that was flown past its reserve, or a voltmeter that is off',
    },
  },
  burst_current: {
    measuredBy: ['burst', 'log'],
    words: 'current in a burst',
    unit: 'A',
    alike: 0.02,
    instrument: 'current',
    point: 'burst',
    predict: ({ burst, fullDutyFactor }) => burst && burst.packCurrent * fullDutyFactor,
    disputed: {
      words: 'current in a full burst',
      more: 'steeper propellers, a higher kv, or less resistance than assumed',
      less: 'a burst that was not full or too short, flatter propellers, or more resistance than assumed',
    },
  },
  burst_voltage: {
    measuredBy: ['burst', 'log'],
    words: 'voltage in a burst',
    unit: 'V',
    alike: 0.0098,
    instrument: 'voltage',
    point: 'burst',
    predict: ({ burst, fullDutyFactor, craft }) => {
      const resting = packRestingVoltage(craft.pack, 1);
      return burst && resting - (resting - burst.busVoltage) * fullDutyFactor;
    },
    disputed: {
      words: 'voltage in a full burst',
      more: 'a better pack than its figures state, or a burst that was too short',
      less: 'a cold, worn or half-charged pack, a poor plug, or a resistance that is off',
    },
  },
  burst_speed: {
    measuredBy: ['speed'],
    words: 'speed in a burst',
    unit: 'rpm',
    alike: 0.015,
    point: 'burst',
    predict: ({ burst, fullDutyFactor }) =>
      burst && mostOfRotors(burst, ({ speed }) => speed) * fullDutyFactor ** (1 / 3),
    disputed: {
      words: 'speed in a full burst',
      more: 'a wrong pole count, flatter propellers, or a higher kv',
      less: 'a wrong pole count, steeper propellers, a lower kv, or a weak pack',
    },
  },
  rested: {
    measuredBy: ['rested', 'log'],
    words: 'resting voltage after landing',
    unit: 'V',
    alike: 0.0025,
    // At rest all of the label's charge counts, not only what flying rates give.
    predict: ({ used, circumstances, numbers, craft }) => {
      const out = circumstances.used ?? used;
      const charge = out === undefined ? undefined : Math.min(1, Math.max(0, 1 - out / numbers.label));
      return charge === undefined ? undefined : packRestingVoltage(craft.pack, charge);
    },
    disputed: {
      words: 'resting voltage after landing',
      more: 'less charge used than the charger reports, or a larger pack than its label',
      less: 'a worn pack with less charge than its label, one that was not full at take-off, or a voltage read too soon',
    },
  },
  cell_resistance: {
    measuredBy: ['resistance'],
    words: 'resistance of a cell',
    unit: 'mohm',
    alike: 0,
    predict: ({ numbers }) => numbers.chargerShows,
    disputed: {
      words: 'resistance of a cell',
      more: 'a worn or cold pack, or a claimed rate that is a wish',
      less: 'a charger that shows another figure (of the group, or at another charge), or a better pack than it claims',
    },
  },
};

export const READING_NAMES = keysOf(READINGS);

export const isReading = (name: string): name is FlightReading => Object.hasOwn(READINGS, name);
