/**
 * The evaluation of one setup under one duty limit after the other. Points at which the limit does not matter are solved once for all of them; each
 * of the others is solved when something reads it, from scratch, so that the result is that of `evaluate`.
 */
import { type Craft, isImpossible, type OperatingPoint } from '../../physics/craft.ts';
import type { Endurance } from '../../physics/discharge.ts';
import { highestNeed } from '../../physics/discharge.ts';
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
import type { Setup } from '../setup/setup.ts';
import { brownOutsOf } from './brown-out.ts';
import {
  type Evaluation,
  evaluate,
  type FlightEvaluation,
  isHeated,
  isMassKnown,
  justHovers,
  landingPoint,
  type Point,
  type UnlimitedFlights,
} from './evaluation.ts';
import { once } from './once.ts';

/** Below the duty limit by this share: rounding decides nothing. */
const CLEAR = 1e-9;

interface Free {
  readonly point: OperatingPoint;
  /** Of the rotor that needs most. */
  readonly duty: number;
}

type Kept = 'hover' | 'hoverFresh' | 'hoverAtReserve' | 'burst' | 'burstAtReserve' | `phase ${number}`;

/** Points of one setup that no duty limit in use cuts off. */
export class FreePoints {
  readonly #known = new Map<Kept, Free>();
  readonly unlimited: UnlimitedFlights = {};
  rest: Point | undefined;
  hoverTime: Endurance | undefined;
  flightTime: Endurance | undefined;

  /** The point under a limit, solved if that is not known. */
  of(name: Kept, limit: number, solve: () => Point): Point {
    const known = this.#known.get(name);
    if (known && isClear(known, limit)) return known.point;
    const point = solve();
    if (!known && !isImpossible(point)) {
      const free = { point, duty: Math.max(0, ...point.rotors.map(({ duty }) => duty)) };
      if (isClear(free, limit)) this.#known.set(name, free);
    }
    return point;
  }

  /** Whether a limit changes nothing of it; unknown counts as no. */
  isFree(name: Kept, limit: number): boolean {
    const known = this.#known.get(name);
    return known !== undefined && isClear(known, limit);
  }

  /** V that its rotors need at most. */
  voltageOf(name: Kept): number {
    const known = this.#known.get(name);
    return known ? known.duty * known.point.busVoltage : Number.POSITIVE_INFINITY;
  }
}

const isClear = ({ duty }: Free, limit: number): boolean => duty < limit * (1 - CLEAR);

/** @param setup under the limit */
export function evaluateUnder(setup: Setup, free: FreePoints): Evaluation {
  const { craft } = setup;
  if (!craft || isHeated(setup)) return evaluate(setup);
  const full = once(() => fullDuty(craft, 1));
  const fullAtReserve = once(() => fullDuty(craft, craft.pack.reserve));
  return {
    setup,
    unlimited: free.unlimited,
    craft: {
      craft,
      windings: [],
      get rest() {
        free.rest ??= atRest(craft, 1);
        return free.rest;
      },
      get full() {
        return full();
      },
      get fullAtReserve() {
        return fullAtReserve();
      },
      ...(isMassKnown(setup) && { flight: flightUnder(craft, free) }),
    },
  };
}

function flightUnder(craft: Craft, free: FreePoints): FlightEvaluation {
  const { dutyLimit, pack, flown } = craft;
  const hoverMiddle = once(() => free.of('hover', dutyLimit, () => hover(craft, middleCharge(craft))));
  const hoverFresh = once(() => free.of('hoverFresh', dutyLimit, () => hover(craft, 1)));
  const hoverAtReserve = once(() => free.of('hoverAtReserve', dutyLimit, () => hover(craft, pack.reserve)));
  const burstFresh = once(() => free.of('burst', dutyLimit, () => burst(craft, 1)));
  const burstAtReserve = once(() => free.of('burstAtReserve', dutyLimit, () => burst(craft, pack.reserve)));
  const phases = once(() =>
    flown.map(({ hoverMultiple }, i) =>
      hoverMultiple === 1
        ? hoverMiddle()
        : free.of(`phase ${i}`, dutyLimit, () => flownPhase(craft, middleCharge(craft), hoverMultiple)),
    ),
  );
  const brownOuts = once(() => brownOutsOf(craft));
  const landing = once(() => landingPoint(craft, hoverAtReserve(), brownOuts()));
  const hovering = once(() => {
    hoverFresh();
    hoverAtReserve();
    if (!areTimesFree(craft, free, 'hoverAtReserve')) return hoverTime(craft);
    free.hoverTime ??= found(hoverTime(craft));
    return free.hoverTime ?? hoverTime(craft);
  });
  const flying = once(() => {
    if (justHovers(craft)) return hovering();
    hoverFresh();
    hoverAtReserve();
    burstAtReserve();
    if (!areTimesFree(craft, free, 'burstAtReserve')) return flightTime(craft);
    free.flightTime ??= found(flightTime(craft));
    return free.flightTime ?? flightTime(craft);
  });
  return {
    get hover() {
      return hoverMiddle();
    },
    get hoverFresh() {
      return hoverFresh();
    },
    get hoverAtReserve() {
      return hoverAtReserve();
    },
    get burst() {
      return burstFresh();
    },
    get burstAtReserve() {
      return burstAtReserve();
    },
    get phases() {
      return phases();
    },
    get hoverTime() {
      return hovering();
    },
    get flightTime() {
      return flying();
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

const found = (endurance: ReturnType<typeof hoverTime>): Endurance | undefined =>
  isImpossible(endurance) ? undefined : endurance;

/**
 * Whether the limit is nowhere reached between a full pack and the reserve, nor at the voltage at which a load gives out. A burst at the reserve needs more
 * duty than each milder phase before it.
 */
function areTimesFree(craft: Craft, free: FreePoints, hardest: 'hoverAtReserve' | 'burstAtReserve'): boolean {
  const { dutyLimit, flown, burstMultiple } = craft;
  const isWithin =
    free.isFree('hoverFresh', dutyLimit) && free.isFree('hoverAtReserve', dutyLimit) && free.isFree(hardest, dutyLimit);
  if (!isWithin) return false;
  if (hardest === 'burstAtReserve' && flown.some(({ hoverMultiple }) => hoverMultiple > burstMultiple)) return false;
  const needed = highestNeed(craft);
  return needed === undefined || free.voltageOf(hardest) < dutyLimit * needed * (1 - CLEAR);
}
