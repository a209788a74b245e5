/** Hover duty at the reserve. */

import { dutyIn } from './explaining.ts';
import { inFlight, most } from './reading.ts';
import type { ResultComputation } from './result.ts';

export const reserveHoverDuty: ResultComputation = {
  needs: ['hoverAtReserve'],
  of: inFlight('hoverAtReserve', (at) => most(at, ({ duty }) => duty)),
  explain: dutyIn(
    'hoverAtReserve',
    'Mean voltage that the motors need over the bus voltage of the pack at the reserve.',
  ),
};
