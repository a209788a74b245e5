/**
 * The physics of one setup at the few points that all results are read from: hover, burst and full duty, on a fresh pack,
 * half way and at the reserve; how long it flies; when a load browns out.
 */
import { type Craft, type Impossible, isImpossible, type Load, type OperatingPoint } from '../physics/craft.ts';
import type { Endurance } from '../physics/discharge.ts';
import {
  atHoverMultiple,
  atRest,
  burst,
  flightTime,
  fullDuty,
  hover,
  hoverTime,
  lastSafeCharge,
} from '../physics/flight.ts';
import type { Setup } from './setup.ts';

export type Point = OperatingPoint | Impossible;

/** The highest state of charge at which a load gets less than its minimum; undefined when it never does before the pack is empty. */
export interface BrownOut {
  readonly inHover: number | undefined;
  readonly inBurst: number | undefined;
  /** Hover at the charge at which a burst browns it out: what a pilot reads then. */
  readonly hoverAtBurst?: Point;
}

export interface CraftEvaluation {
  readonly craft: Craft;
  /** Half way between the full pack and the reserve. */
  readonly middleCharge: number;
  readonly rest: Point;
  readonly full: Point;
  readonly fullAtReserve: Point;
  /** What hangs on the mass; absent while that is unknown. */
  readonly flight?: FlightEvaluation;
}

export interface FlightEvaluation {
  readonly hover: Point;
  readonly hoverAtReserve: Point;
  readonly burst: Point;
  readonly burstAtReserve: Point;
  /** At the middle charge, one a phase of the flight; at the duty limit where a phase asks for more. */
  readonly phases: readonly Point[];
  readonly hoverTime: Endurance | Impossible;
  readonly flightTime: Endurance | Impossible;
  /** The same by a quick rule, s: for ratios between nearly equal craft. */
  readonly roughHoverTime: number | undefined;
  readonly roughFlightTime: number | undefined;
  /** How much shorter it hovers for each kilogram more, s/kg, from one gram more; absent where it cannot. */
  readonly gramCostTime: number | undefined;
  /** One a load. */
  readonly brownOuts: readonly BrownOut[];
  /** State of charge by which to be on the ground: the reserve, or earlier where a burst browns a load out. */
  readonly landBy: number;
  readonly hoverAtLandBy: Point;
}

export interface Evaluation {
  readonly setup: Setup;
  readonly craft?: CraftEvaluation;
}

/**
 * Solves every point. `near` is the evaluation of an almost equal setup: times are then scaled from its times by Simpson's
 * rule on the current, which gives their change as well as the full integral does, from points that are solved anyway.
 */
export function evaluate(setup: Setup, near?: Evaluation): Evaluation {
  const { craft } = setup;
  if (!craft) return { setup };
  const massKnown = setup.dryMass !== undefined && setup.packMass !== undefined;
  return {
    setup,
    craft: {
      craft,
      middleCharge: middleChargeOf(craft),
      rest: atRest(craft, 1),
      full: fullDuty(craft, 1),
      fullAtReserve: fullDuty(craft, craft.pack.reserve),
      ...(massKnown && { flight: evaluateFlight(craft, near?.craft) }),
    },
  };
}

const middleChargeOf = (craft: Craft): number => (1 + craft.pack.reserve) / 2;

function evaluateFlight(craft: Craft, near: CraftEvaluation | undefined): FlightEvaluation {
  const { reserve } = craft.pack;
  const middleCharge = middleChargeOf(craft);
  const hoverMiddle = hover(craft, middleCharge);
  const hoverAtReserve = hover(craft, reserve);
  const brownOuts = craft.loads.map((load) => brownOutOf(craft, load));
  const landBy = Math.min(1, Math.max(reserve, ...brownOuts.map(({ inBurst }) => inBurst ?? 0)));
  const hovering = near ? hoverTimeNear(craft, near) : hoverTime(craft);
  return {
    hover: hoverMiddle,
    hoverAtReserve,
    burst: burst(craft, 1),
    burstAtReserve: burst(craft, reserve),
    phases: craft.flown.map(({ hoverMultiple }) =>
      hoverMultiple === 1 ? hoverMiddle : phaseAt(craft, middleCharge, hoverMultiple),
    ),
    hoverTime: hovering,
    flightTime: near ? flightTimeNear(craft, near) : flightTime(craft),
    roughHoverTime: near ? undefined : roughTime(craft, HOVERING, 0),
    roughFlightTime: near ? undefined : roughTime(craft, craft.flown, craft.groundTime),
    gramCostTime: near ? undefined : gramCost(craft, hovering),
    brownOuts,
    landBy,
    hoverAtLandBy: landBy === reserve ? hoverAtReserve : hover(craft, landBy),
  };
}

/** A phase of flight at a multiple of hover thrust; one that asks for more than full duty gets full duty. */
function phaseAt(craft: Craft, stateOfCharge: number, hoverMultiple: number): Point {
  const point = atHoverMultiple(craft, stateOfCharge, hoverMultiple);
  return isImpossible(point) ? fullDuty(craft, stateOfCharge) : point;
}

function brownOutOf(craft: Craft, load: Load): BrownOut {
  const minimum = load.minimumVoltage;
  if (minimum === undefined) return { inHover: undefined, inBurst: undefined };
  const first = (point: 'hover' | 'burst'): number | undefined => {
    const lowestSafe = lastSafeCharge(craft, load.from, minimum, point);
    if (lowestSafe === undefined) return 1;
    return lowestSafe === 0 ? undefined : lowestSafe;
  };
  const inBurst = first('burst');
  return {
    inHover: first('hover'),
    inBurst,
    ...(inBurst !== undefined && { hoverAtBurst: hover(craft, inBurst) }),
  };
}

const HOVERING: Craft['flown'] = [{ share: 1, hoverMultiple: 1 }];

/** kg */
const ONE_GRAM = 1e-3;

function hoverTimeNear(craft: Craft, near: CraftEvaluation): Endurance | Impossible {
  const known = near.flight?.hoverTime;
  const rough = near.flight?.roughHoverTime;
  if (!known || isImpossible(known) || known.endedBy !== 'reserve' || !rough) return hoverTime(craft);
  return scaled(known, craft, roughTime(craft, HOVERING, 0), rough);
}

function flightTimeNear(craft: Craft, near: CraftEvaluation): Endurance | Impossible {
  const known = near.flight?.flightTime;
  const rough = near.flight?.roughFlightTime;
  if (!known || isImpossible(known) || known.endedBy !== 'reserve' || !rough) return flightTime(craft);
  return scaled(known, craft, roughTime(craft, craft.flown, craft.groundTime), rough);
}

/** An endurance to the reserve, carried over from a nearly equal craft in the ratio of two rough times. */
function scaled(known: Endurance, craft: Craft, time: number | undefined, nearTime: number): Endurance | Impossible {
  if (time === undefined) return hoverTime(craft);
  return {
    ...known,
    time: (known.time * time) / nearTime,
    chargeUsed: craft.pack.capacity * (1 - craft.pack.reserve),
    finalStateOfCharge: craft.pack.reserve,
  };
}

/** Time to the reserve, s, by Simpson's rule over the charge; within a percent, and far better in ratios. */
function roughTime(craft: Craft, mix: Craft['flown'], groundTime: number): number | undefined {
  const resting = groundTime > 0 ? atRest(craft, 1) : undefined;
  const drained = resting && !isImpossible(resting) ? (resting.packCurrent * groundTime) / craft.pack.capacity : 0;
  const start = 1 - drained;
  const end = craft.pack.reserve;
  const currents = [start, (start + end) / 2, end].map((charge) => meanCurrent(craft, mix, charge));
  const [first, middle, last] = currents;
  if (!first || !middle || !last) return undefined;
  return ((craft.pack.capacity * (start - end)) / 6) * (1 / first + 4 / middle + 1 / last);
}

function meanCurrent(craft: Craft, mix: Craft['flown'], stateOfCharge: number): number | undefined {
  let sum = 0;
  for (const { share, hoverMultiple } of mix) {
    const point = phaseAt(craft, stateOfCharge, hoverMultiple);
    if (isImpossible(point)) return undefined;
    sum += share * point.packCurrent;
  }
  return sum;
}

/** What one gram more takes from a hover time, per mass, s/kg. */
function gramCost(craft: Craft, hovering: Endurance | Impossible): number | undefined {
  if (isImpossible(hovering)) return undefined;
  const heavier = { ...craft, mass: craft.mass + ONE_GRAM };
  const time = roughTime(craft, HOVERING, 0);
  const heavierTime = roughTime(heavier, HOVERING, 0);
  if (hovering.endedBy === 'reserve' && time && heavierTime)
    return (hovering.time * (1 - heavierTime / time)) / ONE_GRAM;
  const shorter = hoverTime(heavier);
  return isImpossible(shorter) ? undefined : (hovering.time - shorter.time) / ONE_GRAM;
}
