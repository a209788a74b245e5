/**
 * Which points of the flight a number of the setup reaches: what it does not reach need not be solved again when it moves.
 * Saves two thirds of the work of propagating uncertainties; an oracle that solves everything again watches over it.
 */
import type { Need } from '../results/reading.ts';
import type { PointGroup, Reach } from './evaluation.ts';

const reach = (...groups: readonly PointGroup[]): Reach => new Set(groups);

const NOTHING = reach();
const EVERYTHING = reach('rest', 'hover', 'burst', 'full', 'times');
/** Loads have one draw in ordinary flight and another at their peak. */
const ORDINARY_DRAW = reach('rest', 'hover', 'times');
const PEAK_DRAW = reach('burst', 'full');
const TURNING = reach('hover', 'burst', 'full', 'times');
export const WEIGHT = reach('hover', 'burst', 'times');
const CAPACITY = reach('times');
/** The phases of the flight, which are solved with hover, and how long they last. */
const PHASES = reach('hover', 'times');

/**
 * @param path of a number in the setup
 * @param heated windings settle at a temperature of the flight, and so does every point with them
 * @param burstsInFlight some phase of the flight needs more than hover: at the duty limit its loads draw their peak
 */
export function reachOf(path: readonly (string | number)[], burstsInFlight: boolean, heated: boolean): Reach {
  const [room, part] = path;
  if (heated && (room === 'craft' || room === 'heat' || room === 'airTemperature')) return EVERYTHING;
  if (room !== 'craft') return NOTHING;
  const last = path.at(-1);
  switch (part) {
    case 'mass':
      return WEIGHT;
    case 'air':
      return last === 'speedOfSound' ? NOTHING : TURNING;
    case 'rotors':
    case 'partDutyPowerFactor':
      return TURNING;
    case 'pack':
      return last === 'capacity' ? CAPACITY : EVERYTHING;
    case 'flown':
      return PHASES;
    case 'loads':
      if (last === 'draw') return ORDINARY_DRAW;
      return burstsInFlight ? EVERYTHING : PEAK_DRAW;
    default:
      return EVERYTHING;
  }
}

const GROUPS: Readonly<Record<Need, readonly PointGroup[]>> = {
  dryMass: [],
  packMass: [],
  speedConstant: [],
  pack: [],
  escBurst: [],
  wind: [],
  heat: [],
  mount: [],
  balance: [],
  frontRotors: [],
  rest: ['rest'],
  full: ['full'],
  fullAtReserve: ['full'],
  hover: ['hover'],
  hoverAtReserve: ['hover'],
  burst: ['burst'],
  burstAtReserve: ['burst'],
  hoverTime: ['times'],
  flightTime: ['times'],
  hoverAtLandBy: ['hover', 'burst'],
  legs: ['rest', 'hover', 'burst', 'full', 'times'],
};

/** Of a reach what quantities with these needs read; times are scaled from the points of hover and from the time on the ground. */
export function reachFor(by: Reach, needs: readonly Need[]): Reach {
  const read = new Set(needs.flatMap((need) => GROUPS[need]));
  const groups: readonly PointGroup[] = read.has('times') ? [...read, 'rest', 'hover', 'burst'] : [...read];
  return new Set(groups.filter((group) => by.has(group)));
}

/** Whether a quantity with these needs can move when a number of this reach does. Numbers outside the circuit may move any. */
export const isReached = (needs: readonly Need[], by: Reach): boolean =>
  by.size === 0 || needs.some((need) => GROUPS[need].some((group) => by.has(group)));
