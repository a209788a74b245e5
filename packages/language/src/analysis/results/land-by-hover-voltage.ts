/** Land at, read in hover. */
import { cellTerms, leadTerms } from '../explain/derivation-points.ts';
import { ofNumber } from '../explain/derivation-terms.ts';
import { landBy } from './explaining.ts';
import { inFlight } from './reading.ts';
import type { ResultComputation } from './result.ts';

export const landByHoverVoltage: ResultComputation = {
  needs: ['hoverAtLandBy'],
  of: inFlight('hoverAtLandBy', ({ point, craft }) => point.busVoltage / craft.pack.cellsInSeries),
  explain: landBy(
    'V = u(z) − I·(r(z) + r_l/S)',
    'Volts per cell as read in hover, where the reserve begins or where a burst would brown out a load, whichever comes first.',
    (at) => [
      ofNumber('I', `current from the pack ${at.where}`, at.point.packCurrent, 'A'),
      ...cellTerms(at),
      ...leadTerms(at),
    ],
  ),
};
