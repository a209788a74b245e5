/**
 * The evaluation of a setup that differs from an evaluated one so little that only the first order counts: points out of the
 * change's reach are kept, times and brown-outs are scaled by their change. A slope over one number costs a few points
 * in this way instead of an integral.
 */
import { type Craft, type Impossible, isImpossible } from '../../physics/craft.ts';
import type { Endurance } from '../../physics/discharge.ts';
import { atRest, flightTime, hoverTime, middleCharge } from '../../physics/flight.ts';
import type { Setup } from '../setup/setup.ts';
import { brownOutsNear } from './brown-out.ts';
import {
  burstPoints,
  type CraftEvaluation,
  type Evaluation,
  type FlightEvaluation,
  fullPoints,
  hoverPoints,
  justHovers,
  landingPoint,
  type Point,
  warmCraft,
} from './evaluation.ts';
import { once } from './once.ts';
import type { Reach } from './point-reach.ts';

/** @param reach of what differs between the setup and the evaluated one */
export function evaluateNear(setup: Setup, known: Evaluation, reach: Reach): Evaluation {
  if (!setup.craft || !known.craft) return { setup, near: known };
  if (reach.size === 0) return { setup, near: known, craft: withCraftOf(setup.craft, known, known.craft) };
  const { craft, windings } = warmCraft(setup) ?? known.craft;
  const { flight } = known.craft;
  const rest = reach.has('rest') ? atRest(craft, 1, undefined, known.craft.rest) : known.craft.rest;
  const full = reach.has('full') ? fullPoints(craft, known.craft) : known.craft;
  return {
    setup,
    near: known,
    craft: {
      craft,
      windings,
      rest,
      get full() {
        return full.full;
      },
      get fullAtReserve() {
        return full.fullAtReserve;
      },
      ...(flight && {
        flight: flightNear(craft, rest, { craft: known.craft.craft, rest: known.craft.rest, flight }, reach),
      }),
    },
  };
}

/** Something of the craft that no point depends on may have moved. */
function withCraftOf(craft: Craft, { setup }: Evaluation, known: CraftEvaluation): CraftEvaluation {
  if (craft === setup.craft) return known;
  const { windings, rest, flight } = known;
  return {
    craft,
    windings,
    rest,
    get full() {
      return known.full;
    },
    get fullAtReserve() {
      return known.fullAtReserve;
    },
    ...(flight && { flight }),
  };
}

function flightNear(craft: Craft, rest: Point, known: Known, reach: Reach): FlightEvaluation {
  const { flight } = known;
  const moves = reach.has('hover') || reach.has('burst');
  if (!moves && !reach.has('times')) return flight;
  const hovering = reach.has('hover') ? hoverPoints(craft, flight) : flight;
  const bursting = reach.has('burst') ? burstPoints(craft, flight) : flight;
  const brownOuts = once(() => (moves ? brownOutsNear(craft, flight.brownOuts) : flight.brownOuts));
  const landing = once(() =>
    moves ? landingPoint(craft, hovering.hoverAtReserve, brownOuts(), flight.hoverAtLandBy) : flight,
  );
  const times = once(() => {
    if (!reach.has('times')) return flight;
    const points: TimePoints = {
      get hover() {
        return hovering.hover;
      },
      get phases() {
        return hovering.phases;
      },
      get brownOuts() {
        return brownOuts();
      },
    };
    return timesNear(craft, points, rest, known);
  });
  return {
    get hover() {
      return hovering.hover;
    },
    get hoverFresh() {
      return flight.hoverFresh;
    },
    get hoverAtReserve() {
      return hovering.hoverAtReserve;
    },
    get phases() {
      return hovering.phases;
    },
    get burst() {
      return bursting.burst;
    },
    get burstAtReserve() {
      return bursting.burstAtReserve;
    },
    get hoverTime() {
      return times().hoverTime;
    },
    get flightTime() {
      return times().flightTime;
    },
    get brownOuts() {
      return brownOuts();
    },
    get landBy() {
      return landing().landBy;
    },
    get hoverAtLandBy() {
      return landing().hoverAtLandBy;
    },
  };
}

type TimePoints = Pick<FlightEvaluation, 'hover' | 'phases' | 'brownOuts'>;
type Times = Pick<FlightEvaluation, 'hoverTime' | 'flightTime'>;
type Known = Pick<CraftEvaluation, 'craft' | 'rest'> & { readonly flight: FlightEvaluation };

/**
 * Times carried over from a known craft by what changed: the current half way, the charge, and where the flight begins and
 * ends. Integrated anew where something else than the reserve or a brown-out in hover ended it.
 */
function timesNear(craft: Craft, points: TimePoints, rest: Point, known: Known): Times {
  const hovering = once(() => {
    const pace = quotient(currentOf(points.hover), currentOf(known.flight.hover));
    return scaledOver(craft, known.flight.hoverTime, pace, 0, points, known) ?? hoverTime(craft);
  });
  const flying = once(() => (justHovers(craft) ? hovering() : flightTimeNear(craft, points, rest, known)));
  return {
    get hoverTime() {
      return hovering();
    },
    get flightTime() {
      return flying();
    },
  };
}

function flightTimeNear(craft: Craft, points: TimePoints, rest: Point, known: Known): Endurance | Impossible {
  const { flightTime: knownFlight } = known.flight;
  const pace = quotient(mixCurrent(craft, points.phases), mixCurrent(known.craft, known.flight.phases));
  const later = groundCharge(craft, rest) - groundCharge(known.craft, known.rest);
  const flying =
    isImpossible(knownFlight) || knownFlight.endedBy === 'reserve'
      ? scaledOver(craft, knownFlight, pace, later, points, known)
      : undefined;
  return flying ?? flightTime(craft);
}

const currentOf = (point: Point): number | undefined => (isImpossible(point) ? undefined : point.packCurrent);

const quotient = (a: number | undefined, b: number | undefined): number | undefined => a && b && a / b;

function mixCurrent({ flown }: Craft, phases: readonly Point[]): number | undefined {
  let sum = 0;
  for (const [i, { share }] of flown.entries()) {
    const point = phases[i];
    if (!point || isImpossible(point)) return undefined;
    sum += share * point.packCurrent;
  }
  return sum;
}

/** Share of the charge that the time on the ground takes. */
const groundCharge = ({ groundTime, pack }: Craft, rest: Point): number =>
  ((currentOf(rest) ?? 0) * groundTime) / pack.capacity;

/**
 * @param pace current half way, over the known one
 * @param later how much more charge, as a share, is gone at take-off
 */
function scaledOver(
  craft: Craft,
  known: Endurance | Impossible,
  pace: number | undefined,
  later: number,
  points: TimePoints,
  near: Known,
): Endurance | undefined {
  if (isImpossible(known) || pace === undefined) return undefined;
  const end = endOf(known, craft, points);
  const knownEnd = endOf(known, near.craft, near.flight);
  if (end === undefined || knownEnd === undefined) return undefined;
  const { capacity } = craft.pack;
  // What is cut off at either end lasts as long as the current there lets it.
  const scale = known.time / hoverSeconds(near);
  const cut = (end - knownEnd) / hoverCurrentAt(knownEnd, near) + later / hoverCurrentAt(1, near);
  return {
    time: (known.time * capacity) / near.craft.pack.capacity / pace - cut * capacity * scale,
    chargeUsed: capacity * (1 - end),
    finalStateOfCharge: end,
    endedBy: known.endedBy,
  };
}

function endOf({ endedBy }: Endurance, craft: Craft, { brownOuts }: TimePoints): number | undefined {
  if (endedBy === 'reserve') return craft.pack.reserve;
  if (endedBy === 'brown-out') return Math.max(0, ...brownOuts.map(({ inHover }) => inHover ?? 0));
  return undefined;
}

const hoverSeconds = ({ flight: { hoverTime: hovering } }: Known): number =>
  isImpossible(hovering) ? Number.NaN : hovering.time;

/** A over the charge: the parabola through the currents of a full pack, half way and at the reserve. */
function hoverCurrentAt(charge: number, { craft, flight }: Known): number {
  const { reserve } = craft.pack;
  const middle = middleCharge(craft);
  const [full, half, low] = [flight.hoverFresh, flight.hover, flight.hoverAtReserve].map(currentOf);
  if (!full || !half || !low) return half ?? Number.NaN;
  const lagrange = (at: number, a: number, b: number) => ((charge - a) * (charge - b)) / ((at - a) * (at - b));
  return full * lagrange(1, middle, reserve) + half * lagrange(middle, 1, reserve) + low * lagrange(reserve, 1, middle);
}

/** kg */
const ONE_GRAM = 1e-3;

/** How much shorter it hovers for each kilogram more, s/kg, from one gram more; undefined where it cannot hover. */
export function hoverTimeCost({ craft, rest, flight }: CraftEvaluation): number | undefined {
  if (!flight || isImpossible(flight.hoverTime)) return undefined;
  const heavier = { ...craft, mass: craft.mass + ONE_GRAM };
  const { hover, phases } = hoverPoints(heavier, flight);
  const points = { hover, phases, brownOuts: brownOutsNear(heavier, flight.brownOuts) };
  const { hoverTime: shorter } = timesNear(heavier, points, rest, { craft, rest, flight });
  return isImpossible(shorter) ? undefined : (flight.hoverTime.time - shorter.time) / ONE_GRAM;
}
