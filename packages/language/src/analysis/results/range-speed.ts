/** Range speed. */
import { speedResult } from './level-flight.ts';

export const rangeSpeed = speedResult(
  'range',
  'Level speed at which a metre takes least charge, in still air; against the wind it is faster, with the wind slower.',
);
