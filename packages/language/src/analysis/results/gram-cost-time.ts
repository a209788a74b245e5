/** Cost of a gram. */
import { ofNumber, ofResult } from '../explain/derivation-terms.ts';
import { MOMENTUM } from './explaining.ts';
import type { ResultComputation } from './result.ts';

export const gramCostTime: ResultComputation = {
  needs: ['dryMass', 'packMass', 'hoverTime'],
  of: 'derived',
  explain: (assessment) => {
    const value = (name: string) => assessment.results.get(name)?.estimate.value ?? Number.NaN;
    const power = (value('gram_cost_time') * value('all_up_weight')) / value('hover_time');
    return {
      formula: 'c = x·t / m',
      description: 'The loss of hover time when the craft weighs one gram more, computed with and without that gram.',
      terms: [
        ofResult('t', 'hover_time', assessment),
        ofResult('m', 'all_up_weight', assessment),
        ofNumber('x', 'percent of hover time lost per percent of added mass', power, ''),
      ],
      source: MOMENTUM,
    };
  },
};
