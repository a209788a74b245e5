/** Full-duty power. */

import { DEFINITION, ofResults } from './explaining.ts';
import { atFull } from './reading.ts';
import type { ResultComputation } from './result.ts';

export const fullPower: ResultComputation = {
  needs: ['full'],
  of: atFull('full', ({ point, factor, busVoltage }) => point.packCurrent * factor * busVoltage),
  explain: ofResults('P = V·I', 'Bus voltage times pack current at full duty.', DEFINITION, {
    V: 'full_voltage',
    I: 'full_current',
  }),
};
