/** Hover duty. */

import { dutyIn } from './explaining.ts';
import { inFlight, most } from './reading.ts';
import type { ResultComputation } from './result.ts';

export const hoverDuty: ResultComputation = {
  needs: ['hover'],
  of: inFlight('hover', (at) => most(at, ({ duty }) => duty)),
  explain: dutyIn('hover', 'Mean voltage that the motors need over the bus voltage.'),
};
