/** Fewer cells, or volts, than the board needs to run. */
import { namedByPackWords } from '../../model/arrangements.ts';
import type { Check, Draft, OptionSubject } from '../check.ts';
import { onCells, supplyComparisons } from '../shared/esc-voltage.ts';
import { boundNumber, exactNumber } from '../shared/finding-numbers.ts';

export const escUndervoltage: Check = {
  id: 'esc-undervoltage',
  option: findUndervoltage,
  folds: ['cannot-hover', 'low-thrust', 'high-hover-duty', 'rail-undervoltage', 'regulator-dropout', 'pack-oversag'],
  page: {
    title: 'The pack voltage is lower than the ESC needs',
    cause:
      'Below its range a board’s gate drivers and processor brown out: motors stutter or stop in the first burst, in the air.',
    criterion:
      'cells below the board’s range, or volts of the nearly empty pack below it: error. The range is compared in the terms in which it was given.',
    standing: 'The part maker’s limit.',
    remedy: 'Take a pack with more cells, or a board made for this one.',
    fixes: [],
    fails: `build TooFewCells like Healthy {
  without: Mast900_4S
  without: LinkCam
  without: Receiver
  pack: Mast1800_2S
}`,
    passes: `build RightCells like Healthy {
  pack: Mast900_4S as Second
}`,
  },
};

function* findUndervoltage(subject: OptionSubject): Iterable<Draft> {
  const { build, option } = subject;
  const boards = build.escs.map((board) => board.part);
  for (const comparison of supplyComparisons(boards, option)) {
    const { board, range, lowest, unit, packIs, rangeWords } = comparison;
    if (lowest >= range.low) continue;
    yield {
      severity: 'error',
      message: `${packIs}, ${board.name} needs ${rangeWords}. It browns out in the first burst and the craft falls: take a pack with more cells.`,
      names: [...namedByPackWords(option), board],
      place: option.place,
      numbers: [exactNumber('pack', lowest, unit), boundNumber('limit', range.low, unit)],
      ...onCells(subject, comparison, range.low),
      related: [{ message: `${board.name} takes ${rangeWords}`, place: range.place }],
    };
  }
}
