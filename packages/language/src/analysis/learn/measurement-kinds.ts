/** Measurements that some tools allow, in words. */
import type { Nameable } from '../../model/named.ts';
import type { MeasuringTool as Tool } from '../../vocabulary/measuring.ts';
import { type FlightReading, type MeasurementId, READING_NAMES, READINGS } from './flight-readings.ts';

/** What any builder has. */
export const USUAL_TOOLS: readonly Tool[] = ['scale', 'charger', 'stopwatch'];

export interface Measurement {
  readonly id: string;
  readonly tools: readonly Tool[];
  /** In a few words, with a pack’s name: "the craft ready to fly on a scale, Mast1050_4S in it". */
  readonly what: string;
  /** What that names. */
  readonly names: readonly Nameable[];
  /** A sentence or two: how to take it. */
  readonly how: string;
  /** What to write, with the readings that are expected. */
  readonly lines: readonly ExpectedLine[];
}

export interface ExpectedLine {
  readonly property: FlightReading | 'airborne' | 'capacity';
  /** SI, as it is predicted. */
  readonly value: number;
  readonly unit: string;
  /** Behind the value. */
  readonly clause?: string;
}

export interface MeasurementKind extends Described {
  readonly id: string;
  readonly readings: readonly FlightReading[];
}

interface Described {
  readonly tools: readonly Tool[];
  readonly what: (pack: string) => string;
  readonly how: (pack: string) => string;
  readonly conditions?: 'at 60 %';
  /** Needs the length of a flight. */
  readonly isFlight?: boolean;
}

const DESCRIBED: Readonly<Record<MeasurementId, Described>> = {
  scale: {
    tools: ['scale'],
    what: (pack) => `the craft on a scale, ready to fly with ${pack}`,
    how: (pack) => `Put the craft on the scale as it flies: ${pack}, propellers and straps on.`,
  },
  charger: {
    tools: ['charger', 'stopwatch'],
    what: (pack) => `what the charger puts back into ${pack} after a flight of known length`,
    how: (pack) =>
      `Charge ${pack} full, hover by the stopwatch for about four fifths of the shortest time that is expected, so that it lands before the reserve; charge it full again and read what went in.`,
    isFlight: true,
  },
  resistance: {
    tools: ['charger'],
    what: (pack) => `the cell resistance of ${pack}, as the charger shows it`,
    how: (pack) =>
      `Let ${pack} lie until it is as warm as the room, and read the resistance of its cells off the charger: the mean of all.`,
  },
  rested: {
    tools: ['voltmeter', 'charger', 'stopwatch'],
    what: (pack) => `the resting voltage of ${pack} after a flight, and what the charger puts back`,
    how: (pack) =>
      `After a flight of known length let ${pack} rest for some minutes, read its voltage, then charge it and read what went in.`,
    isFlight: true,
  },
  hover: {
    tools: ['recorder'],
    what: (pack) => `current, voltage and output in a steady hover with ${pack}`,
    how: () =>
      'Hover steadily for half a minute with the pack a good half full, and read the averages off the recorder.',
    conditions: 'at 60 %',
  },
  burst: {
    tools: ['recorder'],
    what: (pack) => `current and voltage in a burst at full output with ${pack}`,
    how: () =>
      'High up and away from people give full output for two seconds, the pack full; read the highest current and the lowest voltage off the recorder.',
  },
  counted: {
    tools: ['recorder', 'charger', 'stopwatch'],
    what: (pack) => `what the recorder counts in a flight with ${pack}, and what the charger puts back`,
    how: () =>
      'After a flight of known length read the charge that the recorder counted, and what the charger puts back: together they show how far off its amperes are.',
    isFlight: true,
  },
  log: {
    tools: ['recorder'],
    what: (pack) => `the log of a flight with ${pack}: rest, hover, a burst, and rest again`,
    how: () =>
      'Let the recorder run for ten seconds before take-off and half a minute after landing; hover, give two short bursts, hover again. Then: fettle observe LOG BUILD.',
    conditions: 'at 60 %',
    isFlight: true,
  },
  speed: {
    tools: ['tachometer'],
    what: (pack) => `the speed of the rotors in hover and at full output with ${pack}`,
    how: () =>
      'Read the rotors’ speed in a steady hover with the pack a good half full, and in a burst at full output with the pack full.',
    conditions: 'at 60 %',
  },
};

export const MEASUREMENT_KINDS: readonly MeasurementKind[] = Object.entries(DESCRIBED).map(([id, described]) => ({
  ...described,
  id,
  readings: READING_NAMES.filter((reading) => READINGS[reading].measuredBy.some((one) => one === id)),
}));
