/** Hover speed. */
import { airTerms } from '../explain/derivation-points.ts';
import { rotorsAt, thrustTerms } from '../explain/derivation-rotors.ts';
import { ofNumber, ofResult } from '../explain/derivation-terms.ts';
import { atRotor, FASTEST, PROPELLER_SOURCE, STILL_AIR } from './explaining.ts';
import { inFlight, mostOfLines } from './reading.ts';
import type { ResultComputation } from './result.ts';

export const hoverSpeed: ResultComputation = {
  needs: ['hover'],
  of: inFlight('hover', (at) => mostOfLines(at, ({ speed }) => speed)),
  explain: atRotor('hover', FASTEST, (at, rotor) => {
    const { factors, terms } = thrustTerms(at, rotor);
    const isMixed = rotorsAt(at).length > 1;
    return {
      formula: `n = √(${isMixed ? `T_r / (${factors}` : `m·g / (N·${factors}`}·ρ·D⁴))`,
      description: 'The speed at which the thrust of all rotors equals the weight.',
      terms: [
        ...(isMixed
          ? [
              ofNumber(
                'T_r',
                'thrust of one rotor; all have the same duty, and their sum is m·g',
                rotor.rotor.thrust,
                'gf',
              ),
            ]
          : [ofNumber('N', 'rotors', rotor.line.count.value, '')]),
        ofResult('m', 'all_up_weight', at.assessment),
        ...terms,
        ...airTerms(at),
      ],
      source: PROPELLER_SOURCE,
      neglects: STILL_AIR,
    };
  }),
};
