/** More cells, or volts, than the board is rated for. */
import { namedByPackWords } from '../../model/arrangements.ts';
import type { Range } from '../../model/part-values.ts';
import type { Check, Draft, OptionSubject } from '../check.ts';
import { ratedCells } from '../shared/cells.ts';
import { onCells, supplyComparisons } from '../shared/esc-voltage.ts';
import { boundNumber, exactNumber } from '../shared/finding-numbers.ts';

export const escOvervoltage: Check = {
  id: 'esc-overvoltage',
  option: findOvervoltage,
  folds: ['motor-overvoltage', 'rail-overvoltage', 'regulator-overvoltage', 'pack-oversag', 'pack-overcurrent'],
  page: {
    title: 'The pack voltage is higher than the ESC is rated for',
    cause:
      'Switches and capacitors of a board break down above their voltage, at plug-in already and worst on the spike of the first contact. A duty limit does not help: the board sees the whole pack.',
    criterion:
      'cells above the board’s range, or volts of the full pack above it: error. The range is compared in the terms in which it was given.',
    standing: 'The part maker’s limit.',
    remedy: 'Take a pack with fewer cells, or a board rated for this one. Do not plug it in to try.',
    fixes: [],
    fails: `build TooManyCells like Healthy {
  without: Mast900_4S
  pack: Mast700_6S duty 60 %
}`,
    passes: `build EnoughCells like Healthy {
  without: Mast900_4S
  pack: Mast800_5S duty 77 %
}`,
  },
};

function* findOvervoltage(subject: OptionSubject): Iterable<Draft> {
  const { build, option } = subject;
  const boards = build.escs.map((board) => board.part);
  for (const comparison of supplyComparisons(boards, option)) {
    const { board, range, highest, unit, packIs, rangeWords } = comparison;
    if (highest <= range.high) continue;
    yield {
      severity: 'error',
      message: `${packIs}, ${board.name} takes ${rangeWords}. It can fail the moment the pack is plugged in, and no duty limit helps: do not connect it.`,
      names: [...namedByPackWords(option), board],
      place: option.place,
      numbers: [exactNumber('pack', highest, unit), boundNumber('limit', range.high, unit)],
      ...onCells(subject, comparison, suitableCells(subject, range)),
      related: [{ message: `${board.name} takes ${rangeWords}`, place: range.place }],
    };
  }
}

/** Whoever takes fewer cells for the board takes as many as the motors are wound for, if it may be so few. */
function suitableCells({ build }: OptionSubject, { low, high }: Range): number {
  const wound = build.rotors.flatMap(({ motor }) => ratedCells(motor, 'rated')?.high ?? []);
  const fewest = Math.min(high, ...wound);
  return fewest >= low ? fewest : high;
}
