/** All-up weight. */
import { ofResult } from '../explain/derivation-terms.ts';
import { packCount, packMass, printed, STATICS, sinceWeighed } from './explaining.ts';
import { G, weightOf } from './reading.ts';
import type { ResultComputation } from './result.ts';

export const allUpWeight: ResultComputation = {
  needs: ['dryMass', 'packMass'],
  of: (evaluation) => {
    const weight = weightOf(evaluation);
    return weight && weight / G;
  },
  explain: (assessment) => ({
    formula: 'm = m_d + n·m_p',
    description: `The sum of dry mass${printed(sinceWeighed(assessment))} and packs.`,
    terms: [ofResult('m_d', 'dry_mass', assessment), packCount(assessment), packMass(assessment)],
    source: STATICS,
  }),
};
