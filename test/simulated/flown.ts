/** A flight of a simulated craft as its recorder writes it: how the craft behaves is computed by `physics.ts`, the recorder is off in its own ways. */
import { normal, randomNumbers } from '../seeded.ts';
import { atDuty, hovering, restingVolts, type TrueCraft } from './physics.ts';

export interface Recorder {
  /** Factors on amperes and volts. */
  readonly amperes: number;
  readonly volts: number;
  /** A, in addition to zero. */
  readonly zero: number;
  /** s between rows. */
  readonly step: number;
}

/** A stretch of the flight: s, and multiples of hover thrust; 0 rests, `full` is full output. */
type Stretch = readonly [seconds: number, multiple: number | 'full'];

/** Of the cells’ fall under load: what comes and goes at once; the rest takes so many seconds. */
const AT_ONCE = 0.85;
const SLOW = 15;

/** Rest, climb, hover, a burst, faster flight, hover, another burst, hover, rest. @param seconds of hovering, about */
export const plan = (seconds: number): readonly Stretch[] => [
  [8, 0],
  [4, 1.12],
  [0.3 * seconds, 1],
  [1.5, 'full'],
  [0.15 * seconds, 1.08],
  [0.3 * seconds, 1],
  [1.5, 'full'],
  [0.25 * seconds, 1],
  [4, 0.93],
  [25, 0],
];

export interface Flown {
  readonly rows: readonly (readonly number[])[];
  /** C that left the pack. */
  readonly used: number;
}

/** Undefined where it cannot be flown so. Rows: s, V, A, output 0 … 1. */
export function flown(
  craft: TrueCraft,
  stretches: readonly Stretch[],
  recorder: Recorder,
  seed: number,
): Flown | undefined {
  const random = randomNumbers(7000 + seed);
  const rows: number[][] = [];
  let [time, used, gust, slow] = [0, 0, 0, 0];
  for (const [seconds, multiple] of stretches) {
    for (let left = seconds; left > 0; left -= recorder.step) {
      const charge = Math.max(0.02, 1 - used / craft.pack.capacity);
      gust = 0.9 * gust + 0.004 * normal(random);
      const point =
        multiple === 0
          ? { amperes: craft.draw / restingVolts(craft.pack, charge), volts: restingVolts(craft.pack, charge), duty: 0 }
          : multiple === 'full'
            ? atDuty(craft, charge, craft.dutyLimit, AT_ONCE)
            : hovering({ ...craft, mass: craft.mass * multiple * (1 + gust) }, charge);
      if (!point) return undefined;
      // What the cells give way at last, of which a burst has met the quick part alone.
      const met =
        multiple === 0 ? 0 : restingVolts(craft.pack, charge) - point.volts - craft.pack.leads * point.amperes;
      const fall = multiple === 'full' ? met / AT_ONCE : met;
      slow += ((fall * (1 - AT_ONCE) - slow) * recorder.step) / SLOW;
      const volts = point.volts + (met - fall * AT_ONCE) - slow;
      rows.push([
        time,
        volts * recorder.volts * (1 + 0.001 * normal(random)),
        point.amperes * recorder.amperes * (1 + 0.01 * normal(random)) + recorder.zero,
        Math.max(0, point.duty + (multiple === 0 ? 0 : 0.004 * normal(random))),
      ]);
      used += point.amperes * recorder.step;
      time += recorder.step;
    }
  }
  return { rows, used };
}

export const csvOf = ({ rows }: Flown): string =>
  [
    'time (s),volts,amps,motors (%)',
    ...rows.map(([time = 0, volts = 0, amps = 0, output = 0]) =>
      [time.toFixed(1), volts.toFixed(2), amps.toFixed(2), (100 * output).toFixed(1)].join(','),
    ),
    '',
  ].join('\n');
