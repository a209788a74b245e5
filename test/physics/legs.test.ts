/** Flights in legs: laws for any craft, and the sums by other means. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Craft, isImpossible } from '../../packages/language/src/physics/craft.ts';
import { fullDuty, hover, hoverEndurance } from '../../packages/language/src/physics/flight.ts';
import type { FlownLeg, Release } from '../../packages/language/src/physics/flown-leg.ts';
import { hoverVelocity, levelPower } from '../../packages/language/src/physics/forward-flight.ts';
import type { LegAir } from '../../packages/language/src/physics/leg-rate.ts';
import { type FlightInLegs, flyLegs, isUnflyable } from '../../packages/language/src/physics/legs.ts';
import { plausibleCraft } from './plausible-craft.ts';
import { coaxialCraft, ductedCraft } from './sample-craft.ts';

const SEED = 15;
const G = 9.80665;

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true, noDefaultInfinity: true });

const leg = (manner: FlownLeg['manner'], more: Partial<FlownLeg> = {}): FlownLeg => ({ manner, wind: 0, ...more });
const hovering = (time: number, wind = 0) => leg('hover', { time, wind });
const way = (distance: number, speed: number, wind = 0) => leg('cruise', { distance, speed, wind });
const home = (speed: number) => leg('home', { speed });
const drop = (mass: number, more: Partial<Release> = {}) => leg('release', { released: [{ mass, share: 1, ...more }] });

function airOf(craft: Craft, ducted = false): LegAir {
  const full = fullDuty(craft, craft.pack.reserve);
  return {
    dragArea: 0.035 * (craft.mass / 3.7) ** (2 / 3),
    momentumShare: ducted ? 1 : 0.25,
    wakeExpansion: ducted ? 1 : 0.5,
    tiltLimit: Math.PI / 4,
    inducedFactor: 1.15,
    levelFlight: 1,
    airDensity: craft.air.density,
    discArea: craft.rotors.reduce(
      (sum, { count, propeller }) => sum + count * (Math.PI / 4) * propeller.diameter ** 2,
      0,
    ),
    availableThrust: isImpossible(full) ? 0 : full.thrust,
  };
}

/** Craft that fly: a fresh pack lifts them with something to spare, and so does an emptier one. */
const flying = fc
  .tuple(plausibleCraft, fc.boolean())
  .map(([craft, ducted]) => ({ craft, air: airOf(craft, ducted) }))
  .filter(({ craft, air }) => {
    const low = hover(craft, 0.05);
    return !isImpossible(hover(craft, 1)) && !isImpossible(low) && air.availableThrust > 1.15 * craft.mass * G;
  });

function flown(craft: Craft, air: LegAir, legs: readonly FlownLeg[]): FlightInLegs {
  const flight = flyLegs(craft, air, legs);
  if (isUnflyable(flight)) throw new Error(`${flight.because} beyond ${flight.limit}`);
  return flight;
}

const left = (craft: Craft, air: LegAir, legs: readonly FlownLeg[]): number =>
  flown(craft, air, legs).legs.at(-1)?.charge ?? Number.NaN;

/** Times as shares of the time that it hovers, speeds as shares of the fastest. */
const fastestOf = (craft: Craft, air: LegAir): number => {
  const flight = flyLegs(craft, air, [way(1, 500)]);
  return isUnflyable(flight) ? flight.limit : 500;
};
const secondsOf = (craft: Craft): number => {
  const hovered = hoverEndurance(craft);
  return isImpossible(hovered) ? 0 : Math.max(1, hovered.time);
};

const law = (name: string, check: (given: { craft: Craft; air: LegAir }, a: number, b: number, c: number) => void) =>
  test(name, () => {
    fc.assert(fc.property(flying, between(0.05, 0.95), between(0.05, 0.95), between(0.05, 0.95), check), {
      seed: SEED,
      numRuns: 100,
    });
  });

describe('laws of flights in legs', () => {
  law('a leg flown in two halves takes what it takes whole', ({ craft, air }, time, speed, wind) => {
    const seconds = time * secondsOf(craft);
    const fast = speed * fastestOf(craft, air);
    for (const one of [
      hovering(seconds),
      hovering(seconds, 0.5 * fast),
      leg('cruise', { time: seconds, speed: fast, wind: wind * fast }),
      leg('descent', { time: seconds, speed: 0.1 }),
    ]) {
      const half = { ...one, time: seconds / 2 };
      expect(Math.abs(left(craft, air, [one]) - left(craft, air, [half, half]))).toBeLessThan(1e-9);
    }
  });

  law('the order of hovers, and of what is hovered and gone down, does not matter', ({ craft, air }, a, b) => {
    const seconds = 0.4 * secondsOf(craft);
    const [one, other] = [hovering(a * seconds), leg('descent', { time: b * seconds, speed: 0.1 })];
    expect(Math.abs(left(craft, air, [one, other]) - left(craft, air, [other, one]))).toBeLessThan(1e-9);
  });

  law('more wind against it never costs less for the same way over the ground', ({ craft, air }, speed, wind, more) => {
    const fast = speed * fastestOf(craft, air);
    const blowing = wind * fast;
    const stronger = blowing + more * (fast - blowing) * 0.9;
    const distance = 0.2 * secondsOf(craft) * (fast - stronger);
    const calmer = left(craft, air, [way(distance, fast, blowing)]);
    expect(left(craft, air, [way(distance, fast, stronger)])).toBeLessThanOrEqual(calmer + 1e-12);
  });

  law('a heavier craft never takes less', ({ craft, air }, time, speed, more) => {
    const heavier = { ...craft, mass: craft.mass * (1 + 0.1 * more) };
    const seconds = 0.3 * time * secondsOf(craft);
    const fast = speed * Math.min(fastestOf(craft, air), fastestOf(heavier, air));
    for (const one of [hovering(seconds), leg('cruise', { time: seconds, speed: fast })])
      expect(left(heavier, air, [one])).toBeLessThan(left(craft, air, [one]));
  });

  law('what is released earlier never costs more', ({ craft, air }, share, time, earlier) => {
    const mass = 0.2 * share * craft.mass;
    const seconds = 0.5 * secondsOf(craft);
    const at = (when: number) =>
      left(craft, air, [hovering(when * seconds), drop(mass), hovering((1 - when) * seconds)]);
    expect(at(time * earlier)).toBeGreaterThanOrEqual(at(time) - 1e-12);
  });

  law('a leg of no length changes nothing', ({ craft, air }, time, speed) => {
    const seconds = 0.5 * time * secondsOf(craft);
    const fast = speed * fastestOf(craft, air);
    const legs = [hovering(seconds), leg('cruise', { time: seconds, speed: fast })];
    const nothing = [hovering(0), way(0, fast, 0.5 * fast), leg('descent', { time: 0, speed: 0.1 })];
    const among = [...nothing.slice(0, 1), legs[0] as FlownLeg, ...nothing.slice(1), legs[1] as FlownLeg];
    expect(Math.abs(left(craft, air, among) - left(craft, air, legs))).toBeLessThan(1e-12);
  });

  law('who turns back when it is time lands with just what has to be left', ({ craft, air }, speed, wind, time) => {
    const fast = speed * fastestOf(craft, air);
    const blowing = (2 * wind - 1) * 0.8 * fast;
    const distance = 0.05 * secondsOf(craft) * (fast - Math.abs(blowing));
    const legs = [
      way(distance, fast, blowing),
      hovering(0.3 * time * secondsOf(craft)),
      home(fast),
      leg('descent', { time: 1, speed: 0.1 }),
    ];
    const { turnBack } = flown(craft, air, legs);
    fc.pre(turnBack !== undefined);
    if (!turnBack) return;
    const before = legs.slice(0, turnBack.leg);
    const already = before.length > 0 ? (flown(craft, air, before).legs.at(-1)?.time ?? 0) : 0;
    const { distance: _, ...last } = legs[turnBack.leg] as FlownLeg;
    const turned = [...before, { ...last, time: turnBack.time - already }, ...legs.slice(2)];
    const ends = flown(craft, air, turned).legs;
    const spare = Math.min(...ends.map(({ charge, floor }) => charge - floor));
    // Where the pack gives out is found to 1e-9.
    expect(Math.abs(spare)).toBeLessThan(1e-8);
    expect(ends.at(-1)?.distance).toBeLessThan(1e-6 * (1 + turnBack.distance));
  });

  law('hovering as long as it can takes what the hover time takes', ({ craft, air }) => {
    const steady = { ...craft, loads: [], groundTime: 0 };
    const whole = hoverEndurance(steady);
    fc.pre(!isImpossible(whole) && whole.endedBy === 'reserve');
    if (isImpossible(whole)) return;
    expect(Math.abs(left(steady, air, [hovering(whole.time)]) - steady.pack.reserve)).toBeLessThan(1e-4);
  });

  law('any speed gives numbers, or the most that can be flown', ({ craft, air }, a, b, c) => {
    const speeds = [0.001, 40 * a, 200 * b, 1000 * c, 1e6];
    for (const speed of speeds) {
      for (const one of [
        way(100, speed),
        leg('climb', { time: 5, speed }),
        leg('descent', { time: 5, speed }),
        hovering(5, speed),
      ]) {
        const flight = flyLegs(craft, air, [one, home(3)]);
        if (isUnflyable(flight)) {
          expect(flight.limit).toBeGreaterThanOrEqual(0);
          expect(Number.isFinite(flight.limit)).toBe(true);
          if (flight.leg > 0 || flight.limit < 0.1) continue;
          const most = one.manner === 'hover' ? { wind: 0.999 * flight.limit } : { speed: 0.999 * flight.limit };
          expect(isUnflyable(flyLegs(craft, air, [{ ...one, ...most }]))).toBe(false);
        } else
          for (const { time, charge, mass, distance, floor } of flight.legs)
            expect([time, charge, mass, distance, floor].every(Number.isFinite)).toBe(true);
      }
    }
  });
});

/** State of charge after hovering, by the fourth-order method of Runge and Kutta on points that are solved anew. */
function integrated(craft: Craft, seconds: number, steps = 400): number {
  const rate = (charge: number): number => {
    const point = hover(craft, charge);
    if (isImpossible(point)) throw new Error('does not hover');
    return -point.packCurrent / craft.pack.capacity;
  };
  const step = seconds / steps;
  let charge = 1;
  for (let i = 0; i < steps; i++) {
    const first = rate(charge);
    const second = rate(charge + (step / 2) * first);
    const third = rate(charge + (step / 2) * second);
    const fourth = rate(charge + step * third);
    charge += (step / 6) * (first + 2 * second + 2 * third + fourth);
  }
  return charge;
}

describe('flights in legs by other means', () => {
  test.each([
    ['ducted, 150 g', ductedCraft({ groundTime: 0 }), true],
    ['coaxial pairs, 2.4 kg', coaxialCraft({ groundTime: 0 }), false],
  ])('charge over time, stepped through: %s', (_, craft, ducted) => {
    const seconds = secondsOf(craft);
    for (const share of [0.1, 0.37, 0.8]) {
      const legs = [hovering(share * seconds)];
      expect(Math.abs(left(craft, airOf(craft, ducted), legs) - integrated(craft, share * seconds))).toBeLessThan(3e-5);
    }
  });

  // J. G. Leishman, Principles of Helicopter Aerodynamics, 2006, sec. 2.13: P/P_h = x + √(x² + 1) with x = V_c/(2·v_h), of an ideal rotor.
  test('an ideal rotor climbs as momentum theory gives it', () => {
    const wind = {
      mass: 1,
      airDensity: 1.225,
      dragArea: 0,
      discArea: 0.2,
      momentumShare: 0,
      wakeExpansion: 0.5,
      tiltLimit: 0.7,
      availableThrust: 30,
    };
    const velocity = hoverVelocity(wind, G);
    expect(velocity).toBeCloseTo(Math.sqrt(G / (2 * 1.225 * 0.2)), 12);
    const ideal = { wind, hoverShaftPower: G * velocity, tipSpeed: 80, inducedFactor: 1 };
    for (const climb of [0, 0.5, 1, 3, 10]) {
      const x = climb / (2 * velocity);
      expect(levelPower(ideal, 0, climb).total / (G * velocity)).toBeCloseTo(x + Math.sqrt(x ** 2 + 1), 9);
    }
  });

  test('a load that is released draws no more', () => {
    const craft = ductedCraft({ groundTime: 0 });
    const air = airOf(craft, true);
    const without = { ...craft, loads: craft.loads.slice(1) };
    const released = flown(craft, air, [drop(0, { load: 0 }), hovering(60)]);
    expect(released.legs.at(-1)?.charge).toBeCloseTo(left(without, air, [hovering(60)]), 12);
  });

  test('a pack that is too small is overdrawn by what is lacking', () => {
    const craft = ductedCraft({ groundTime: 0 });
    const air = airOf(craft, true);
    const twice = left(craft, air, [hovering(2 * secondsOf(craft))]);
    expect(twice).toBeLessThan(-0.4);
    expect(twice).toBeGreaterThan(-1);
  });

  test('without a way home there is no turning back, but for one way out', () => {
    const craft = coaxialCraft({ groundTime: 0 });
    const air = airOf(craft);
    expect(flown(craft, air, [hovering(60)]).turnBack).toBeUndefined();
    expect(flown(craft, air, [way(100, 8), way(100, 8)]).turnBack).toBeUndefined();
    const { turnBack } = flown(craft, air, [way(100, 8, 3)]);
    const out = [way(turnBack?.distance ?? 0, 8, 3), home(8)];
    expect(left(craft, air, out)).toBeCloseTo(craft.pack.reserve, 9);
  });
});
