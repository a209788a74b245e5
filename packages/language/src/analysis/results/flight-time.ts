/** Flight time. */
import { isImpossible } from '../../physics/craft.ts';
import type { Assessment } from '../assessment.ts';
import { indexed, ofNumber, type Terms } from '../explain/derivation-terms.ts';
import { ofTimedFlight } from './explaining.ts';
import { ofFlight } from './reading.ts';
import type { ResultComputation } from './result.ts';

/** Current of each phase of the flight, pack half used. */
function phaseTerms({ build, evaluation }: Assessment): Terms {
  const { craft, flight } = evaluation.craft ?? {};
  const { flown } = build.rules;
  return flown.flatMap(({ hoverMultiple }, i) => {
    const point = flight?.phases[i];
    const how = `at ${hoverMultiple.value} times hover thrust`;
    return [
      ofNumber(indexed('s', i, flown.length), `share of the flight ${how}`, craft?.flown[i]?.share, '%'),
      point && !isImpossible(point)
        ? ofNumber(
            indexed('I', i, flown.length),
            `current from the pack ${how}, pack half used`,
            point.packCurrent,
            'A',
          )
        : undefined,
    ];
  });
}

export const flightTime: ResultComputation = {
  needs: ['flightTime'],
  of: ofFlight('flightTime', ({ time }) => time),
  explain: ofTimedFlight(
    'flightTime',
    'The same with the mean current of the flight as flown, about Σ s·I at half charge, after the time on the ground.',
    'mean of the current as flown over the charge',
    phaseTerms,
  ),
};
