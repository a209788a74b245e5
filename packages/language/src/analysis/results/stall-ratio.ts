/** Stall current over burst rating. */
import { ofFigure, ofResult } from '../explain/derivation-terms.ts';
import { weakestBurst } from '../setup/craft-setup.ts';
import { DEFINITION } from './explaining.ts';
import { currentInStall, inFlight } from './reading.ts';
import type { ResultComputation } from './result.ts';

export const stallRatio: ResultComputation = {
  needs: ['hover', 'escBurst'],
  of: (evaluation) => {
    const current = inFlight('hover', currentInStall)(evaluation);
    const { escBurst } = evaluation.setup;
    return current === undefined || !escBurst ? undefined : current / escBurst;
  },
  explain: (assessment) => ({
    formula: 'i / i_burst',
    description: 'Stall current over the burst rating of the weakest channel.',
    terms: [ofResult('i', 'stall_current', assessment), ofFigure('i_burst', weakestBurst(assessment.build.escs))],
    source: DEFINITION,
  }),
};
