/** Tip speed. */
import { rotorWithMost, speedOf } from '../explain/derivation-rotors.ts';
import { ofFigure, ofNumber, ofResult } from '../explain/derivation-terms.ts';
import { atRotor, DEFINITION, type RotorChoice } from './explaining.ts';
import { atFull, fastestTip } from './reading.ts';
import type { ResultComputation } from './result.ts';

const FASTEST_TIP: RotorChoice = {
  most: ({ group, rotor }) => rotor.speed * group.propeller.diameter,
  description: 'with the fastest tips',
};

export const tipSpeed: ResultComputation = {
  needs: ['full'],
  of: atFull('full', fastestTip),
  explain: atRotor('full', FASTEST_TIP, (at, rotor) => ({
    formula: 'v_t = π·n·D',
    description: 'Speed of the fastest blade tip at full duty.',
    terms: [
      rotorWithMost(at, speedOf) === rotor
        ? ofResult('n', 'full_speed', at.assessment)
        : ofNumber('n', `speed of the rotor ${at.where}`, at.factor ** (1 / 3) * rotor.rotor.speed, 'rpm'),
      ofFigure('D', rotor.line.propeller.figure('diameter')),
    ],
    source: DEFINITION,
  })),
};
