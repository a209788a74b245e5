/** Hover duty at the reserve. */

import { dutyIn } from './explaining.ts';
import { inFlight, mostOfLines } from './reading.ts';
import type { ResultComputation } from './result.ts';

export const reserveHoverDuty: ResultComputation = {
  needs: ['hoverAtReserve'],
  of: inFlight('hoverAtReserve', (at) => mostOfLines(at, ({ duty }) => duty)),
  explain: dutyIn(
    'hoverAtReserve',
    'Mean voltage that the motors need over the bus voltage of the pack at the reserve.',
  ),
};
