/** Hover current. */
import { ofResult } from '../explain/derivation-terms.ts';
import { atPoint, currentAt } from './explaining.ts';
import { inFlight } from './reading.ts';
import type { ResultComputation } from './result.ts';

export const hoverCurrent: ResultComputation = {
  needs: ['hover'],
  of: inFlight('hover', ({ point }) => point.packCurrent),
  explain: atPoint('hover', (at) =>
    currentAt(
      at,
      'The current that all channels and all loads draw from the pack.',
      ofResult('d', 'hover_duty', at.assessment),
    ),
  ),
};
