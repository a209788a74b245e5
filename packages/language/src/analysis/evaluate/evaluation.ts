/**
 * The physics of one setup at the few points that all results are read from: hover, burst and full duty, on a fresh pack,
 * half way and at the reserve; how long it flies; when a load browns out.
 */
import type { Craft, Impossible, OperatingPoint } from '../../physics/craft.ts';
import type { Endurance } from '../../physics/discharge.ts';
import {
  atRest,
  burst,
  flightTime,
  flownPhase,
  fullDuty,
  hover,
  hoverTime,
  middleCharge,
} from '../../physics/flight.ts';
import type { Unflyable } from '../../physics/leg-limits.ts';
import type { FlightInLegs } from '../../physics/legs.ts';
import { type WarmCraft, warmed } from '../../physics/windings.ts';
import type { Setup } from '../setup/setup.ts';
import { type BrownOut, brownOutsOf } from './brown-out.ts';
import { once } from './once.ts';

export type Point = OperatingPoint | Impossible;

export interface CraftEvaluation {
  /** With windings as warm as they settle, where their thermal resistance is known. */
  readonly craft: Craft;
  /** K, one per rotor line. */
  readonly windings: WarmCraft['windings'];
  readonly rest: Point;
  readonly full: Point;
  readonly fullAtReserve: Point;
  /** What depends on the mass; absent while that is unknown. */
  readonly flight?: FlightEvaluation;
}

/** "Middle" is the charge half way between the full pack and the reserve. */
export interface FlightEvaluation {
  readonly hover: Point;
  /** Of a setup evaluated near another one this is the other's: see `nearby.ts`. */
  readonly hoverFresh: Point;
  readonly hoverAtReserve: Point;
  readonly burst: Point;
  readonly burstAtReserve: Point;
  /** At the middle charge, one a phase of the flight; at the duty limit where a phase needs more. */
  readonly phases: readonly Point[];
  readonly hoverTime: Endurance | Impossible;
  readonly flightTime: Endurance | Impossible;
  /** One a load. */
  readonly brownOuts: readonly BrownOut[];
  /** State of charge by which to be on the ground: the reserve, or earlier where a burst browns a load out. */
  readonly landBy: number;
  readonly hoverAtLandBy: Point;
}

export interface Evaluation {
  readonly setup: Setup;
  readonly craft?: CraftEvaluation;
  /**
   * Of a setup evaluated near another one, the other's. Which rotor is worked hardest is decided there: of rotors that tie, as equal
   * ones on two lines do, a small change must not pick now this one and now that.
   */
  readonly near?: Evaluation;
  /** Of a setup under one of several duty limits. */
  readonly unlimited?: UnlimitedFlights;
}

/** Flights in legs of which no leg comes near a duty limit: the same under every higher one. */
export interface UnlimitedFlights {
  known?: { readonly limit: number; readonly flown: readonly (FlightInLegs | Unflyable)[] };
}

export const isMassKnown = ({ dryMass, packMass }: Setup): boolean => dryMass !== undefined && packMass !== undefined;

export const isHeated = ({ heat }: Setup): boolean => heat.some((path) => path !== undefined);

/** The craft with its windings as they settle over the flight. */
export function warmCraft(setup: Setup): WarmCraft | undefined {
  const { craft, heat, airTemperature } = setup;
  if (!craft) return undefined;
  return isHeated(setup) && isMassKnown(setup) ? warmed(craft, heat, airTemperature) : { craft, windings: [] };
}

/** Solves every point. */
export function evaluate(setup: Setup): Evaluation {
  const warm = warmCraft(setup);
  if (!warm) return { setup };
  const { craft, windings } = warm;
  const massKnown = isMassKnown(setup);
  return {
    setup,
    craft: {
      craft,
      windings,
      rest: atRest(craft, 1),
      ...fullPoints(craft),
      ...(massKnown && { flight: evaluateFlight(craft) }),
    },
  };
}

function evaluateFlight(craft: Craft): FlightEvaluation {
  const hovering = hoverPoints(craft);
  const brownOuts = brownOutsOf(craft);
  // Times of flight take half of the work, and thousands of candidates do not need all of them.
  const fresh = once(() => hover(craft, 1));
  const hoverTimeOf = once(() => hoverTime(craft));
  const flightTimeOf = once(() => (justHovers(craft) ? hoverTimeOf() : flightTime(craft)));
  return {
    ...hovering,
    get hoverFresh() {
      return fresh();
    },
    ...burstPoints(craft),
    get hoverTime() {
      return hoverTimeOf();
    },
    get flightTime() {
      return flightTimeOf();
    },
    brownOuts,
    ...landingPoint(craft, hovering.hoverAtReserve, brownOuts),
  };
}

type FullPoints = Pick<CraftEvaluation, 'full' | 'fullAtReserve'>;
type BurstPoints = Pick<FlightEvaluation, 'burst' | 'burstAtReserve'>;
type HoverPoints = Pick<FlightEvaluation, 'hover' | 'hoverAtReserve' | 'phases'>;

/** Solved when they are read. `near`, here and below: the same points of a craft that differs very little, to start from. */
export function fullPoints(craft: Craft, near?: FullPoints): FullPoints {
  const full = once(() => fullDuty(craft, 1, undefined, near?.full));
  const fullAtReserve = once(() => fullDuty(craft, craft.pack.reserve, undefined, near?.fullAtReserve));
  return {
    get full() {
      return full();
    },
    get fullAtReserve() {
      return fullAtReserve();
    },
  };
}

export function burstPoints(craft: Craft, near?: BurstPoints): BurstPoints {
  const fresh = once(() => burst(craft, 1, undefined, near?.burst));
  const atReserve = once(() => burst(craft, craft.pack.reserve, undefined, near?.burstAtReserve));
  return {
    get burst() {
      return fresh();
    },
    get burstAtReserve() {
      return atReserve();
    },
  };
}

export function hoverPoints(craft: Craft, near?: HoverPoints): HoverPoints {
  const middle = middleCharge(craft);
  const hoverMiddle = once(() => hover(craft, middle, undefined, near?.hover));
  const atReserve = once(() => hover(craft, craft.pack.reserve, undefined, near?.hoverAtReserve));
  const phases = once(() =>
    craft.flown.map(({ hoverMultiple }, i) =>
      hoverMultiple === 1 ? hoverMiddle() : flownPhase(craft, middle, hoverMultiple, near?.phases[i]),
    ),
  );
  return {
    get hover() {
      return hoverMiddle();
    },
    get hoverAtReserve() {
      return atReserve();
    },
    get phases() {
      return phases();
    },
  };
}

export function landingPoint(
  craft: Craft,
  hoverAtReserve: Point,
  brownOuts: readonly BrownOut[],
  near?: Point,
): Pick<FlightEvaluation, 'landBy' | 'hoverAtLandBy'> {
  const { reserve } = craft.pack;
  const landBy = Math.min(1, Math.max(reserve, ...brownOuts.map(({ inBurst }) => inBurst ?? 0)));
  return { landBy, hoverAtLandBy: landBy === reserve ? hoverAtReserve : hover(craft, landBy, undefined, near) };
}

/** All of it hovering, from take-off on: the time as flown is then the hover time. */
export const justHovers = ({ flown, groundTime }: Craft): boolean =>
  groundTime === 0 && flown.every(({ hoverMultiple }) => hoverMultiple === 1);
