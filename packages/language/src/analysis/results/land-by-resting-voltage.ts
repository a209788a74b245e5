/** Land at, resting. */
import { restingTerms } from '../explain/derivation-points.ts';
import { landBy } from './explaining.ts';
import { restingCell } from './reading.ts';
import type { ResultComputation } from './result.ts';

export const landByRestingVoltage: ResultComputation = {
  needs: ['hoverAtLandBy'],
  of: ({ craft }) => craft?.flight && restingCell(craft.craft, craft.flight.landBy),
  explain: landBy('V = u(z)', 'The same with the motors off.', restingTerms),
};
