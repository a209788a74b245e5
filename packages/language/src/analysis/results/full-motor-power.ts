/** Full-duty motor power. */

import { atDutyLimit, type Choice } from './explaining.ts';
import { atFull, most, motorPower } from './reading.ts';
import type { ResultComputation } from './result.ts';

const STRONGEST: Choice = {
  most: ({ rotor }) => rotor.motorVoltage * rotor.motorCurrent,
  description: 'which takes most power',
};

export const fullMotorPower: ResultComputation = {
  needs: ['full'],
  of: atFull('full', (at) => at.factor * most(at, motorPower)),
  explain: atDutyLimit(STRONGEST, 'P = f·v·i', 'Mean voltage at the motor times its current.'),
};
