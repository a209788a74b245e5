/** Full-duty current. */
import { ofFigure } from '../explain/derivation-terms.ts';
import { atPoint, currentAt } from './explaining.ts';
import { atFull } from './reading.ts';
import type { ResultComputation } from './result.ts';

export const fullCurrent: ResultComputation = {
  needs: ['full'],
  of: atFull('full', ({ point, factor }) => point.packCurrent * factor),
  explain: atPoint('full', (at) =>
    currentAt(
      at,
      'Each motor balances its propeller at the duty limit, at the voltage to which the pack sags under the total current.',
      ofFigure('d', at.assessment.option.dutyLimit),
    ),
  ),
};
