/**
 * The evaluation of a setup that differs from an evaluated one so little that only the first order counts: points out of the
 * change's reach are kept, times and brown-outs are scaled by their change. A slope over one number costs a few points
 * in this way instead of an integral.
 */
import { type Craft, type Impossible, isImpossible } from '../../physics/craft.ts';
import type { Endurance } from '../../physics/discharge.ts';
import { middleCharge } from '../../physics/flight.ts';
import type { WarmCraft } from '../../physics/windings.ts';
import type { Setup } from '../setup/setup.ts';
import {
  type CraftEvaluation,
  type Evaluation,
  type FlightEvaluation,
  type Point,
  type Reach,
  SolvedCraft,
  SolvedFlight,
  warmCraft,
} from './evaluation.ts';
import { WEIGHT } from './point-reach.ts';

/** @param reach of what differs between the setup and the evaluated one */
export function evaluateNear(setup: Setup, known: Evaluation, reach: Reach): Evaluation {
  const near = known.craft;
  if (!setup.craft || !near) return { setup, near: known };
  if (reach.size > 0) return { setup, near: known, craft: craftNear(warmCraft(setup) ?? near, near, reach) };
  // Something of the craft that no point depends on may have moved.
  const { windings } = near;
  const isMoved = setup.craft !== known.setup.craft;
  return { setup, near: known, craft: isMoved ? craftNear({ craft: setup.craft, windings }, near, reach) : near };
}

function craftNear(warm: WarmCraft, known: CraftEvaluation, reach: Reach): CraftEvaluation {
  const { flight } = known;
  const moves = reach.has('hover') || reach.has('burst') || reach.has('times');
  const flightOf =
    flight && ((points: CraftEvaluation) => (moves ? new SolvedFlightNear(points, known, flight, reach) : flight));
  return new SolvedCraft(warm, flightOf, { known, reach });
}

interface Known {
  readonly craft: Craft;
  readonly flight: FlightEvaluation;
}

/**
 * Times are carried over from the known craft by what changed: the current half way, the charge, and where the flight begins and
 * ends. Integrated anew where something else than the reserve or a brown-out in hover ended it.
 */
class SolvedFlightNear extends SolvedFlight {
  readonly #points: CraftEvaluation;
  readonly #knownPoints: CraftEvaluation;
  readonly #known: Known;

  constructor(points: CraftEvaluation, known: CraftEvaluation, flight: FlightEvaluation, reach: Reach) {
    super(points.craft, { known: flight, reach });
    this.#points = points;
    this.#knownPoints = known;
    this.#known = { craft: known.craft, flight };
  }

  protected override timeHovering(): Endurance | Impossible {
    const { flight } = this.#known;
    const pace = quotient(currentOf(this.hover), currentOf(flight.hover));
    return scaledOver(this.craft, flight.hoverTime, pace, 0, this, this.#known) ?? super.timeHovering();
  }

  protected override timeFlying(): Endurance | Impossible {
    const { craft, flight } = this.#known;
    const pace = quotient(mixCurrent(this.craft, this.phases), mixCurrent(craft, flight.phases));
    const later = groundCharge(this.craft, this.#points.rest) - groundCharge(craft, this.#knownPoints.rest);
    const flying =
      isImpossible(flight.flightTime) || flight.flightTime.endedBy === 'reserve'
        ? scaledOver(this.craft, flight.flightTime, pace, later, this, this.#known)
        : undefined;
    return flying ?? super.timeFlying();
  }
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
  points: FlightEvaluation,
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

function endOf({ endedBy }: Endurance, craft: Craft, { brownOuts }: FlightEvaluation): number | undefined {
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
export function hoverTimeCost(known: CraftEvaluation): number | undefined {
  const { craft, windings, flight } = known;
  if (!flight || isImpossible(flight.hoverTime)) return undefined;
  const heavier = craftNear({ craft: { ...craft, mass: craft.mass + ONE_GRAM }, windings }, known, WEIGHT);
  const shorter = heavier.flight?.hoverTime;
  return !shorter || isImpossible(shorter) ? undefined : (flight.hoverTime.time - shorter.time) / ONE_GRAM;
}
