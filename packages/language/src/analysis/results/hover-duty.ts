/** Hover duty. */

import { dutyIn } from './explaining.ts';
import { inFlight, mostOfLines } from './reading.ts';
import type { ResultComputation } from './result.ts';

export const hoverDuty: ResultComputation = {
  needs: ['hover'],
  of: inFlight('hover', (at) => mostOfLines(at, ({ duty }) => duty)),
  explain: dutyIn('hover', 'Mean voltage that the motors need over the bus voltage.'),
};
