/** Full-duty speed. */

import { atDutyLimit, FASTEST } from './explaining.ts';
import { atFull, mostOfLines, speedFactorOf } from './reading.ts';
import type { ResultComputation } from './result.ts';

export const fullSpeed: ResultComputation = {
  needs: ['full'],
  of: atFull('full', (at) => speedFactorOf(at) * mostOfLines(at, ({ speed }) => speed)),
  explain: atDutyLimit(
    FASTEST,
    'n = f^⅓·ω, where d·V = ω/K + i·(R_w + R_on + X)',
    'The operating point at which the fastest motor balances its propeller at the duty limit.',
  ),
};
