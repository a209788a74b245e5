/**
 * Transmissibility of a mass on spring and damper: frequency ratio, then T at damping ratios 0, 0.05, 0.1, 0.2, 0.3, 0.5.
 * Source: J. P. Den Hartog, Mechanical Vibrations, 4th ed. 1956, ch. 2; S. S. Rao, Mechanical Vibrations, 5th ed., sec. 3.6 and 9.10.
 * Standing: formula from memory and read from public code of D. J. Inman's toolbox; values computed.
 * Licence: ours; computed.
 */
export const DAMPING_RATIOS: readonly number[] = [0, 0.05, 0.1, 0.2, 0.3, 0.5];

export const TRANSMISSIBILITY: readonly (readonly [number, ...number[]])[] = [
  [0.2, 1.041667, 1.041649, 1.041596, 1.041385, 1.041038, 1.039967],
  [0.5, 1.333333, 1.332042, 1.328229, 1.313827, 1.292477, 1.240347],
  [0.8, 2.777778, 2.720294, 2.570651, 2.179845, 1.848723, 1.459787],
  [0.9, 5.263158, 4.77574, 3.882207, 2.610965, 1.985298, 1.46261],
  [1.1, 4.761905, 4.243689, 3.366609, 2.24086, 1.729943, 1.327486],
  [1.2, 2.272727, 2.208376, 2.051875, 1.703493, 1.460337, 1.222143],
  [Math.SQRT2, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0],
  [1.5, 0.8, 0.8031877, 0.8121617, 0.841078, 0.8734462, 0.9232871],
  [2, 0.3333333, 0.3391817, 0.3558617, 0.4124615, 0.4834423, 0.6201737],
  [2.5, 0.1904762, 0.1961161, 0.2119996, 0.2646165, 0.3301737, 0.4630526],
  [3, 0.125, 0.1304122, 0.1453655, 0.193096, 0.2511129, 0.3701166],
  [4, 0.06666667, 0.07177668, 0.08525383, 0.1250769, 0.1711564, 0.2655926],
  [5, 0.04166667, 0.04657464, 0.05887448, 0.09284767, 0.1307441, 0.2079933],
  [7, 0.02083333, 0.02542762, 0.03582779, 0.06183683, 0.08960361, 0.145772],
  [10, 0.01010101, 0.01428426, 0.02258194, 0.04161358, 0.06132951, 0.1009999],
];

/** Damping ratio, frequency ratio of the peak, T at the peak. Same source and standing. */
export const RESONANCE: readonly (readonly [number, number, number])[] = [
  [0.05, 0.9975216, 10.06221],
  [0.1, 0.9903343, 5.122774],
  [0.2, 0.9647297, 2.733921],
  [0.5, 0.8555997, 1.46789],
];

/** Static deflection (mm), natural frequency (Hz): Harris' Shock and Vibration Handbook. Standing: computed from fn = √(g/δ)/2π. */
export const DEFLECTION: readonly (readonly [number, number])[] = [
  [0.1, 49.84028],
  [0.25, 31.52176],
  [0.5, 22.28925],
  [1, 15.76088],
  [2, 11.14463],
  [5, 7.04848],
  [10, 4.984028],
  [25, 3.152176],
];
