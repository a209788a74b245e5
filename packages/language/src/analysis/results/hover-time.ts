/** Hover time. */
import { ofResult } from '../explain/derivation-terms.ts';
import { ofTimedFlight } from './explaining.ts';
import { ofFlight } from './reading.ts';
import type { ResultComputation } from './result.ts';

export const hoverTime: ResultComputation = {
  needs: ['hoverTime'],
  of: ofFlight('hoverTime', ({ time }) => time),
  explain: ofTimedFlight(
    'hoverTime',
    'Charge from full to the reserve over the mean hover current. The current rises as the voltage falls; its mean is about the value at half charge.',
    'mean of the hover current over the charge',
    (assessment) => [ofResult('I', 'hover_current', assessment)],
  ),
};
