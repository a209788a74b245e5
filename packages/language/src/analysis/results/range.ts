/** Range. */
import { ofResult } from '../explain/derivation-terms.ts';
import { cruiseAt, cruiseTerms, LEVEL_FLIGHT_NEGLECTS, LEVEL_FLIGHT_SOURCE, TIME_AT_SPEED } from './level-flight.ts';
import type { ResultComputation } from './result.ts';

export const range: ResultComputation = {
  needs: ['dryMass', 'packMass', 'fullAtReserve', 'wind', 'hoverTime'],
  of: (evaluation, overlapping) => {
    const cruise = cruiseAt(evaluation, overlapping, 'range');
    return cruise && cruise.speed * cruise.time;
  },
  explain: (assessment) => ({
    formula: `s = v·${TIME_AT_SPEED}`,
    description:
      'Range speed times the time that it lasts: all the way, out and back, in still air and down to the reserve.',
    terms: [ofResult('v', 'range_speed', assessment), ...cruiseTerms(assessment, 'range')],
    source: LEVEL_FLIGHT_SOURCE,
    neglects: LEVEL_FLIGHT_NEGLECTS,
  }),
};
