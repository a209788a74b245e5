/** Thrust share of the front rotors. */
import { frontShare } from '../../physics/balance.ts';
import { ofFigure, ofResult } from '../explain/derivation-terms.ts';
import { STATICS } from './explaining.ts';
import { centreOfMass, fromSetup } from './reading.ts';
import type { ResultComputation } from './result.ts';

export const frontThrustShare: ResultComputation = {
  needs: ['dryMass', 'packMass', 'balance', 'frontRotors'],
  of: fromSetup((setup) => {
    const centre = centreOfMass(setup);
    const front = setup.balance?.frontRotors;
    return centre === undefined || !front ? undefined : frontShare(centre, front, -front);
  }),
  explain: (assessment) => ({
    formula: 's = ½ + x / 2x_f, with x_f = w / 2√2',
    description: 'The balance of moments between front and rear rotors of a frame with four evenly spaced arms.',
    terms: [
      ofResult('x', 'balance_offset', assessment),
      ofFigure('w', assessment.build.airframe?.part.figure('wheelbase')),
    ],
    source: STATICS,
    neglects: 'arms that are not evenly spaced; the duty of both pairs is taken as one everywhere else',
  }),
};
