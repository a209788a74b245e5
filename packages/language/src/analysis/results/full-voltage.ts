/** Full-duty voltage. */
import { cellTerms, leadTerms } from '../explain/derivation-points.ts';
import { ofResult } from '../explain/derivation-terms.ts';
import { atPoint, BATTERY_SOURCE, STEADY } from './explaining.ts';
import { atFull } from './reading.ts';
import type { ResultComputation } from './result.ts';

export const fullVoltage: ResultComputation = {
  needs: ['full'],
  of: atFull('full', ({ busVoltage }) => busVoltage),
  explain: atPoint('full', (at) => ({
    formula: 'V = S·u(z) − I·(S·r(z) + r_l)',
    description: 'Voltage of the full pack less its sag at full duty with all loads.',
    terms: [ofResult('I', 'full_current', at.assessment), ...cellTerms(at), ...leadTerms(at)],
    source: BATTERY_SOURCE,
    neglects: STEADY,
  })),
};
