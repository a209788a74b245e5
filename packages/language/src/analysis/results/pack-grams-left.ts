/** Pack grams left. */
import { expanded } from '../uncertainty/estimate.ts';
import { STATICS } from './explaining.ts';
import type { ResultComputation } from './result.ts';

export const packGramsLeft: ResultComputation = {
  needs: [],
  of: 'on request',
  explain: (assessment, { gramsLeft }) => ({
    formula: 'g = min over the requirements of g_i, where requirement i turns',
    description:
      'The pack is made heavier, with all else equal, until a requirement fails. A value below zero means that one fails already: the pack is too heavy by that much.',
    terms: gramsLeft(assessment).map(
      ({ requirement, mass }, i) =>
        mass && {
          symbol: `g_${i + 1}`,
          label: requirement.text,
          value: mass.value,
          unit: 'g',
          plusMinus: expanded(mass),
          place: requirement.place,
        },
    ),
    source: STATICS,
    neglects: 'a heavier pack usually has more capacity: here its capacity and resistance stay the same',
  }),
};
