/** Endurance. */
import { ofResult } from '../explain/derivation-terms.ts';
import { cruiseAt, cruiseTerms, LEVEL_FLIGHT_NEGLECTS, LEVEL_FLIGHT_SOURCE, TIME_AT_SPEED } from './level-flight.ts';
import type { ResultComputation } from './result.ts';

export const endurance: ResultComputation = {
  needs: ['dryMass', 'packMass', 'fullAtReserve', 'wind', 'hoverTime'],
  of: (evaluation, overlapping) => cruiseAt(evaluation, overlapping, 'endurance')?.time,
  explain: (assessment) => ({
    formula: `t = ${TIME_AT_SPEED}`,
    description: 'The time in hover, longer by as much as level flight at the endurance speed v takes less power.',
    terms: [ofResult('v', 'endurance_speed', assessment), ...cruiseTerms(assessment, 'endurance')],
    source: LEVEL_FLIGHT_SOURCE,
    neglects: LEVEL_FLIGHT_NEGLECTS,
  }),
};
