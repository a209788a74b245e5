/** Balance offset. */
import { ofFigure, ofNumber, ofResult } from '../explain/derivation-terms.ts';
import { onlyPackPlaced, packCount, packMass, placedTerms, STATICS } from './explaining.ts';
import { centreOfMass, fromSetup } from './reading.ts';
import type { ResultComputation } from './result.ts';

export const balanceOffset: ResultComputation = {
  needs: ['dryMass', 'packMass', 'balance'],
  of: fromSetup(centreOfMass),
  explain: (assessment) => ({
    formula: onlyPackPlaced(assessment) ? 'x = n·m_p·x_p / m' : 'x = (Σ m_i·x_i + n·m_p·x_p) / m',
    description:
      'Distance of the centre of mass ahead of the middle of the rotors; a part without a position counts as placed there.',
    terms: [
      ofResult('m', 'all_up_weight', assessment),
      ...placedTerms(assessment),
      packCount(assessment),
      packMass(assessment),
      ofFigure('x_p', assessment.option.position) ?? ofNumber('x_p', 'the pack is in the middle', 0, 'mm'),
    ],
    source: STATICS,
  }),
};
