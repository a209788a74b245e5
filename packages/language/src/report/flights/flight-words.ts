/** Words and rows that all formats of flights in legs share. */
import { formatPrinted } from '../../analysis/uncertainty/print-estimate.ts';
import { formatEnd, formatShare, formatValue } from '../../units/print.ts';
import type { FlightData, LegData } from './flight-data.ts';

type Known = NonNullable<LegData['time']>;

const reported = (known: Known | undefined): string => (known === undefined ? '–' : formatPrinted(known));

const plainly = (known: Known | undefined): string =>
  known === undefined ? '–' : formatValue(known.value, known.unit);

/** Of all flights of a build, one line per flight and pack. */
export const FLIGHT_HEADINGS = ['flight', 'pack', 'in the air', 'takes', 'leaves', 'turn back'] as const;

/** Its cells after its own name and that of the pack. */
export function flightCells({
  time,
  charge,
  left,
  turnBack,
  reason,
}: Omit<FlightData, 'moments'>): [string, string, string, string] {
  if (reason !== undefined) return [reason, '', '', ''];
  return [plainly(time), reported(charge), reported(left), turnBack ? turnBackWords(turnBack) : '–'];
}

/** The early end of the ±, which is the safe one: the minute that every page states. */
export const turnBackBy = ({ time }: NonNullable<FlightData['turnBack']>): string =>
  formatEnd(time.value, time.plusMinus, time.unit, 'lower');

/** "by 4.4 min (safe end of 6.8 (4.4 to 10) min), at 3.71 ± 0.04 V per cell, 300 m out" */
function turnBackWords(turnBack: NonNullable<FlightData['turnBack']>): string {
  const { time, distance, voltage } = turnBack;
  const volts = voltage ? `, at ${reported(voltage)} per cell` : '';
  const safe = time.plusMinus > 0 ? ` (safe end of ${reported(time)})` : '';
  return `by ${turnBackBy(turnBack)}${safe}${volts}, ${reported(distance)} out`;
}

export const LEG_HEADINGS = [
  'leg',
  'until',
  'charge used',
  'per cell, in the air',
  'per cell, resting',
  'weighs',
] as const;

export const legCells = ({ time, charge, cellVoltage, restingVoltage, mass }: LegData): string[] => [
  plainly(time),
  reported(charge),
  reported(cellVoltage),
  reported(restingVoltage),
  reported(mass),
];

/** The results of a flight, in sentences. */
export function flightSentences(flight: FlightData): string[] {
  const { charge, left, floor, turnBack, legs, endurance, range } = flight;
  if (flight.reason !== undefined) return [`Nothing of it is computed: ${flight.reason}.`];
  const short = legs.find(({ isShort }) => isShort);
  const last = turnBack && legs[turnBack.leg];
  const cheap = legs.flatMap(({ text, cheapest }) => (cheapest ? [`“${text}” at ${reported(cheapest)}`] : []));
  return [
    `It takes ${reported(charge)} and leaves ${reported(left)}${floor === undefined ? '' : `, where ${formatShare(floor)} have to be left`}.`,
    ...(short ? [`Too little is left in “${short.text}”.`] : []),
    ...(turnBack ? [`Turn back ${turnBackWords(turnBack)}${last ? `, in “${last.text}”` : ''}.`] : []),
    ...(endurance && range
      ? [
          `It stays up longest at ${reported(endurance)} and flies farthest in still air at ${reported(range)}${cheap.length > 0 ? `; least charge per metre over the ground: ${cheap.join(', ')}` : ''}.`,
        ]
      : []),
  ];
}

export const LEGS_NOTE =
  'After each leg, most likely values with their ±. Speeds are through the air. Turn back: flown as stated until then, the way home ends with just what has to be left.';
