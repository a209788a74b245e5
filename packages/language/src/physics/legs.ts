/**
 * A flight in legs on one pack: what each takes, and when it has to be on the way home. Every leg is a steady state (`leg-rate.ts`).
 *
 * In descent a rotor takes about what it takes in hover, until near half the induced velocity of hover it meets its own wake
 * (J. G. Leishman, Principles of Helicopter Aerodynamics, 2006, sec. 2.13, unverified): no power is taken off for a descent, and none is
 * computed for a faster one. In a climb faster than that velocity rotors have to turn faster for the air that meets them: none is computed.
 * Neglected: speeding up and slowing down, turns, gusts, thinner air on the way up.
 */
import { packRestingVoltage } from './chemistry.ts';
import type { Craft } from './craft.ts';
import { chargeAfterGround } from './discharge.ts';
import { type FlownLeg, type Release, steadyOf, timeOf } from './flown-leg.ts';
import { LegLimits, type Unflyable } from './leg-limits.ts';
import { type LegAir, Rates, type SteadyFlight } from './leg-rate.ts';
import { risingRoot } from './rising-root.ts';

/** Where a leg ends. */
export interface LegEnd {
  /** s from take-off. */
  readonly time: number;
  /** State of charge; below zero where more is taken than there is. */
  readonly charge: number;
  /** Of one cell in the state of this leg, V, and with the motors off; undefined where the pack does not feed it. */
  readonly cellVoltage: number | undefined;
  readonly restingVoltage: number | undefined;
  /** A */
  readonly current: number | undefined;
  /** kg, when it ends. */
  readonly mass: number;
  /** From where the legs began, m over the ground. */
  readonly distance: number;
  /** The lowest state of charge at which it can be flown: the reserve, or where the pack or a load's supply gives out before. */
  readonly floor: number;
}

/** When to be on the way home at the latest, so that all behind it ends at its floor. */
export interface TurnBack {
  /** s from take-off. */
  readonly time: number;
  /** m from where the legs began. */
  readonly distance: number;
  readonly charge: number;
  /** Of one cell, V, in the leg that it is on then, and with the motors off. */
  readonly cellVoltage: number | undefined;
  readonly restingVoltage: number | undefined;
  /** A */
  readonly current: number | undefined;
  readonly leg: number;
}

export interface FlightInLegs {
  /** State of charge at take-off. */
  readonly start: number;
  readonly legs: readonly LegEnd[];
  /** Undefined where the legs do not state the way home. */
  readonly turnBack: TurnBack | undefined;
  /** From take-off to the end, to be drawn. */
  readonly moments: () => FlightMoment[];
}

export interface FlightMoment {
  /** s */
  readonly time: number;
  readonly charge: number;
  /** Of one cell, V; undefined where the pack does not feed the leg. */
  readonly cellVoltage: number | undefined;
  readonly leg: number;
}

export const isUnflyable = (flight: FlightInLegs | Unflyable): flight is Unflyable => 'because' in flight;

/**
 * Flies the legs one after the other from a full pack, after what the time on the ground takes.
 * @param craft one that hovers on a full pack
 * @param legs speeds in m/s above zero; valid up to a descent at half, and a climb at the whole, of the induced velocity of hover
 * @returns the first leg that cannot be flown, with the most of its speed that can, where there is one
 */
export function flyLegs(craft: Craft, air: LegAir, legs: readonly FlownLeg[]): FlightInLegs | Unflyable {
  const course = new Course(craft, air);
  const plan = course.plan(legs);
  if ('because' in plan) return plan;
  let turned: { readonly back: TurnBack | undefined } | undefined;
  return {
    start: course.start,
    legs: course.ends(plan),
    // A search, which candidates by the thousand do not need.
    get turnBack() {
      turned ??= { back: course.turnBack(legs) };
      return turned.back;
    },
    moments: () => course.moments(plan),
  };
}

/** Ground covered on the way out, which the way home takes back. */
interface Way {
  readonly distance: number;
  readonly wind: number;
}

/** What lasts in one state: a leg, or one way of the way home. */
interface Stretch {
  readonly leg: number;
  readonly craft: Craft;
  readonly steady: SteadyFlight;
  /** s */
  readonly time: number;
  /** m over the ground, below zero of the way home. */
  readonly out: number;
}

const STILL: SteadyFlight = { speed: 0, climb: 0 };

class Course {
  readonly #craft: Craft;
  readonly start: number;
  readonly #rates: Rates;
  readonly #limits: LegLimits;
  readonly #lighter = new Map<Craft, Map<Release, Craft>>();

  constructor(craft: Craft, air: LegAir) {
    this.#craft = craft;
    this.#rates = new Rates(air);
    this.#limits = new LegLimits(air, this.#rates);
    this.start = chargeAfterGround(craft, craft.groundTime);
  }

  /** Legs as stretches, or the first that cannot be flown. */
  plan(legs: readonly FlownLeg[]): Stretch[] | Unflyable {
    const stretches: Stretch[] = [];
    let ways: Way[] = [];
    let craft = this.#craft;
    for (const [leg, flown] of legs.entries()) {
      for (const release of flown.released ?? []) craft = this.#without(craft, release);
      if (flown.manner === 'release') stretches.push({ leg, craft, steady: STILL, time: 0, out: 0 });
      else if (flown.manner === 'home') {
        const speed = flown.speed ?? 0;
        const back = ways.toReversed().map(({ distance, wind }): Way => ({ distance, wind: 0 - wind }));
        for (const { distance, wind } of back.length > 0 ? back : [NOWHERE]) {
          const limit = this.#limits.of(craft, { manner: 'cruise', speed, wind });
          if (limit) return { leg, ...limit };
          const time = distance / (speed - wind);
          stretches.push({ leg, craft, steady: { speed, climb: 0 }, time, out: 0 - distance });
        }
        ways = [];
      } else {
        const limit = this.#limits.of(craft, flown);
        if (limit) return { leg, ...limit };
        const time = timeOf(flown);
        const out = flown.manner === 'cruise' ? time * ((flown.speed ?? 0) - flown.wind) : 0;
        if (flown.manner === 'cruise') ways = [...ways, { distance: out, wind: flown.wind }];
        stretches.push({ leg, craft, steady: steadyOf(flown), time, out });
      }
    }
    return stretches;
  }

  /** One per leg. */
  ends(stretches: readonly Stretch[]): LegEnd[] {
    const ends: LegEnd[] = [];
    let [charge, time, distance] = [this.start, 0, 0];
    let floor = this.#craft.pack.reserve;
    for (const [i, { leg, craft, steady, time: lasts, out }] of stretches.entries()) {
      const rate = this.#rates.of(craft, steady);
      charge = rate.after(charge, lasts);
      time += lasts;
      distance += out;
      if (lasts > 0) floor = Math.max(floor, rate.floor);
      if (stretches[i + 1]?.leg === leg) continue;
      const point = rate.point(charge);
      const { pack } = craft;
      const restingVoltage = charge < 0 ? undefined : packRestingVoltage(pack, charge) / pack.cellsInSeries;
      const state = { cellVoltage: point?.cellVoltage, current: point?.current, restingVoltage };
      ends.push({ time, charge, ...state, mass: craft.mass, distance: Math.max(0, distance), floor });
      floor = pack.reserve;
    }
    return ends;
  }

  /** A fixed number of points per stretch: the curves are smooth in between. */
  moments(stretches: readonly Stretch[]): FlightMoment[] {
    const moments: FlightMoment[] = [];
    let [charge, time] = [this.start, 0];
    for (const { leg, craft, steady, time: lasts } of stretches) {
      if (lasts === 0) continue;
      const rate = this.#rates.of(craft, steady);
      for (let i = 0; i <= MOMENTS; i++) {
        const at = rate.after(charge, (lasts * i) / MOMENTS);
        moments.push({ leg, time: time + (lasts * i) / MOMENTS, charge: at, cellVoltage: rate.point(at)?.cellVoltage });
      }
      charge = rate.after(charge, lasts);
      time += lasts;
    }
    return moments;
  }

  /**
   * The last leg that lasts before the way home is flown longer, or cut short; where even that is too much, the ones before it are cut and
   * what is behind the cut is left out, with what would have been released there.
   */
  turnBack(legs: readonly FlownLeg[]): TurnBack | undefined {
    const known = withWayHome(legs);
    if (!known) return undefined;
    const { all, home } = known;
    const before = all.slice(0, home).flatMap((leg, i) => (leg.manner === 'release' ? [] : [i]));
    const last = before.at(-1);
    if (last === undefined) return undefined;
    const cut = (leg: number, time: number, keepsRest: boolean): readonly FlownLeg[] => [
      ...all.slice(0, leg),
      lasting(all[leg] as FlownLeg, time),
      ...(keepsRest ? all.slice(leg + 1) : all.slice(home)),
    ];
    const whole = timeOf(all[last] as FlownLeg);
    const longer = (time: number) => cut(last, time, true);
    if (this.#spare(longer(whole)) >= 0) {
      let more = Math.max(whole, 1);
      while (this.#spare(longer(whole + more)) >= 0) {
        more *= 2;
        if (more > LONGEST) return undefined;
      }
      return this.#turnedAt(longer, last, whole, whole + more);
    }
    for (const leg of before.toReversed()) {
      const shorter = (time: number) => cut(leg, time, false);
      if (this.#spare(shorter(0)) >= 0) return this.#turnedAt(shorter, leg, 0, timeOf(all[leg] as FlownLeg));
    }
    return undefined;
  }

  /** The latest time between two at which there is something to spare; more is less to spare. */
  #turnedAt(flown: (time: number) => readonly FlownLeg[], leg: number, from: number, to: number): TurnBack | undefined {
    const at = (share: number) => to + share * (from - to);
    const latest = at(risingRoot((share) => this.#spare(flown(at(share)))) ?? 1);
    const plan = this.plan(flown(latest));
    const end = 'because' in plan ? undefined : this.ends(plan)[leg];
    return end && { ...end, leg };
  }

  /** State of charge above the floor of each leg, where that is least. */
  #spare(legs: readonly FlownLeg[]): number {
    const plan = this.plan(legs);
    if ('because' in plan) return Number.NEGATIVE_INFINITY;
    let charge = this.start;
    let spare = Number.POSITIVE_INFINITY;
    for (const stretch of plan) {
      const rate = this.#rates.of(stretch.craft, stretch.steady);
      charge = rate.after(charge, stretch.time);
      spare = Math.min(spare, charge - (stretch.time > 0 ? rate.floor : stretch.craft.pack.reserve));
    }
    return spare;
  }

  #without(craft: Craft, release: Release): Craft {
    const ofCraft = this.#lighter.get(craft) ?? new Map<Release, Craft>();
    this.#lighter.set(craft, ofCraft);
    const lighter = ofCraft.get(release) ?? without(craft, release);
    ofCraft.set(release, lighter);
    return lighter;
  }
}

/** Nothing to go back. */
const NOWHERE: Way = { distance: 0, wind: 0 };

/** Points drawn per stretch, less one (ours). */
const MOMENTS = 12;

/** s: no pack lasts so long. */
const LONGEST = 1e7;

function lasting({ distance: _, ...leg }: FlownLeg, time: number): FlownLeg {
  return { ...leg, time };
}

/** Legs with their last way home; of legs without one, that of the only way out. */
function withWayHome(
  legs: readonly FlownLeg[],
): { readonly all: readonly FlownLeg[]; readonly home: number } | undefined {
  const home = legs.findLastIndex(({ manner }) => manner === 'home');
  if (home >= 0) return { all: legs, home };
  const [out, another] = legs.flatMap(({ manner }, i) => (manner === 'cruise' ? [i] : []));
  const way = out === undefined ? undefined : legs[out];
  if (out === undefined || another !== undefined || !way) return undefined;
  const back: FlownLeg = { manner: 'home', speed: way.speed ?? 0, wind: 0 };
  return { all: [...legs.slice(0, out + 1), back], home: out + 1 };
}

/** A share of a load takes its share of the draw with it. */
function without(craft: Craft, { mass, load, share }: Release): Craft {
  const loads = craft.loads.map((one, i) => {
    if (i !== load) return one;
    const { minimumVoltage: _, ...rest } = one;
    const left = { draw: one.draw * (1 - share), peak: one.peak * (1 - share) };
    return share < 1 ? { ...one, ...left } : { ...rest, ...left };
  });
  return { ...craft, mass: craft.mass - mass, loads };
}
