/** What of the results a duty limit reaches: the rest is the same under every one of them. */
import type { Need } from '../results/reading.ts';

// As bits.
export const HOVER = 1;
export const BURST = 2;
export const HOVER_TIME = 4;
export const FLIGHT_TIME = 8;
export const LEGS = 16;
/** No two limits have it in common. */
export const LIMITED = 32;

export const LIMIT_REACH: Readonly<Record<Need, number>> = {
  dryMass: 0,
  packMass: 0,
  pack: 0,
  escBurst: 0,
  mount: 0,
  balance: 0,
  frontRotors: 0,
  rest: 0,
  hover: HOVER,
  hoverAtReserve: HOVER,
  burst: BURST,
  burstAtReserve: BURST,
  hoverTime: HOVER_TIME,
  flightTime: FLIGHT_TIME,
  // The limit itself is in what no load and no pack limits.
  speedConstant: LIMITED,
  full: LIMITED,
  fullAtReserve: LIMITED,
  hoverAtLandBy: LIMITED,
  wind: LIMITED,
  heat: LIMITED,
  legs: LEGS,
};
