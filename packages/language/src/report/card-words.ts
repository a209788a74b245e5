/** Words that the card's formats share. */

import type { CardData, CardPack, CardReading } from './card-data.ts';
import type { Quantity } from './sheet-data.ts';
import { sayDuty, sayQuantity } from './sheet-words.ts';

/** Common practice; what the file notes for before a flight comes after it. */
export function preflightOf({ packs, preflight }: CardData): string[] {
  return [
    'The pack is not swollen, dented, torn or hot: else it stays on the ground.',
    ...(packs.some(({ dutyLimit }) => dutyLimit < 1)
      ? ['The duty limit is set for the pack that goes in, before it is plugged in.']
      : []),
    'After any change to motors, board or settings: first plug-in with propellers off, first hover low and away from people, then a hand on the motors.',
    ...preflight,
  ];
}

export const dutyWords = ({ dutyLimit }: CardPack): string =>
  dutyLimit < 1 ? `duty limit ${sayDuty(dutyLimit)}` : 'no duty limit';

/** As a voltmeter shows them: hundredths, unless the ± leaves fewer. */
export const sayVolts = (volts: Quantity): string =>
  volts.plusMinus > 0 ? sayQuantity(volts) : `${volts.value.toFixed(2)} V`;

const ofPack = (cell: Quantity, cells: number): Quantity => ({
  ...cell,
  value: cell.value * cells,
  plusMinus: cell.plusMinus * cells,
});

/** What it should read before take-off, and weigh. */
export function beforehand({ weight, full, cells }: CardPack): [label: string, value: string][] {
  return [
    ...(weight ? [['on the scale', sayQuantity(weight)] as [string, string]] : []),
    ...(full ? [['full pack, resting', sayVolts(ofPack(full, cells ?? 1))] as [string, string]] : []),
  ];
}

/** Beside the volts in hover: the same as other instruments show it. */
export function otherwise({ resting, used, after, hover }: CardReading, { cells }: CardPack): [string, string][] {
  return [
    ...(cells !== undefined && cells > 1
      ? [['whole pack, in hover', sayVolts(ofPack(hover, cells))] as [string, string]]
      : []),
    ['a cell, resting', sayVolts(resting)],
    ['used by then', sayQuantity(used)],
    ['hovering for', sayQuantity(after)],
  ];
}

/** Why to land earlier than the reserve asks. */
export const earlyWords = ({ brownsOut }: CardPack): string | undefined =>
  brownsOut === undefined ? undefined : `Before the reserve: below it ${brownsOut} browns out in a burst.`;

export const HOW_TO_READ =
  'Volts a cell, read in hover. Turn back where half of what may be flown is used; of the ± the upper end is the safe one. What stands without ± is no surer.';

/** Words of `observed` in a build, with their units. */
export const TO_WRITE_DOWN: readonly (readonly [word: string, says: string])[] = [
  ['scale', 'g, ready to fly'],
  ['airborne', 'min, s'],
  ['put_back', 'mAh, by the charger'],
  ['rested', 'V, after landing'],
];

export const WRITE_DOWN_NOTE = 'Written into the build as observed "…" with PACK { … }, it makes the next card surer.';
