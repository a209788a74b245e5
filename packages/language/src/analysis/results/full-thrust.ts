/** Full-duty thrust. */

import { thrustAt } from './explaining.ts';
import { atFull, thrustFactorOf } from './reading.ts';
import type { ResultComputation } from './result.ts';

export const fullThrust: ResultComputation = {
  needs: ['full'],
  of: atFull('full', (at) => at.point.thrust * thrustFactorOf(at)),
  explain: thrustAt(
    'full',
    (thrust) => `T = f^⅔·${thrust}`,
    'Thrust of all rotors at the speed that they reach at the duty limit.',
    () => [],
  ),
};
