/** Motor temperature. */

import { lossesOverFlight } from '../../physics/windings.ts';
import type { Evaluation } from '../evaluate/evaluation.ts';
import { ofFigure, ofNumber } from '../explain/derivation-terms.ts';
import { indexOfGreatest, settledWinding } from './reading.ts';
import type { ResultComputation } from './result.ts';

/** Of the motors that state how they shed heat; undefined when one runs away. */
function hottestWinding(evaluation: Evaluation): number | undefined {
  const lines = evaluation.setup.heat.flatMap((path, line) => (path ? [line] : []));
  const settledIn = (one: Evaluation) => lines.map((line) => settledWinding(line)(one));
  const settled = settledIn(evaluation);
  if (settled.some((temperature) => temperature === undefined)) return undefined;
  return settled[indexOfGreatest(settledIn(evaluation.near ?? evaluation).map((temperature) => temperature ?? 0))];
}

const HEAT = 'one-body thermal model of machine texts; IEC 60028 for copper';

function hottestLine(windings: readonly (number | 'runaway' | undefined)[]): number | undefined {
  const known = windings.flatMap((temperature, line) =>
    typeof temperature === 'number' ? [{ temperature, line }] : [],
  );
  return known.toSorted((a, b) => b.temperature - a.temperature)[0]?.line;
}

export const motorTemperature: ResultComputation = {
  needs: ['hover', 'heat'],
  of: hottestWinding,
  explain: (assessment) => {
    const { build, evaluation } = assessment;
    const hottest = hottestLine(evaluation.craft?.windings ?? []);
    const motor = hottest === undefined ? undefined : build.rotors[hottest]?.motor;
    const losses =
      evaluation.craft && hottest !== undefined ? lossesOverFlight(evaluation.craft.craft, hottest) : undefined;
    return {
      formula: 'T = T_air + R_th·(i²·R·(1 + 0.00393·(T − 20 °C)) + P_o)',
      description: 'The temperature at which the heat made as flown leaves through the declared thermal resistance.',
      terms: [
        ofFigure('T_air', build.rules.airTemperature),
        ofFigure('R_th', motor?.figure('thermal_resistance')),
        ofFigure('R', motor?.figure('resistance')),
        ofNumber('i', 'root mean square current of the hottest motor as flown', losses?.current, 'A'),
        ofNumber(
          'P_o',
          'its mean losses outside the copper: iron, friction, commutation, ripple',
          losses?.otherLosses,
          'W',
        ),
      ],
      source: HEAT,
      neglects: 'cooling that changes with speed; one body for winding and iron',
    };
  },
};
