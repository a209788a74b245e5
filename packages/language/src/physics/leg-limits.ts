/** Legs that cannot be flown whatever the pack stores. */
import { STANDARD_GRAVITY } from './air.ts';
import type { Craft } from './craft.ts';
import { type FlownLeg, steadyOf } from './flown-leg.ts';
import { hoverVelocity } from './forward-flight.ts';
import { isFed, type LegAir, type Rates, type SteadyFlight } from './leg-rate.ts';
import { strongestWind } from './wind.ts';

/** A leg that cannot be flown whatever the pack stores, and the most of its speed that can, m/s. */
export interface Unflyable {
  readonly leg: number;
  readonly because: 'speed' | 'climb' | 'descent' | 'wind' | 'power';
  readonly limit: number;
}

/** Share of the induced velocity in hover up to which a descent is computed, see `legs.ts`; a climb up to all of it, where rotors turn about as in hover (ours). */
const MOST_DESCENT = 0.5;

type Asked = Pick<FlownLeg, 'manner' | 'speed' | 'wind'>;
type Limit = Omit<Unflyable, 'leg'>;

/** Each state is looked at once per craft. */
export class LegLimits {
  readonly #air: LegAir;
  readonly #rates: Rates;
  readonly #known = new Map<Craft, Map<string, Limit | undefined>>();

  constructor(air: LegAir, rates: Rates) {
    this.#air = air;
    this.#rates = rates;
  }

  /** What stops a leg from being flown; undefined of one that can. */
  of(craft: Craft, flown: Asked): Limit | undefined {
    const ofCraft = this.#known.get(craft) ?? new Map<string, Limit | undefined>();
    this.#known.set(craft, ofCraft);
    const key = `${flown.manner} ${flown.speed} ${flown.wind}`;
    if (!ofCraft.has(key)) ofCraft.set(key, this.#limitOf(craft, flown));
    return ofCraft.get(key);
  }

  #limitOf(craft: Craft, flown: Asked): Limit | undefined {
    const { manner, speed = 0, wind } = flown;
    const fastest = strongestWind({ ...this.#air, mass: craft.mass })?.speed ?? 0;
    const steady = steadyOf(flown);
    const atSpeed = (one: number): SteadyFlight => ({ ...steady, speed: one });
    if (steady.speed > fastest)
      return {
        because: 'speed',
        limit: isFed(craft, this.#air, atSpeed(fastest), 1) ? fastest : this.#most(craft, atSpeed, fastest),
      };
    if (manner === 'cruise' && wind >= speed) return { because: 'wind', limit: wind };
    const velocity = hoverVelocity({ ...this.#air, mass: craft.mass }, craft.mass * STANDARD_GRAVITY);
    const descent = MOST_DESCENT * velocity;
    if (manner === 'descent' && speed > descent) return { because: 'descent', limit: descent };
    const climbing = (climb: number): SteadyFlight => ({ ...steady, climb });
    if (manner === 'climb' && speed > velocity && isFed(craft, this.#air, climbing(velocity), 1))
      return { because: 'climb', limit: velocity };
    if (this.#rates.of(craft, steady).point(1)) return undefined;
    return manner === 'climb'
      ? { because: 'power', limit: this.#most(craft, climbing, Math.min(speed, velocity)) }
      : { because: 'speed', limit: this.#most(craft, atSpeed, steady.speed) };
  }

  /** The most of a speed that a full pack feeds. */
  #most(craft: Craft, at: (speed: number) => SteadyFlight, tooMuch: number): number {
    let [low, high] = [0, tooMuch];
    for (let round = 0; round < HALVINGS && high - low > 1e-9 * high; round++) {
      const middle = (low + high) / 2;
      if (isFed(craft, this.#air, at(middle), 1)) low = middle;
      else high = middle;
    }
    return low;
  }
}

const HALVINGS = 100;
