/** Full-duty motor power. */

import { atDutyLimit, type RotorChoice } from './explaining.ts';
import { atFull, mostOfLines, motorPower } from './reading.ts';
import type { ResultComputation } from './result.ts';

const STRONGEST: RotorChoice = {
  most: ({ rotor }) => rotor.motorVoltage * rotor.motorCurrent,
  description: 'which takes most power',
};

export const fullMotorPower: ResultComputation = {
  needs: ['full'],
  of: atFull('full', (at) => at.factor * mostOfLines(at, motorPower)),
  explain: atDutyLimit(STRONGEST, 'P = f·v·i', 'Mean voltage at the motor times its current.'),
};
