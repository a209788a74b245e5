/**
 * The physics of one setup at the few points that all results are read from: hover, burst and full duty, on a fresh pack,
 * half way and at the reserve; how long it flies; when a load browns out.
 */
import { type Craft, type Impossible, isImpossible, type OperatingPoint } from '../physics/craft.ts';
import type { Endurance } from '../physics/discharge.ts';
import { atHoverMultiple, atRest, burst, flightTime, fullDuty, hover, hoverTime } from '../physics/flight.ts';
import { type BrownOut, brownOutsNear, brownOutsOf } from './brown-out.ts';
import type { PointGroup, Reach } from './reach.ts';
import type { Setup } from './setup.ts';

export type Point = OperatingPoint | Impossible;

export interface CraftEvaluation {
  readonly craft: Craft;
  readonly rest: Point;
  readonly full: Point;
  readonly fullAtReserve: Point;
  /** What hangs on the mass; absent while that is unknown. */
  readonly flight?: FlightEvaluation;
}

/** "Middle" is the charge half way between the full pack and the reserve. */
export interface FlightEvaluation {
  readonly hover: Point;
  readonly hoverFresh: Point;
  readonly hoverAtReserve: Point;
  readonly burst: Point;
  readonly burstAtReserve: Point;
  /** At the middle charge, one a phase of the flight; at the duty limit where a phase asks for more. */
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
}

/** An evaluated setup, and which of its points a change leaves alone. */
export interface Nearby {
  readonly evaluation: Evaluation;
  readonly reach: Reach;
}

/**
 * Solves every point. `near` is the evaluation of an almost equal setup, so near that only the first order counts: points out
 * of the change's reach are kept, times and brown-outs are carried over by their change, which takes a few points instead of
 * an integral.
 */
export function evaluate(setup: Setup, near?: Nearby): Evaluation {
  const { craft } = setup;
  if (!craft) return { setup };
  const known = near?.evaluation.craft;
  const kept = (group: PointGroup) => (near && known && !near.reach.has(group) ? known : undefined);
  const massKnown = setup.dryMass !== undefined && setup.packMass !== undefined;
  return {
    setup,
    craft: {
      craft,
      rest: kept('rest')?.rest ?? atRest(craft, 1),
      full: kept('full')?.full ?? fullDuty(craft, 1),
      fullAtReserve: kept('full')?.fullAtReserve ?? fullDuty(craft, craft.pack.reserve),
      ...(massKnown && { flight: evaluateFlight(craft, known, (group) => kept(group)?.flight) }),
    },
  };
}

function evaluateFlight(
  craft: Craft,
  near: CraftEvaluation | undefined,
  kept: (group: PointGroup) => FlightEvaluation | undefined,
): FlightEvaluation {
  const { reserve } = craft.pack;
  const hovering = kept('hover') ?? hoverPoints(craft);
  const bursting = kept('burst') ?? { burst: burst(craft, 1), burstAtReserve: burst(craft, reserve) };
  const brownOuts = brownOutsOfFlight(craft, near, kept);
  const landBy = Math.min(1, Math.max(reserve, ...brownOuts.map(({ inBurst }) => inBurst ?? 0)));
  const { hover: middle, hoverFresh, hoverAtReserve, phases } = hovering;
  const knownTimes = kept('times');
  const keptTimes = knownTimes && { hoverTime: knownTimes.hoverTime, flightTime: knownTimes.flightTime };
  const points = { hover: middle, hoverFresh, hoverAtReserve, brownOuts };
  return {
    ...points,
    burst: bursting.burst,
    burstAtReserve: bursting.burstAtReserve,
    phases,
    ...(keptTimes ?? timesOf(craft, points, near)),
    landBy,
    hoverAtLandBy: landBy === reserve ? hoverAtReserve : hover(craft, landBy),
  };
}
const middleChargeOf = (craft: Craft): number => (1 + craft.pack.reserve) / 2;

function hoverPoints(craft: Craft): Pick<FlightEvaluation, 'hover' | 'hoverFresh' | 'hoverAtReserve' | 'phases'> {
  const middle = middleChargeOf(craft);
  const hoverMiddle = hover(craft, middle);
  return {
    hover: hoverMiddle,
    hoverFresh: hover(craft, 1),
    hoverAtReserve: hover(craft, craft.pack.reserve),
    phases: craft.flown.map(({ hoverMultiple }) =>
      hoverMultiple === 1 ? hoverMiddle : phaseAt(craft, middle, hoverMultiple),
    ),
  };
}

function brownOutsOfFlight(
  craft: Craft,
  near: CraftEvaluation | undefined,
  kept: (group: PointGroup) => FlightEvaluation | undefined,
): readonly BrownOut[] {
  if (!near?.flight) return brownOutsOf(craft);
  if (kept('hover') && kept('burst')) return near.flight.brownOuts;
  return brownOutsNear(craft, near.craft, near.flight.brownOuts);
}

/** A phase of flight at a multiple of hover thrust; one that asks for more than full duty gets full duty. */
function phaseAt(craft: Craft, stateOfCharge: number, hoverMultiple: number): Point {
  const point = atHoverMultiple(craft, stateOfCharge, hoverMultiple);
  return isImpossible(point) ? fullDuty(craft, stateOfCharge) : point;
}

// ---- times ----

type HoverPoints = Pick<FlightEvaluation, 'hover' | 'hoverFresh' | 'hoverAtReserve'>;

/** All of it hovering, from take-off on: the time as flown is then the hover time. */
const justHovers = ({ flown, groundTime }: Craft): boolean =>
  groundTime === 0 && flown.every(({ hoverMultiple }) => hoverMultiple === 1);

type Near = Pick<CraftEvaluation, 'craft' | 'flight'>;

function timesOf(
  craft: Craft,
  points: HoverPoints & { readonly brownOuts: readonly BrownOut[] },
  near: Near | undefined,
): Pick<FlightEvaluation, 'hoverTime' | 'flightTime'> {
  const hovering = near && hoverTimeNear(craft, points, near);
  const hoverResult = hovering ?? hoverTime(craft);
  if (justHovers(craft)) return { hoverTime: hoverResult, flightTime: hoverResult };
  const flying = near && flightTimeNear(craft, near);
  return { hoverTime: hoverResult, flightTime: flying ?? flightTime(craft) };
}

/** Carried over in the ratio of two rough times; undefined where the end itself cannot be told from points. */
function hoverTimeNear(
  craft: Craft,
  points: HoverPoints & { readonly brownOuts: readonly BrownOut[] },
  { craft: nearCraft, flight: known }: Near,
): Endurance | undefined {
  if (!known || isImpossible(known.hoverTime)) return undefined;
  const { endedBy } = known.hoverTime;
  if (endedBy !== 'reserve' && endedBy !== 'brown-out') return undefined;
  const rough = (of: Craft, at: typeof points) => {
    const end = endedBy === 'reserve' ? of.pack.reserve : hoverBrownOut(at.brownOuts);
    const middle = endedBy === 'reserve' ? at.hover : hover(of, (1 + end) / 2);
    const last = endedBy === 'reserve' ? at.hoverAtReserve : hover(of, end);
    return { end, time: simpson(of, 1, end, [at.hoverFresh, middle, last].map(currentOf)) };
  };
  return carriedOver(known.hoverTime, rough(craft, points), rough(nearCraft, known), craft);
}

const hoverBrownOut = (brownOuts: readonly BrownOut[]): number =>
  Math.max(0, ...brownOuts.map(({ inHover }) => inHover ?? 0));

function flightTimeNear(craft: Craft, { craft: nearCraft, flight: known }: Near): Endurance | undefined {
  if (!known || isImpossible(known.flightTime) || known.flightTime.endedBy !== 'reserve') return undefined;
  return carriedOver(known.flightTime, roughFlight(craft), roughFlight(nearCraft), craft);
}

interface RoughFlight {
  readonly end: number;
  readonly time: number | undefined;
}

function carriedOver(
  known: Endurance,
  rough: RoughFlight,
  nearRough: RoughFlight,
  craft: Craft,
): Endurance | undefined {
  if (rough.time === undefined || nearRough.time === undefined) return undefined;
  return {
    time: (known.time * rough.time) / nearRough.time,
    chargeUsed: craft.pack.capacity * (1 - rough.end),
    finalStateOfCharge: rough.end,
    endedBy: known.endedBy,
  };
}

/** Seconds from a charge to another by Simpson's rule over the currents at both ends and in the middle. */
function simpson(
  craft: Craft,
  from: number,
  to: number,
  currents: readonly (number | undefined)[],
): number | undefined {
  const [first, middle, last] = currents;
  if (!first || !middle || !last) return undefined;
  return ((craft.pack.capacity * (from - to)) / 6) * (1 / first + 4 / middle + 1 / last);
}

const currentOf = (point: Point): number | undefined => (isImpossible(point) ? undefined : point.packCurrent);

function roughFlight(craft: Craft): RoughFlight {
  const end = craft.pack.reserve;
  const resting = craft.groundTime > 0 ? currentOf(atRest(craft, 1)) : 0;
  if (resting === undefined) return { end, time: undefined };
  const start = 1 - (resting * craft.groundTime) / craft.pack.capacity;
  const currents = [start, (start + end) / 2, end].map((charge) => meanCurrent(craft, charge));
  return { end, time: simpson(craft, start, end, currents) };
}

function meanCurrent(craft: Craft, stateOfCharge: number): number | undefined {
  let sum = 0;
  for (const { share, hoverMultiple } of craft.flown) {
    const point = phaseAt(craft, stateOfCharge, hoverMultiple);
    if (isImpossible(point)) return undefined;
    sum += share * point.packCurrent;
  }
  return sum;
}

/** kg */
const ONE_GRAM = 1e-3;

/** How much shorter it hovers for each kilogram more, s/kg, from one gram more; undefined where it cannot hover. */
export function hoverTimeCost({ craft, flight }: CraftEvaluation): number | undefined {
  if (!flight || isImpossible(flight.hoverTime)) return undefined;
  const heavier = { ...craft, mass: craft.mass + ONE_GRAM };
  const points = {
    hover: hover(heavier, middleChargeOf(heavier)),
    hoverFresh: hover(heavier, 1),
    hoverAtReserve: hover(heavier, heavier.pack.reserve),
    brownOuts: brownOutsNear(heavier, craft, flight.brownOuts),
  };
  const { hoverTime: shorter } = timesOf(heavier, points, { craft, flight });
  return isImpossible(shorter) ? undefined : (flight.hoverTime.time - shorter.time) / ONE_GRAM;
}
