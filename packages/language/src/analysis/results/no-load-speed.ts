/** No-load speed. */
import { formatValue } from '../../units/print.ts';
import { DIGITS, ofFigure, ofNumber } from '../explain/derivation-terms.ts';
import { cellsInSeries } from '../setup/pack-setup.ts';
import { fastestKv, MOTOR_SOURCE } from './explaining.ts';
import { fastestConstant } from './reading.ts';
import type { ResultComputation } from './result.ts';

export const noLoadSpeed: ResultComputation = {
  needs: ['speedConstant', 'pack'],
  of: (evaluation) => {
    const { fullVoltage, dutyLimit } = evaluation.setup;
    const fastest = fastestConstant(evaluation);
    return fullVoltage && fastest ? fastest * dutyLimit * fullVoltage : undefined;
  },
  explain: ({ build, option, evaluation: { setup } }) => {
    const cells = cellsInSeries(option) ?? 1;
    const full = setup.fullVoltage;
    return {
      formula: 'n_0 = K·d·V_full',
      description:
        'No-load speed on the full pack at the duty limit; the small voltage drop by the no-load current is left out.',
      terms: [
        ofFigure('K', fastestKv(build)),
        ofFigure('d', option.dutyLimit),
        ofNumber(
          'V_full',
          `voltage of the full pack at rest: ${cells}·${formatValue((full ?? 0) / cells, 'V', DIGITS)}`,
          full,
          'V',
        ),
      ],
      source: MOTOR_SOURCE,
    };
  },
};
