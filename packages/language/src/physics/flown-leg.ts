/** One leg of a flight, as a steady state. */
import type { SteadyFlight } from './leg-rate.ts';

/** In SI. */
export interface FlownLeg {
  readonly manner: 'hover' | 'cruise' | 'climb' | 'descent' | 'home' | 'release';
  /** s, or m over the ground (of a climb and a descent in height): one of them, but for `home` and `release`. */
  readonly time?: number;
  readonly distance?: number;
  /** m/s through the air; of a climb and a descent upwards and downwards. */
  readonly speed?: number;
  /** m/s from ahead; below zero from behind. */
  readonly wind: number;
  readonly released?: readonly Release[];
}

/** What is released and stays behind: of one thing on board. */
export interface Release {
  /** kg */
  readonly mass: number;
  /** Of the craft's loads, where it is one: which, and the share of its draw that goes. */
  readonly load?: number;
  readonly share: number;
}

/** The state that it is flown in. */
export const steadyOf = ({ manner, speed = 0, wind }: Pick<FlownLeg, 'manner' | 'speed' | 'wind'>): SteadyFlight => {
  if (manner === 'cruise' || manner === 'home') return { speed, climb: 0 };
  return { speed: Math.abs(wind), climb: manner === 'climb' ? speed : 0 };
};

/** s */
export function timeOf({ manner, time, distance = 0, speed = 0, wind }: FlownLeg): number {
  if (time !== undefined) return time;
  return distance / (manner === 'cruise' ? speed - wind : speed);
}
