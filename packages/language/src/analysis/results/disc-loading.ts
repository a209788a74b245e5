/** Disc loading. */
import { indexed, ofFigure, ofNumber, ofResult } from '../explain/derivation-terms.ts';
import { MOMENTUM_SOURCE } from './explaining.ts';
import { inFlight, sweptArea } from './reading.ts';
import type { ResultComputation } from './result.ts';

export const discLoading: ResultComputation = {
  needs: ['hover'],
  of: (evaluation, overlapping) =>
    inFlight('hover', ({ craft }) => craft.mass / sweptArea(craft, overlapping))(evaluation),
  explain: (assessment) => {
    const swept = assessment.build.rotors.filter(({ position }) => position !== 'lower');
    const isMixed = swept.length > 1;
    return {
      formula: isMixed ? 'm / (π/4·Σ N·D²)' : 'm / (N·π/4·D²)',
      description: 'All-up mass over the disc area of the rotors; a coaxial pair counts once.',
      terms: [
        ofResult('m', 'all_up_weight', assessment),
        ...swept.flatMap(({ count, propeller }, i) => [
          ofNumber(indexed('N', i, swept.length), `rotors${isMixed ? ` with ${propeller.name}` : ''}`, count.value, ''),
          ofFigure(indexed('D', i, swept.length), propeller.figure('diameter')),
        ]),
      ],
      source: MOMENTUM_SOURCE,
    };
  },
};
