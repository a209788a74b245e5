/** Burst current. */
import { balanceTerms, boardTerm } from '../explain/derivation-rotors.ts';
import { ofFigure, ofNumber } from '../explain/derivation-terms.ts';
import { atRotor, currentAt, HARDEST } from './explaining.ts';
import { inBurst } from './reading.ts';
import type { ResultComputation } from './result.ts';

export const burstCurrent: ResultComputation = {
  needs: ['burst'],
  of: inBurst('burst', ({ point, factor }) => point.packCurrent * factor),
  explain: atRotor('burst', HARDEST, (at, rotor) => {
    const duty = ofNumber('d', `duty ${at.where}`, rotor.rotor.duty, '%');
    const explanation = currentAt(
      at,
      'The current that a burst draws from the full pack, with loads at their peak; at most that of full duty.',
      duty,
    );
    const balance = balanceTerms(at, rotor);
    const [shared, further] = [true, false].map((isShared) =>
      balance.filter((term) => isShared === explanation.terms.some((one) => one?.symbol === term?.symbol)),
    );
    return {
      ...explanation,
      terms: [
        ofFigure('b', at.assessment.build.rules.burstMultiple),
        ...explanation.terms.map((term) => shared?.find((one) => one?.symbol === term?.symbol) ?? term),
        boardTerm(at.assessment, rotor),
        ...(further ?? []),
      ],
    };
  }),
};
