/** Thrust-to-weight. */

import { ofResults, STATICS } from './explaining.ts';
import { atFull, thrustFactorOf, thrustOverWeight } from './reading.ts';
import type { ResultComputation } from './result.ts';

export const thrustToWeight: ResultComputation = {
  needs: ['dryMass', 'packMass', 'full'],
  of: atFull('full', (at) => thrustOverWeight(at, thrustFactorOf(at))),
  explain: ofResults('T / (m·g)', 'Full-duty thrust on the full pack over weight.', STATICS, {
    T: 'full_thrust',
    m: 'all_up_weight',
  }),
};
