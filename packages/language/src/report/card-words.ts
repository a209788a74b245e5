/** Words that the card's formats share. */
import { formatPlusMinus, formatValue } from '../units/print.ts';
import type { CardData, CardPack, CardReading } from './card-data.ts';
import { sayQuantity } from './sheet-words.ts';

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
  dutyLimit < 1 ? `duty limit ${Math.round(dutyLimit * 100)} %` : 'no duty limit';

/** What it should read before take-off, and weigh. */
export function beforehand({ weight, full, cells }: CardPack): [label: string, value: string][] {
  return [
    ...(weight ? [['on the scale', sayQuantity(weight)] as [string, string]] : []),
    ...(full ? [['full pack, resting', formatValue(full.value * (cells ?? 1), 'V')] as [string, string]] : []),
  ];
}

/** Beside the volts in hover: the same as other instruments show it. */
export function otherwise({ resting, used, after, hover }: CardReading, { cells }: CardPack): [string, string][] {
  return [
    ...(cells !== undefined && cells > 1
      ? [
          ['whole pack, in hover', formatPlusMinus(hover.value * cells, hover.plusMinus * cells, 'V')] as [
            string,
            string,
          ],
        ]
      : []),
    ['a cell, resting', sayQuantity(resting)],
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
