/** Measurements that some tools allow, in words. */
import type { MeasuringTool as Tool } from '../../vocabulary/measuring.ts';
import type { Reading } from './flight-readings.ts';

/** What any builder has. */
export const USUAL_TOOLS: readonly Tool[] = ['scale', 'charger', 'stopwatch'];

export interface Measurement {
  readonly id: string;
  readonly tools: readonly Tool[];
  /** In a few words, with a pack’s name: "the craft ready to fly on a scale, Mast1050_4S in it". */
  readonly what: string;
  /** A sentence or two: how to take it. */
  readonly how: string;
  /** What to write, with the readings that are expected. */
  readonly lines: readonly Line[];
}

export interface Line {
  readonly property: Reading | 'airborne' | 'capacity';
  /** SI, as it is predicted. */
  readonly value: number;
  readonly unit: string;
  /** Behind the value. */
  readonly clause?: string;
}

export interface Kind {
  readonly id: string;
  readonly tools: readonly Tool[];
  readonly what: (pack: string) => string;
  readonly how: (pack: string) => string;
  readonly readings: readonly Reading[];
  readonly conditions?: 'at 60 %';
  /** Needs the length of a flight. */
  readonly isFlight?: boolean;
}

export const KINDS: readonly Kind[] = [
  {
    id: 'scale',
    tools: ['scale'],
    what: (pack) => `the craft on a scale, ready to fly with ${pack}`,
    how: (pack) => `Put the craft on the scale as it flies: ${pack}, propellers and straps on.`,
    readings: ['scale'],
  },
  {
    id: 'charger',
    tools: ['charger', 'stopwatch'],
    what: (pack) => `what the charger puts back into ${pack} after a flight of known length`,
    how: (pack) =>
      `Charge ${pack} full, hover by the stopwatch for about four fifths of the shortest time that is expected, so that it lands before the reserve; charge it full again and read what went in.`,
    readings: ['put_back'],
    isFlight: true,
  },
  {
    id: 'resistance',
    tools: ['charger'],
    what: (pack) => `the cell resistance of ${pack}, as the charger shows it`,
    how: (pack) =>
      `Let ${pack} lie until it is as warm as the room, and read the resistance of its cells off the charger: the mean of all.`,
    readings: ['cell_resistance'],
  },
  {
    id: 'rested',
    tools: ['voltmeter', 'charger', 'stopwatch'],
    what: (pack) => `the resting voltage of ${pack} after a flight, and what the charger puts back`,
    how: (pack) =>
      `After a flight of known length let ${pack} rest for some minutes, read its voltage, then charge it and read what went in.`,
    readings: ['rested', 'put_back'],
    isFlight: true,
  },
  {
    id: 'hover',
    tools: ['recorder'],
    what: (pack) => `current, voltage and output in a steady hover with ${pack}`,
    how: () =>
      'Hover steadily for half a minute with the pack a good half full, and read the averages off the recorder.',
    readings: ['hover_current', 'hover_voltage', 'hover_output'],
    conditions: 'at 60 %',
  },
  {
    id: 'burst',
    tools: ['recorder'],
    what: (pack) => `current and voltage in a burst at full output with ${pack}`,
    how: () =>
      'High up and away from people give full output for two seconds, the pack full; read the highest current and the lowest voltage off the recorder.',
    readings: ['burst_current', 'burst_voltage'],
  },
  {
    id: 'counted',
    tools: ['recorder', 'charger', 'stopwatch'],
    what: (pack) => `what the recorder counts in a flight with ${pack}, and what the charger puts back`,
    how: () =>
      'After a flight of known length read the charge that the recorder counted, and what the charger puts back: together they show how far off its amperes are.',
    readings: ['counted', 'put_back'],
    isFlight: true,
  },
  {
    id: 'log',
    tools: ['recorder'],
    what: (pack) => `the log of a flight with ${pack}: rest, hover, a burst, and rest again`,
    how: () =>
      'Let the recorder run for ten seconds before take-off and half a minute after landing; hover, give two short bursts, hover again. Then: fettle observe LOG BUILD.',
    readings: ['hover_current', 'hover_voltage', 'hover_output', 'burst_current', 'burst_voltage', 'rested', 'counted'],
    conditions: 'at 60 %',
    isFlight: true,
  },
  {
    id: 'speed',
    tools: ['tachometer'],
    what: (pack) => `the speed of the rotors in hover and at full output with ${pack}`,
    how: () =>
      'Read the rotors’ speed in a steady hover with the pack a good half full, and in a burst at full output with the pack full.',
    readings: ['hover_speed', 'burst_speed'],
    conditions: 'at 60 %',
  },
];
