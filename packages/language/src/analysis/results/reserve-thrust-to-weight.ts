/** Thrust-to-weight at the reserve. */
import { ofNumber, ofResult } from '../explain/derivation-terms.ts';
import { thrustAt } from './explaining.ts';
import { atFull, thrustFactorOf, thrustOverWeight } from './reading.ts';
import type { ResultComputation } from './result.ts';

export const reserveThrustToWeight: ResultComputation = {
  needs: ['dryMass', 'packMass', 'fullAtReserve'],
  of: atFull('fullAtReserve', (at) => thrustOverWeight(at, thrustFactorOf(at))),
  explain: thrustAt(
    'fullAtReserve',
    (thrust) => `f^⅔·T / (m·g), T = ${thrust}`,
    'Full-duty thrust at the reserve over weight.',
    ({ assessment, point }) => [
      ofNumber('T', 'thrust of all rotors there', point.thrust, 'gf'),
      ofResult('m', 'all_up_weight', assessment),
    ],
  ),
};
