/**
 * The evaluation of one setup under one duty limit after the other. Points at which the limit does not matter are solved once for all of them; each
 * of the others is solved when something reads it, from scratch, so that the result is that of `evaluate`.
 */
import { type Craft, type Impossible, isImpossible, type OperatingPoint } from '../../physics/craft.ts';
import { type Endurance, highestNeed } from '../../physics/discharge.ts';
import type { Setup } from '../setup/setup.ts';
import {
  type Evaluation,
  evaluate,
  type FlightEvaluation,
  isHeated,
  isMassKnown,
  type Point,
  SolvedCraft,
  SolvedFlight,
  type SolvedPoint,
  type UnlimitedFlights,
} from './evaluation.ts';

/** Below the duty limit by this share: rounding decides nothing. */
const CLEAR = 1e-9;

interface Free {
  readonly point: OperatingPoint;
  /** Of the rotor that needs most. */
  readonly duty: number;
}

/** Points of one setup that no duty limit in use cuts off. */
export class FreePoints {
  readonly #known = new Map<SolvedPoint, Free>();
  readonly unlimited: UnlimitedFlights = {};
  rest: Point | undefined;
  hoverTime: Endurance | undefined;
  flightTime: Endurance | undefined;

  /** The point under a limit, solved if that is not known. */
  of(name: SolvedPoint, limit: number, solve: () => Point): Point {
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
  isFree(name: SolvedPoint, limit: number): boolean {
    const known = this.#known.get(name);
    return known !== undefined && isClear(known, limit);
  }

  /** V that its rotors need at most. */
  voltageOf(name: SolvedPoint): number {
    const known = this.#known.get(name);
    return known ? known.duty * known.point.busVoltage : Number.POSITIVE_INFINITY;
  }
}

const isClear = ({ duty }: Free, limit: number): boolean => duty < limit * (1 - CLEAR);

/** @param setup under the limit */
export function evaluateUnder(setup: Setup, free: FreePoints): Evaluation {
  const { craft } = setup;
  if (!craft || isHeated(setup)) return evaluate(setup);
  const flightOf = isMassKnown(setup) ? () => new SolvedFlightUnder(craft, free) : undefined;
  return { setup, unlimited: free.unlimited, craft: new SolvedCraftUnder(craft, free, flightOf) };
}

class SolvedCraftUnder extends SolvedCraft {
  readonly #free: FreePoints;

  constructor(craft: Craft, free: FreePoints, flightOf?: () => FlightEvaluation) {
    super({ craft, windings: [] }, flightOf);
    this.#free = free;
  }

  override get rest(): Point {
    this.#free.rest ??= super.rest;
    return this.#free.rest;
  }
}

class SolvedFlightUnder extends SolvedFlight {
  readonly #free: FreePoints;

  constructor(craft: Craft, free: FreePoints) {
    super(craft);
    this.#free = free;
  }

  protected override solved(name: SolvedPoint, solve: () => Point): Point {
    return this.#free.of(name, this.craft.dutyLimit, solve);
  }

  protected override timeHovering(): Endurance | Impossible {
    return this.#time('hoverTime', 'hoverAtReserve', () => super.timeHovering());
  }

  protected override timeFlying(): Endurance | Impossible {
    return this.#time('flightTime', 'burstAtReserve', () => super.timeFlying());
  }

  /** @param hardest of the points that are flown */
  #time(
    name: 'hoverTime' | 'flightTime',
    hardest: 'hoverAtReserve' | 'burstAtReserve',
    integrate: () => Endurance | Impossible,
  ): Endurance | Impossible {
    if (!this.#areTimesFree(hardest)) return integrate();
    const known = this.#free[name];
    if (known) return known;
    const time = integrate();
    if (!isImpossible(time)) this.#free[name] = time;
    return time;
  }

  /**
   * Whether the limit is nowhere reached between a full pack and the reserve, nor at the voltage at which a load gives out. A burst at the reserve needs
   * more duty than each milder phase before it.
   */
  #areTimesFree(hardest: 'hoverAtReserve' | 'burstAtReserve'): boolean {
    const { dutyLimit, flown, burstMultiple } = this.craft;
    // Whether a point is free is known once it is solved.
    if ([this.hoverFresh, this.hoverAtReserve, this[hardest]].some(isImpossible)) return false;
    const isFree = (name: SolvedPoint) => this.#free.isFree(name, dutyLimit);
    if (!isFree('hoverFresh') || !isFree('hoverAtReserve') || !isFree(hardest)) return false;
    if (hardest === 'burstAtReserve' && flown.some(({ hoverMultiple }) => hoverMultiple > burstMultiple)) return false;
    const needed = highestNeed(this.craft);
    return needed === undefined || this.#free.voltageOf(hardest) < dutyLimit * needed * (1 - CLEAR);
  }
}
