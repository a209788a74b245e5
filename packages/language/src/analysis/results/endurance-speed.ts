/** Endurance speed. */
import { speedResult } from './level-flight.ts';

export const enduranceSpeed = speedResult(
  'endurance',
  'Level speed of least power: the faster the rotors meet fresh air the less they have to accelerate it, until drag takes more than that saves. The minimum is flat: some m/s more or less cost little.',
);
