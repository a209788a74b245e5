/** Hover efficiency. */

import { DEFINITION, ofResults } from './explaining.ts';
import { inFlight } from './reading.ts';
import type { ResultComputation } from './result.ts';

export const hoverEfficiency: ResultComputation = {
  needs: ['hover'],
  of: inFlight('hover', ({ point }) => point.thrust / (point.packCurrent * point.busVoltage)),
  explain: ofResults('e = m·g / P', 'Thrust per watt from the pack, with all loads.', DEFINITION, {
    m: 'all_up_weight',
    P: 'hover_power',
  }),
};
