/** Wind held. */
import { STANDARD_GRAVITY } from '../../physics/air.ts';
import { massFlow, strongestWind } from '../../physics/wind.ts';
import { airTerms, pointAt } from '../explain/derivation-points.ts';
import { ofFigure, ofNumber, ofResult } from '../explain/derivation-terms.ts';
import { dragAreaIn } from './air-figures.ts';
import { windCaseOf } from './reading.ts';
import type { ResultComputation } from './result.ts';

const WIND = 'statics; induced velocity after H. Glauert, in Leishman 2006, sec. 2.14';

export const windHeld: ResultComputation = {
  needs: ['dryMass', 'packMass', 'fullAtReserve', 'wind'],
  of: (evaluation, overlapping) => {
    const windCase = windCaseOf(evaluation, overlapping);
    return windCase && strongestWind(windCase)?.speed;
  },
  explain: (assessment) => {
    const { build, evaluation, results } = assessment;
    const windCase = windCaseOf(
      evaluation,
      build.rotors.map(({ position }) => position === 'lower'),
    );
    const held = windCase && strongestWind(windCase);
    const at = pointAt(assessment, 'fullAtReserve');
    const speed = results.get('wind_held')?.estimate.value ?? 0;
    return {
      formula: 'v where m·g·tan θ = ½·ρ·C_dA·v² + k·ṁ·v',
      description:
        'Wind speed at which the craft, tilted as far as allowed or as thrust allows, balances the drag of its body and the momentum drag of its rotors.',
      terms: [
        ofResult('m', 'all_up_weight', assessment),
        ofNumber('θ', 'tilt: θ_max, or arccos(1 / (T/W)) where that is less', held?.tilt, 'deg'),
        ofFigure('θ_max', build.rules.tilt) ?? ofNumber('θ_max', 'as far as is usual', windCase?.tiltLimit, 'deg'),
        ofResult('T/W', 'reserve_thrust_to_weight', assessment),
        ofFigure('C_dA', dragAreaIn(assessment)),
        ofNumber(
          'k',
          'share of the momentum of the air through the rotors that acts as drag',
          windCase?.momentumShare,
          '',
        ),
        windCase && held
          ? ofNumber(
              'ṁ',
              'mass flow through the rotors at v',
              massFlow(windCase, (windCase.mass * STANDARD_GRAVITY) / Math.cos(held.tilt), speed),
              'kg/s',
            )
          : undefined,
        ...(at ? airTerms(at) : []),
      ],
      source: WIND,
      neglects: 'gusts; pitching moment of ducts; drag that changes with tilt',
    };
  },
};
