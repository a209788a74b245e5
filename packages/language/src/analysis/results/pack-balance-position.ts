/** Pack position for balance. */
import { packPosition } from '../../physics/balance.ts';
import { onlyPackPlaced, packCount, packMass, placedTerms, STATICS } from './explaining.ts';
import { fromSetup } from './reading.ts';
import type { ResultComputation } from './result.ts';

export const packBalancePosition: ResultComputation = {
  needs: ['packMass', 'balance'],
  of: fromSetup(({ packMass, balance }) => packMass && balance && packPosition(balance.othersMoment, packMass)),
  explain: (assessment) => ({
    formula: onlyPackPlaced(assessment) ? 'x_p = 0' : 'x_p = −Σ m_i·x_i / (n·m_p), over all but the pack',
    description: 'The position of the pack that brings the centre of mass to the middle of the rotors.',
    terms: [...placedTerms(assessment), packCount(assessment), packMass(assessment)],
    source: STATICS,
  }),
};
