/** Chance that is the same for the same seed. */

/** Uniform numbers, 0 … 1. */
export type Random = () => number;

/** mulberry32: small, and the same everywhere. */
export function randomNumbers(seed: number): Random {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** A whole number from 0 that is less than `count`. */
export const below = (random: Random, count: number): number => Math.floor(random() * count);

export const pick = <T>(random: Random, from: readonly T[]): T => from[below(random, from.length)] as T;

export const between = (random: Random, low: number, high: number): number => low + (high - low) * random();

export const logBetween = (random: Random, low: number, high: number): number =>
  Math.exp(between(random, Math.log(low), Math.log(high)));

/** Standard normal (Box and Muller). */
export const normal = (random: Random): number =>
  Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
