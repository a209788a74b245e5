/** Pack share of weight. */

import { DEFINITION, ofResults } from './explaining.ts';
import { fromSetup } from './reading.ts';
import type { ResultComputation } from './result.ts';

export const packMassFraction: ResultComputation = {
  needs: ['dryMass', 'packMass'],
  of: fromSetup(({ dryMass, packMass }) =>
    dryMass === undefined || packMass === undefined ? undefined : packMass / (dryMass + packMass),
  ),
  explain: ofResults('φ = (m − m_d) / m', 'Mass of the pack over all-up mass.', DEFINITION, {
    m: 'all_up_weight',
    m_d: 'dry_mass',
  }),
};
