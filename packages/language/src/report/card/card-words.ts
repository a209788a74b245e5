/** Words that the card's formats share. */

import { formatPrinted, type PrintedEstimate } from '../../analysis/uncertainty/print-estimate.ts';
import { formatHundredths } from '../../units/print.ts';
import { turnBackBy } from '../flights/flight-words.ts';
import { formatDuty } from '../sheet/sheet-words.ts';
import type { CardData, CardFlight, CardPack, CardReading } from './card-data.ts';

/** Common practice; what the file notes for before a flight comes after it. */
export function preflightOf({ packs, preflight }: CardData): string[] {
  return [
    'The pack is not swollen, dented, torn or hot. If it is, do not fly it.',
    ...(packs.some(({ dutyLimit }) => dutyLimit < 1)
      ? ['The duty limit in the flight controller is set for this pack before the pack is plugged in.']
      : []),
    'After any change to motors, board or settings: plug in first with propellers off, hover first low and away from people, then feel the motors for heat.',
    ...preflight,
  ];
}

export const dutyWords = ({ dutyLimit }: CardPack): string =>
  dutyLimit < 1 ? `duty limit ${formatDuty(dutyLimit)}` : 'no duty limit';

/** As a voltmeter shows them: hundredths, unless the ± leaves fewer. */
export const formatVolts = (volts: PrintedEstimate): string =>
  volts.plusMinus > 0 ? formatPrinted(volts) : `${formatHundredths(volts.value)} V`;

const ofPack = (cell: PrintedEstimate, cells: number): PrintedEstimate => ({
  ...cell,
  value: cell.value * cells,
  plusMinus: cell.plusMinus * cells,
});

type Row = [label: string, value: string];

const present = (rows: readonly (Row | undefined)[]): Row[] => rows.filter((row) => row !== undefined);

/** What it should read before take-off, and weigh. */
export const beforehand = ({ weight, full, cells }: CardPack): Row[] =>
  present([
    weight && ['on the scale', formatPrinted(weight)],
    full && ['full pack, resting', formatVolts(ofPack(full, cells ?? 1))],
  ]);

/** In addition to the volts in hover: the same as other instruments show it. */
export const otherwise = ({ resting, used, after, flown, hover }: CardReading, { cells }: CardPack): Row[] =>
  present([
    cells !== undefined && cells > 1 ? ['whole pack, in hover', formatVolts(ofPack(hover, cells))] : undefined,
    ['per cell, resting', formatVolts(resting)],
    ['charge used', formatPrinted(used)],
    ['hover time until then', formatPrinted(after)],
    flown && ['as flown until then', formatPrinted(flown)],
  ]);

/** On the way home at the latest, at the safe ends of the ±: earlier, with more left. */
export const flightRows = ({ time, charge, turnBack }: CardFlight): Row[] =>
  present([
    turnBack && ['turn back by (safe end)', turnBackBy(turnBack)],
    turnBack?.voltage && ['turn back at, per cell', formatVolts(turnBack.voltage)],
    turnBack && ['then away from home', formatPrinted(turnBack.distance)],
    time && ['the whole of it', formatPrinted(time)],
    charge && ['charge it takes', formatPrinted(charge)],
  ]);

/** Why to land earlier than the reserve requires. */
export const earlyWords = ({ brownsOut }: CardPack): string | undefined =>
  brownsOut === undefined
    ? undefined
    : `Land before the reserve: below this voltage ${brownsOut} browns out in a burst.`;

export const HOW_TO_READ =
  'Volts per cell, read in hover. Turn back when half of the usable charge is spent. The upper end of the ± is the safe side. A value without ± is no more certain than the others.';

/** Words of `observed` in a build, with their units. */
export const TO_WRITE_DOWN: readonly (readonly [word: string, description: string])[] = [
  ['scale', 'g, ready to fly'],
  ['airborne', 'min, s'],
  ['put_back', 'mAh, by the charger'],
  ['rested', 'V, after landing'],
];

export const WRITE_DOWN_NOTE =
  'Write these values into the build as observed "…" with PACK { … }: they narrow the ± of the next card.';
