/**
 * What is known from outside of the smallest craft, packs and drives.
 *
 * Voltages: a craft of the 27 g class, four 47 mm propellers, one cell; two hops of some nine seconds with a rest between. Means
 * over the log's 10 Hz rows at rest before, hovering in the first hop (4.5 to 10 s), and 2 to 4 s after landing. K. Masalimov,
 * T. Muslimov, E. Kozlov, R. Munasypov, Data 9 (2024) 79, doi:10.3390/data9060079 (MIT licence). Standing: read from a copy.
 * The log has no current; capacity and minutes of such craft: from memory.
 */
export const NANO_CRAFT = {
  /** V, of the one cell. */
  restingBefore: 3.885,
  hovering: 3.508,
  restingAfter: 3.832,
  /** Ah and minutes, from memory. */
  capacity: 0.25,
  hoverMinutes: 7,
} as const;

/**
 * Power of drives with stators of 11 x 8 mm and below over that of an ideal chopper, at part duty and nearly full: published tests
 * of craft of the 27 g class and of one 1108 motor. Standing: from memory.
 */
export const SMALL_DRIVES = {
  hovering: [1.3, 1.55],
  at94Percent: [0.9, 1.05],
} as const;

/**
 * Resistance times capacity of single cells with their plug as chargers show it, ohm · Ah, by label. Standing: common practice.
 */
export const SINGLE_CELLS = [
  { capacity: 0.3, claim: 40, least: 0.016, most: 0.026 },
  { capacity: 0.45, claim: 80, least: 0.009, most: 0.015 },
] as const;
