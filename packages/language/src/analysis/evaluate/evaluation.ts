/**
 * The physics of one setup at the few points that all results are read from: hover, burst and full duty, on a fresh pack,
 * half way and at the reserve; how long it flies; when a load browns out.
 */
import type { Craft, Impossible, OperatingPoint } from '../../physics/craft.ts';
import type { Endurance } from '../../physics/discharge.ts';
import {
  atRest,
  burst,
  flightEndurance,
  flownPhase,
  fullDuty,
  hover,
  hoverEndurance,
  middleCharge,
} from '../../physics/flight.ts';
import type { Unflyable } from '../../physics/leg-limits.ts';
import type { FlightInLegs } from '../../physics/legs.ts';
import { type WarmCraft, warmed } from '../../physics/windings.ts';
import type { Setup } from '../setup/setup.ts';
import { type BrownOut, brownOutsNear, brownOutsOf } from './brown-out.ts';

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

/** Each point is solved when it is first read: thousands of candidates do not need all of them. */
export function evaluate(setup: Setup): Evaluation {
  const warm = warmCraft(setup);
  if (!warm) return { setup };
  return { setup, craft: new SolvedCraft(warm, isMassKnown(setup) ? () => new SolvedFlight(warm.craft) : undefined) };
}

/** Groups of points that are solved together. */
export type PointGroup =
  | 'rest' // motors off
  | 'hover' // hover at several charges, the phases of the flight, brown-outs in flight
  | 'burst' // and brown-outs in a burst
  | 'full'
  | 'times'; // times of flight, from the points of hover

export type Reach = ReadonlySet<PointGroup>;

/** A craft that differs very little: points out of the change's reach are its own, and the solvers begin at the others. */
export interface Near<Points> {
  readonly known: Points;
  readonly reach: Reach;
}

export class SolvedCraft implements CraftEvaluation {
  readonly craft: Craft;
  readonly windings: WarmCraft['windings'];
  readonly flight?: FlightEvaluation;
  readonly #near: Near<CraftEvaluation> | undefined;
  #rest: Point | undefined;
  #full: Point | undefined;
  #fullAtReserve: Point | undefined;

  constructor(
    { craft, windings }: WarmCraft,
    flightOf?: (points: CraftEvaluation) => FlightEvaluation,
    near?: Near<CraftEvaluation>,
  ) {
    this.craft = craft;
    this.windings = windings;
    this.#near = near;
    if (flightOf) this.flight = flightOf(this);
  }

  get rest(): Point {
    this.#rest ??= this.#solved('rest', 'rest', (near) => atRest(this.craft, 1, undefined, near));
    return this.#rest;
  }

  get full(): Point {
    this.#full ??= this.#solved('full', 'full', (near) => fullDuty(this.craft, 1, undefined, near));
    return this.#full;
  }

  get fullAtReserve(): Point {
    this.#fullAtReserve ??= this.#solved('fullAtReserve', 'full', (near) =>
      fullDuty(this.craft, this.craft.pack.reserve, undefined, near),
    );
    return this.#fullAtReserve;
  }

  #solved(name: 'rest' | 'full' | 'fullAtReserve', group: PointGroup, solve: (near?: Point) => Point): Point {
    const near = this.#near;
    if (!near) return solve();
    return near.reach.has(group) ? solve(near.known[name]) : near.known[name];
  }
}

/** What has to be reached for one of these to move. */
const GROUPS: Readonly<Record<keyof FlightEvaluation, readonly PointGroup[]>> = {
  hover: ['hover'],
  hoverFresh: [],
  hoverAtReserve: ['hover'],
  burst: ['burst'],
  burstAtReserve: ['burst'],
  phases: ['hover'],
  hoverTime: ['times'],
  flightTime: ['times'],
  brownOuts: ['hover', 'burst'],
  landBy: ['hover', 'burst'],
  hoverAtLandBy: ['hover', 'burst'],
};

/** The points that `SolvedFlight.solved` is called for. */
export type SolvedPoint = 'hover' | 'hoverFresh' | 'hoverAtReserve' | 'burst' | 'burstAtReserve' | `phase ${number}`;

export class SolvedFlight implements FlightEvaluation {
  protected readonly craft: Craft;
  readonly #near: FlightEvaluation | undefined;
  readonly #reach: Reach | undefined;
  #hover: Point | undefined;
  #hoverFresh: Point | undefined;
  #hoverAtReserve: Point | undefined;
  #burst: Point | undefined;
  #burstAtReserve: Point | undefined;
  #phases: readonly Point[] | undefined;
  #hoverTime: Endurance | Impossible | undefined;
  #flightTime: Endurance | Impossible | undefined;
  #brownOuts: readonly BrownOut[] | undefined;
  #landBy: number | undefined;
  #hoverAtLandBy: Point | undefined;

  constructor(craft: Craft, near?: Near<FlightEvaluation>) {
    this.craft = craft;
    this.#near = near?.known;
    this.#reach = near?.reach;
  }

  get hover(): Point {
    this.#hover ??=
      this.#kept('hover') ??
      this.solved('hover', () => hover(this.craft, middleCharge(this.craft), undefined, this.#near?.hover));
    return this.#hover;
  }

  get hoverFresh(): Point {
    this.#hoverFresh ??= this.#kept('hoverFresh') ?? this.solved('hoverFresh', () => hover(this.craft, 1));
    return this.#hoverFresh;
  }

  get hoverAtReserve(): Point {
    this.#hoverAtReserve ??=
      this.#kept('hoverAtReserve') ??
      this.solved('hoverAtReserve', () =>
        hover(this.craft, this.craft.pack.reserve, undefined, this.#near?.hoverAtReserve),
      );
    return this.#hoverAtReserve;
  }

  get burst(): Point {
    this.#burst ??=
      this.#kept('burst') ?? this.solved('burst', () => burst(this.craft, 1, undefined, this.#near?.burst));
    return this.#burst;
  }

  get burstAtReserve(): Point {
    this.#burstAtReserve ??=
      this.#kept('burstAtReserve') ??
      this.solved('burstAtReserve', () =>
        burst(this.craft, this.craft.pack.reserve, undefined, this.#near?.burstAtReserve),
      );
    return this.#burstAtReserve;
  }

  get phases(): readonly Point[] {
    this.#phases ??=
      this.#kept('phases') ??
      this.craft.flown.map(({ hoverMultiple }, i) =>
        hoverMultiple === 1
          ? this.hover
          : this.solved(`phase ${i}`, () =>
              flownPhase(this.craft, middleCharge(this.craft), hoverMultiple, this.#near?.phases[i]),
            ),
      );
    return this.#phases;
  }

  get hoverTime(): Endurance | Impossible {
    this.#hoverTime ??= this.#kept('hoverTime') ?? this.timeHovering();
    return this.#hoverTime;
  }

  get flightTime(): Endurance | Impossible {
    this.#flightTime ??= this.#kept('flightTime') ?? (justHovers(this.craft) ? this.hoverTime : this.timeFlying());
    return this.#flightTime;
  }

  get brownOuts(): readonly BrownOut[] {
    this.#brownOuts ??=
      this.#kept('brownOuts') ??
      (this.#near ? brownOutsNear(this.craft, this.#near.brownOuts) : brownOutsOf(this.craft));
    return this.#brownOuts;
  }

  get landBy(): number {
    this.#landBy ??= this.#kept('landBy') ?? landBy(this.craft, this.brownOuts);
    return this.#landBy;
  }

  get hoverAtLandBy(): Point {
    this.#hoverAtLandBy ??=
      this.#kept('hoverAtLandBy') ??
      (this.landBy === this.craft.pack.reserve
        ? this.hoverAtReserve
        : hover(this.craft, this.landBy, undefined, this.#near?.hoverAtLandBy));
    return this.#hoverAtLandBy;
  }

  /** A point, and below the times, as heirs find them. */
  protected solved(_name: SolvedPoint, solve: () => Point): Point {
    return solve();
  }

  protected timeHovering(): Endurance | Impossible {
    return hoverEndurance(this.craft);
  }

  /** Where a flight is more than hovering. */
  protected timeFlying(): Endurance | Impossible {
    return flightEndurance(this.craft);
  }

  /** Undefined where the change reaches it. */
  #kept<Name extends keyof FlightEvaluation>(name: Name): FlightEvaluation[Name] | undefined {
    const reach = this.#reach;
    return reach && !GROUPS[name].some((group) => reach.has(group)) ? this.#near?.[name] : undefined;
  }
}

const landBy = ({ pack }: Craft, brownOuts: readonly BrownOut[]): number =>
  Math.min(1, Math.max(pack.reserve, ...brownOuts.map(({ inBurst }) => inBurst ?? 0)));

/** All of it hovering, from take-off on: the time as flown is then the hover time. */
export const justHovers = ({ flown, groundTime }: Craft): boolean =>
  groundTime === 0 && flown.every(({ hoverMultiple }) => hoverMultiple === 1);
