/** Cost of a gram. */

import type { ResultId } from '../../vocabulary/results.ts';
import { hoverTimeCost } from '../evaluate/nearby.ts';
import { ofNumber, ofResult } from '../explain/derivation-terms.ts';
import { MOMENTUM_SOURCE } from './explaining.ts';
import { derivedFrom, type ResultComputation } from './result.ts';

export const gramCostTime: ResultComputation = {
  needs: ['dryMass', 'packMass', 'hoverTime'],
  /**
   * Hover time goes nearly as a power of the mass, so what a gram costs goes as time over mass, and so do its errors.
   * (The slope of the slope is left out.)
   */
  of: derivedFrom(['hover_time', 'all_up_weight'], (estimateOf, { evaluation: { craft } }) => {
    const time = estimateOf('hover_time');
    const mass = estimateOf('all_up_weight');
    const value = time && mass && craft && hoverTimeCost(craft);
    if (value === undefined || !time?.value || !mass) return undefined;
    const contributions = time.contributions.map(
      (share, i) => value * (share / time.value - (mass.contributions[i] ?? 0) / mass.value),
    );
    return { estimate: { value, contributions } };
  }),
  explain: (assessment) => {
    const value = (name: ResultId) => assessment.results.get(name)?.estimate.value ?? Number.NaN;
    const power = (value('gram_cost_time') * value('all_up_weight')) / value('hover_time');
    return {
      formula: 'c = x·t / m',
      description: 'The loss of hover time when the craft weighs one gram more, computed with and without that gram.',
      terms: [
        ofResult('t', 'hover_time', assessment),
        ofResult('m', 'all_up_weight', assessment),
        ofNumber('x', 'percent of hover time lost per percent of added mass', power, ''),
      ],
      source: MOMENTUM_SOURCE,
    };
  },
};
