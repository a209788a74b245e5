/** A pack that is past its best: more of it costs minutes, or it is more than half of what flies. */
import { type PackSize, packSize } from '../../analysis/decide/pack-size.ts';
import type { Check, Draft, OptionSubject } from '../check.ts';
import { statedIn } from '../shared/contributing.ts';
import { boundNumber, exactNumber, formatExact, percent } from '../shared/finding-numbers.ts';
import { THRESHOLDS } from '../thresholds.ts';

const { fraction: usualFraction, roundCellFraction, nearlyBest } = THRESHOLDS.packHeavy;

export const packHeavy: Check = {
  id: 'pack-heavy',
  atMost: 'hint',
  option: findHeavy,
  page: {
    title: 'The pack weighs more than it is worth',
    cause:
      'Hover power grows with the power 1.5 of the weight. An ideal pack is best at twice the mass of everything else; sag, duty and structure end it earlier. Beyond, each gram of pack costs more than it brings, and the craft handles badly long before that.',
    criterion: `heavier than the best range of its make, or the pack is above ${percent(usualFraction)} of the all-up weight (li-ion ${percent(roundCellFraction)}): hint. The best range is where hover time is within ${percent(1 - nearlyBest)} of the longest.`,
    standing: 'Momentum theory; thresholds: ours.',
    remedy: 'A smaller pack: the message states between which masses it flies about as long as it can.',
    fixes: [],
    fails: `pack Anvil like Mast900_4S {
  capacity: 4200 mAh
  cell_resistance: 3 mohm measured
  size: 84 x 40 x 36 mm
  mass: 440 g
}
build Laden like Healthy {
  without: Mast900_4S
  pack: Anvil
}`,
    passes: `build Lean like Healthy {
  without: Mast900_4S
  pack: Mast900_4S as Lean
}`,
  },
};

/** Far below where more pack costs minutes in any craft that flies well: not worth the search. */
const WORTH_A_LOOK = usualFraction / 2;

function* findHeavy({ build, option, assessment }: OptionSubject): Iterable<Draft> {
  const share = assessment.results.get('pack_mass_fraction')?.estimate.value;
  if (share === undefined || share < WORTH_A_LOOK) return;
  const fraction = option.part.word('chemistry') === 'liion' ? roundCellFraction : usualFraction;
  const size = packSize(build, option, nearlyBest, share > fraction);
  if (!size) return;
  const pastBest = size.mass > size.best[1];
  if (share <= fraction && !pastBest) return;
  yield {
    severity: 'hint',
    message: `${option.name} is ${percent(share)} of the all-up weight. ${advice(size, pastBest)}`,
    names: [option],
    place: option.place,
    numbers: [exactNumber('pack_mass_fraction', share, '%'), boundNumber('limit', fraction, '%')],
    related: statedIn(option.part, 'mass'),
  };
}

function advice({ mass, hoverTime, longest, best: [least, most] }: PackSize, pastBest: boolean): string {
  const range = `${formatExact(least, 'g')} and ${formatExact(most, 'g')}`;
  if (pastBest) {
    return `It is past its best: packs of its make between ${range} hover up to ${formatExact(longest, 'min')}, this one ${formatExact(hoverTime, 'min')}.`;
  }
  if (mass <= least) return 'It still brings minutes, but such a craft turns and stops slowly.';
  return `A pack of its make of ${formatExact(least, 'g')} hovers nearly as long (${formatExact(longest * nearlyBest, 'min')} of ${formatExact(longest, 'min')}), and the craft turns and stops better.`;
}
