/**
 * One steady state of flight on one pack: rotors that give its thrust with the power at their shafts that momentum theory gives for it
 * (`forward-flight.ts`), fed by the whole circuit at each state of charge. Time = Q·∫ dz / I(z) as in `discharge.ts`; 1/I is interpolated
 * between two solved points on each smooth piece of the cells' curves, so that what is flown in two parts takes what it takes in one.
 */

import { STANDARD_GRAVITY } from './air.ts';
import { CHARGE_KNOTS } from './chemistry.ts';
import type { Craft } from './craft.ts';
import { highestNeed, lowestChargeHolding, lowestHoverCharge } from './discharge.ts';
import { type LevelFlight, levelPower } from './forward-flight.ts';
import { busWithinDutyLimit, settledCurrent } from './operating-point.ts';
import { tipSpeedAt } from './propeller.ts';
import { electronics } from './rails.ts';
import { type Drive, drivesAtThrust, drivesLoaded } from './rotor.ts';
import type { WindCase } from './wind.ts';

/** The air around a craft, its drag in it, and the factors on the power of its rotors. */
export interface LegAir extends Omit<WindCase, 'mass'> {
  /** Induced power over the ideal one, 1 or more. */
  readonly inducedFactor: number;
  /** Factor on the rotors' power in forward flight and in climb. */
  readonly levelFlight: number;
}

/** m/s through the air. */
export interface SteadyFlight {
  readonly speed: number;
  /** Upwards, not below zero: a descent takes the power of hovering, so it is 0. */
  readonly climb: number;
}

/** The craft in hover as the power of forward flight is computed from it. */
function levelFlightOf(craft: Craft, air: LegAir): LevelFlight {
  const drives = drivesAtThrust(craft, craft.mass * STANDARD_GRAVITY);
  return {
    wind: { ...air, mass: craft.mass },
    hoverShaftPower: shaftPowerOf(drives),
    tipSpeed: Math.max(...drives.map(({ group, speed }) => tipSpeedAt(group.propeller.diameter, speed))),
    inducedFactor: air.inducedFactor,
  };
}

const shaftPowerOf = (drives: readonly Drive[]): number =>
  drives.reduce((sum, { group, shaftPower }) => sum + group.count * shaftPower, 0);

/** Rotors as they turn in a steady state (m/s, the climb not below zero): thrust and shaft power by `levelPower`; in hover those of hover. */
function drivesIn(craft: Craft, air: LegAir, { speed, climb }: SteadyFlight): readonly Drive[] {
  const weight = craft.mass * STANDARD_GRAVITY;
  if (speed === 0 && climb === 0) return drivesAtThrust(craft, weight);
  const level = levelFlightOf(craft, air);
  const { thrust, total } = levelPower(level, speed, climb);
  const drives = drivesAtThrust(craft, thrust);
  return drivesLoaded(drives, (air.levelFlight * total) / shaftPowerOf(drives));
}

/** Whether the pack feeds it at a state of charge, within the duty limit. */
export const isFed = (craft: Craft, air: LegAir, steady: SteadyFlight, charge: number): boolean =>
  busWithinDutyLimit(craft, charge, drivesIn(craft, air, steady), 'draw') !== undefined;

interface Piece {
  readonly low: number;
  readonly middle: number;
  /** Seconds per unit of charge in the middle, and how that changes. */
  readonly value: number;
  readonly slope: number;
}

/** Gauss–Legendre with two points, as in `discharge.ts`: over a whole piece the line through them integrates what they do. */
const NODE = 1 / Math.sqrt(3);

/** How fast a state empties the pack. */
export class Rate {
  readonly #craft: Craft;
  readonly #drives: readonly Drive[];
  readonly #pieces: (Piece | undefined)[] = [];
  #floor: number | undefined;
  readonly #fromFull: number | undefined;

  constructor(craft: Craft, drives: readonly Drive[]) {
    this.#craft = craft;
    this.#drives = drives;
    const full = busWithinDutyLimit(craft, 1, drives, 'draw');
    this.#fromFull = full && full * settledCurrent(craft, 1, drives, electronics(craft, 'draw'), full);
  }

  /** Bus and current at a state of charge; undefined where the pack does not feed it. */
  point(
    charge: number,
  ): { readonly current: number; readonly cellVoltage: number; readonly busVoltage: number } | undefined {
    if (charge < 0) return undefined;
    const { pack } = this.#craft;
    // What it draws from a full pack is nearly what it draws from any: one start for all, so that the result does not depend on the order of calls.
    const busVoltage = busWithinDutyLimit(this.#craft, charge, this.#drives, 'draw', undefined, this.#fromFull);
    if (busVoltage === undefined) return undefined;
    const current = settledCurrent(this.#craft, charge, this.#drives, electronics(this.#craft, 'draw'), busVoltage);
    return { current, busVoltage, cellVoltage: (busVoltage + current * pack.leadResistance) / pack.cellsInSeries };
  }

  /** The state of charge after a time, s. Below zero it continues at the rate of the pack's last charge. */
  after(charge: number, time: number): number {
    let [left, from] = [time, charge];
    for (let i = CHARGE_KNOTS.length - 1; i > 0; i--) {
      const low = CHARGE_KNOTS[i - 1] as number;
      if (from <= low) continue;
      const { middle, value, slope } = this.#piece(i);
      const here = value + slope * (from - middle);
      const whole = (from - low) * (value + slope * ((from + low) / 2 - middle));
      // u·(here − slope·u/2) = left
      if (whole >= left) return from - (2 * left) / (here + Math.sqrt(Math.max(0, here ** 2 - 2 * slope * left)));
      left -= whole;
      from = low;
    }
    const { middle, value, slope } = this.#piece(1);
    return from - left / (value + slope * (0 - middle));
  }

  /** The lowest state of charge, not looked for below the reserve, at which the pack feeds it and every load has its supply. */
  get floor(): number {
    this.#floor ??= this.#lowest();
    return this.#floor;
  }

  #lowest(): number {
    const { reserve } = this.#craft.pack;
    const fed = this.point(reserve) ? reserve : lowestHoverCharge(this.#craft, this.#drives).stateOfCharge;
    const needed = highestNeed(this.#craft);
    if (needed === undefined || (this.point(reserve)?.busVoltage ?? 0) >= needed) return Math.max(fed, reserve);
    const held = Number.isFinite(needed) ? lowestChargeHolding(this.#craft, this.#drives, needed, 'draw') : undefined;
    return Math.max(fed, reserve, held ?? 1);
  }

  #piece(i: number): Piece {
    const known = this.#pieces[i];
    if (known) return known;
    const [low, high] = [CHARGE_KNOTS[i - 1] as number, CHARGE_KNOTS[i] as number];
    const middle = (low + high) / 2;
    const half = ((high - low) / 2) * NODE;
    const [upper, lower] = [this.#seconds(middle + half), this.#seconds(middle - half)];
    const piece = this.#between(i, { low, middle, half, upper, lower });
    this.#pieces[i] = piece;
    return piece;
  }

  /** Where the pack no longer feeds it, the last rate continues. */
  #between(
    i: number,
    {
      low,
      middle,
      half,
      upper,
      lower,
    }: { low: number; middle: number; half: number; upper?: number | undefined; lower?: number | undefined },
  ): Piece {
    const above = i + 1 < CHARGE_KNOTS.length ? this.#piece(i + 1) : undefined;
    const last = above ? above.value + above.slope * (above.low - above.middle) : 0;
    const [high, deep] = [upper ?? last, lower ?? upper ?? last];
    const slope = (high - deep) / (2 * half);
    return { low, middle, value: (high + deep) / 2, slope };
  }

  #seconds(charge: number): number | undefined {
    const point = this.point(charge);
    return point && this.#craft.pack.capacity / point.current;
  }
}

/** Of the states of one flight, each computed once per craft. */
export class Rates {
  readonly #air: LegAir;
  readonly #known = new Map<Craft, Map<string, Rate>>();

  constructor(air: LegAir) {
    this.#air = air;
  }

  of(craft: Craft, steady: SteadyFlight): Rate {
    const ofCraft = this.#known.get(craft) ?? new Map<string, Rate>();
    this.#known.set(craft, ofCraft);
    const key = `${steady.speed} ${steady.climb}`;
    const rate = ofCraft.get(key) ?? new Rate(craft, drivesIn(craft, this.#air, steady));
    ofCraft.set(key, rate);
    return rate;
  }
}
