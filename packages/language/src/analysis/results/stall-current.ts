/** Stall current. */
import { busTerm } from '../explain/derivation-points.ts';
import { boardTerm, windingTerms } from '../explain/derivation-rotors.ts';
import { ofResult } from '../explain/derivation-terms.ts';
import { atRotor, MOTOR_SOURCE, type RotorChoice } from './explaining.ts';
import { currentInStall, inFlight } from './reading.ts';
import type { ResultComputation } from './result.ts';

/** All are at one duty. */
const LEAST_RESISTANCE: RotorChoice = {
  most: ({ group }) => 1 / (group.motor.resistance + group.esc.resistance),
  description: 'which has the least resistance',
};

export const stallCurrent: ResultComputation = {
  needs: ['hover'],
  of: inFlight('hover', currentInStall),
  explain: atRotor('hover', LEAST_RESISTANCE, (at, rotor) => ({
    formula: 'i = d·V / (R_w + R_on)',
    description: 'A stalled motor has no back-EMF; only resistance limits the current.',
    terms: [
      ofResult('d', 'hover_duty', at.assessment),
      busTerm('V', at),
      ...windingTerms(at, rotor),
      boardTerm(at.assessment, rotor),
    ],
    source: MOTOR_SOURCE,
    neglects: 'the board cuts off or the winding burns within moments',
  })),
};
