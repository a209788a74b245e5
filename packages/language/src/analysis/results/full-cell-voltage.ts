/** Full-duty cell voltage. */

import { ofCell } from './explaining.ts';
import { atFull } from './reading.ts';
import type { ResultComputation } from './result.ts';

export const fullCellVoltage: ResultComputation = {
  needs: ['full'],
  of: atFull('full', ({ cellVoltage }) => cellVoltage),
  explain: ofCell('full', 'Voltage of one cell of the full pack less its sag at full duty.', 'full_current'),
};
