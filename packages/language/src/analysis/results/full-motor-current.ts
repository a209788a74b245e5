/** Full-duty motor current. */

import { atDutyLimit, HARDEST } from './explaining.ts';
import { atFull, mostOfLines } from './reading.ts';
import type { ResultComputation } from './result.ts';

export const fullMotorCurrent: ResultComputation = {
  needs: ['full'],
  of: atFull('full', (at) => at.factor * mostOfLines(at, ({ motorCurrent }) => motorCurrent)),
  explain: atDutyLimit(
    HARDEST,
    'I = f·i, where d·V = ω/K + i·(R_w + R_on + X)',
    'The operating point at which motor and propeller balance at the duty limit.',
  ),
};
