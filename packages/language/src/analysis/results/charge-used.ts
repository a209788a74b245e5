/** Charge used. */

import { BATTERY_SOURCE, chargeTerms, flightEndOf, flownOn, STEADY } from './explaining.ts';
import { ofFlight } from './reading.ts';
import type { ResultComputation } from './result.ts';

export const chargeUsed: ResultComputation = {
  needs: ['flightTime'],
  of: ofFlight('flightTime', ({ chargeUsed }) => chargeUsed),
  explain: (assessment) => {
    const { flown } = flownOn(assessment, 'flightTime') ?? {};
    if (!flown) return undefined;
    const end = flightEndOf('flightTime', flown, assessment);
    const charge = chargeTerms(assessment);
    return {
      formula: `Q_u = ${charge.charge}·(1 − ${end.term?.symbol})`,
      description: `Charge from the full pack to where the flight ends.${end.description}`,
      terms: [...charge.terms, end.term],
      source: BATTERY_SOURCE,
      neglects: STEADY,
    };
  },
};
