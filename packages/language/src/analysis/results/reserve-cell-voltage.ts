/** Cell voltage at the reserve. */

import { ofCell } from './explaining.ts';
import { atFull } from './reading.ts';
import type { ResultComputation } from './result.ts';

export const reserveCellVoltage: ResultComputation = {
  needs: ['fullAtReserve'],
  of: atFull('fullAtReserve', ({ cellVoltage }) => cellVoltage),
  explain: ofCell('fullAtReserve', 'Voltage of one cell at the reserve less its sag at full duty.'),
};
