/** Tip Mach number. */
import { ofFigure, ofNumber, ofResult } from '../explain/derivation-terms.ts';
import { atPoint } from './explaining.ts';
import { atFull, fastestTip } from './reading.ts';
import type { ResultComputation } from './result.ts';

export const tipMach: ResultComputation = {
  needs: ['full'],
  of: atFull('full', (at) => fastestTip(at) / at.craft.air.speedOfSound),
  explain: atPoint('full', (at) => ({
    formula: 'M = v_t / a',
    description: 'Tip speed over the speed of sound.',
    terms: [
      ofResult('v_t', 'tip_speed', at.assessment),
      ofNumber('a', 'speed of sound: √(1.4·287·T_air) in dry air, T_air in kelvin', at.craft.air.speedOfSound, 'm/s'),
      ofFigure('T_air', at.assessment.build.rules.airTemperature),
      ofFigure('φ', at.assessment.build.rules.humidity),
    ],
    source: 'ISO 2533:1975',
  })),
};
