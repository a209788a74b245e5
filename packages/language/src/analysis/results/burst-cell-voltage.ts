/** Burst cell voltage. */

import { ofCell } from './explaining.ts';
import { inBurst } from './reading.ts';
import type { ResultComputation } from './result.ts';

export const burstCellVoltage: ResultComputation = {
  needs: ['burst'],
  of: inBurst('burst', ({ cellVoltage }) => cellVoltage),
  explain: ofCell('burst', 'Voltage of one cell of the full pack less its sag in a burst.', 'burst_current'),
};
