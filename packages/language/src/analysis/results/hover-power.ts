/** Hover power. */
import { busTerm } from '../explain/derivation-points.ts';
import { ofResult } from '../explain/derivation-terms.ts';
import { atPoint, DEFINITION } from './explaining.ts';
import { inFlight } from './reading.ts';
import type { ResultComputation } from './result.ts';

export const hoverPower: ResultComputation = {
  needs: ['hover'],
  of: inFlight('hover', ({ point }) => point.packCurrent * point.busVoltage),
  explain: atPoint('hover', (at) => ({
    formula: 'P = V·I',
    description: 'Bus voltage times pack current, with all loads.',
    terms: [busTerm('V', at), ofResult('I', 'hover_current', at.assessment)],
    source: DEFINITION,
  })),
};
