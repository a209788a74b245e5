/**
 * The bus behind pack, lead and plug: V = E − R·I(V), where everything on the bus draws I(V).
 *
 * Loads of constant power draw more as the bus sags, so the balance has two roots; the upper one is the stable one that
 * real systems find. The most a source can give is E²/4R, at half its resting voltage: a pack pulled lower than that has
 * collapsed, whatever its loads, and counts as unable to deliver.
 */
import type { Impossible } from './craft.ts';
import type { SolverWork } from './work.ts';

/** Of the open-circuit voltage: what rounding leaves of a balance at its root. */
const ROUNDING = 1e-14;

/**
 * Bus voltage, V: the upper root of the balance, at least half the open-circuit voltage, to 1e-14 of that.
 * @param openCircuit V
 * @param resistance ohm, above zero
 * @param demand current drawn (A, not negative) at a bus voltage (V, above zero)
 */
export function solveBus(
  openCircuit: number,
  resistance: number,
  demand: (voltage: number) => number,
  work?: SolverWork,
): number | Impossible {
  const excess = balance(openCircuit, resistance, demand, work);
  const tolerance = ROUNDING * openCircuit;
  const half = openCircuit / 2;

  // Loads are mostly of constant power: as if all of it were, whatever the voltage. From there, secants of a convex balance.
  let older = openCircuit;
  let olderExcess = excess(older);
  const room = 1 - (4 * olderExcess) / openCircuit;
  let newer = (openCircuit * (1 + Math.sqrt(Math.max(0, room)))) / 2;
  let newerExcess = excess(newer);
  let above = older;
  let below = half;
  let bracketed = false;
  for (let step = 0; step < 100 && Math.abs(newerExcess) > tolerance; step++) {
    if (newerExcess > 0) {
      above = newer;
    } else {
      below = newer;
      bracketed = true;
    }
    let next = newer - (newerExcess * (newer - older)) / (newerExcess - olderExcess);
    if (!(next > below && next < above)) {
      if (bracketed) {
        next = (below + above) / 2;
      } else {
        // The balance turns before it reaches zero, unless a finer look finds that it does not.
        const least = leastMissing(excess, half, openCircuit);
        const missing = (least * excess(least)) / resistance;
        if (missing > 0) return { impossible: 'power', shortfall: missing };
        next = least;
      }
    }
    // A secant multiplies the errors before it.
    const left = Math.abs(next - newer) * Math.min(1, Math.abs(newer - older) / openCircuit);
    if (left <= tolerance) return next;
    older = newer;
    olderExcess = newerExcess;
    newer = next;
    newerExcess = excess(newer);
  }
  return newer;
}

/** V over the bus voltage, V: above zero where the loads demand more than the pack delivers there. */
function balance(
  openCircuit: number,
  resistance: number,
  demand: (voltage: number) => number,
  work: SolverWork | undefined,
): (voltage: number) => number {
  return (voltage) => {
    if (work) work.busEvaluations++;
    return voltage - openCircuit + resistance * demand(voltage);
  };
}

/** Of the open-circuit voltage: further off, a nearby balance's voltage is no start. */
const NEARBY = 1e-3;

/**
 * The same for a balance that differs very little from one whose voltage (V) is known, by one secant: its error goes with the square of
 * the difference. Solved from scratch where that is not small, or the pack is about to collapse.
 */
export function solveBusNear(
  near: number,
  openCircuit: number,
  resistance: number,
  demand: (voltage: number) => number,
  work?: SolverWork,
): number | Impossible {
  const excess = balance(openCircuit, resistance, demand, work);
  const first = excess(near);
  if (first === 0) return near;
  const second = excess(near - first);
  const isSmall = Math.abs(first) < NEARBY * openCircuit && Math.abs(second) < Math.abs(first) / 2;
  if (!isSmall) return solveBus(openCircuit, resistance, demand, work);
  return near - (first * first) / (first - second);
}

/** Of the power a source can give at most: with less the bus is far from its collapse. */
const AMPLE = 0.75;

/**
 * The same where the power (W) that is drawn is nearly known, as from one charge to the next: loads are mostly of constant power, so the voltage
 * for it and one step from there leave a secant with an error that goes with the product of both. Solved from scratch where that is
 * not small, or the pack is about to collapse.
 */
export function solveBusForPower(
  power: number,
  openCircuit: number,
  resistance: number,
  demand: (voltage: number) => number,
  work?: SolverWork,
): number | Impossible {
  const share = (4 * resistance * power) / openCircuit ** 2;
  if (share < AMPLE) {
    const excess = balance(openCircuit, resistance, demand, work);
    const guess = (openCircuit * (1 + Math.sqrt(1 - share))) / 2;
    const first = excess(guess);
    if (Math.abs(first) <= ROUNDING * openCircuit) return guess;
    const next = guess - first / (1 - (resistance * power) / guess ** 2);
    const second = excess(next);
    const isSmall = Math.abs(first) < NEARBY * openCircuit && Math.abs(second) < Math.abs(first) / 10;
    if (isSmall) return next - (second * (next - guess)) / (second - first);
  }
  return solveBus(openCircuit, resistance, demand, work);
}

/** The voltage between two at which the least power is missing: a coarse look, then golden sections. */
function leastMissing(excess: (voltage: number) => number, from: number, to: number): number {
  const missing = (voltage: number): number => voltage * excess(voltage);
  const steps = 40;
  const width = (to - from) / steps;
  let best = to;
  for (let i = 0; i < steps; i++) {
    const voltage = from + i * width;
    if (missing(voltage) < missing(best)) best = voltage;
  }
  const golden = (Math.sqrt(5) - 1) / 2;
  let low = Math.max(from, best - width);
  let high = Math.min(to, best + width);
  let left = high - golden * (high - low);
  let right = low + golden * (high - low);
  let [onLeft, onRight] = [missing(left), missing(right)];
  // The one of the two that stays inside is known already.
  for (let i = 0; i < 60; i++) {
    if (onLeft < onRight) {
      high = right;
      [right, onRight] = [left, onLeft];
      left = high - golden * (high - low);
      onLeft = missing(left);
    } else {
      low = left;
      [left, onLeft] = [right, onRight];
      right = low + golden * (high - low);
      onRight = missing(right);
    }
  }
  return (low + high) / 2;
}
