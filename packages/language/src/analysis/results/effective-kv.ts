/** Effective kV. */
import { ofFigure } from '../explain/derivation-terms.ts';
import { fastestKv, PWM_SOURCE } from './explaining.ts';
import { fastestConstant } from './reading.ts';
import type { ResultComputation } from './result.ts';

export const effectiveKv: ResultComputation = {
  needs: ['speedConstant'],
  of: (evaluation) => {
    const fastest = fastestConstant(evaluation);
    return fastest && fastest * evaluation.setup.dutyLimit;
  },
  explain: ({ build, option }) => ({
    formula: 'K_eff = K·d',
    description: 'A motor at a duty limit turns as fast as a motor with this lower kv at full duty.',
    terms: [ofFigure('K', fastestKv(build)), ofFigure('d', option.dutyLimit)],
    source: PWM_SOURCE,
  }),
};
