/**
 * Solid annealed copper (100 % IACS) at 20 °C: gauge, diameter (mm), resistance (ohm/km). Standing: computed from the
 * definition of ASTM B258 (d = 0.005 in · 92^((36 − n)/39)) and IEC 60028 (1/58 ohm mm²/m); diameters agree to four figures with a
 * printed table (T. R. Kuphaldt, Lessons in Electric Circuits, vol. 5), which was read.
 * Licence: ours; computed.
 */
export const WIRE_TABLE: readonly (readonly [number, number, number])[] = [
  [10, 2.5882, 3.2771],
  [11, 2.3048, 4.1324],
  [12, 2.0525, 5.2108],
  [13, 1.8278, 6.5707],
  [14, 1.6277, 8.2855],
  [15, 1.4495, 10.448],
  [16, 1.2908, 13.174],
  [17, 1.1495, 16.613],
  [18, 1.0237, 20.948],
  [19, 0.9116, 26.415],
  [20, 0.8118, 33.309],
  [21, 0.7229, 42.002],
  [22, 0.6438, 52.963],
  [23, 0.5733, 66.786],
  [24, 0.5106, 84.215],
  [25, 0.4547, 106.19],
  [26, 0.4049, 133.91],
  [27, 0.3606, 168.85],
  [28, 0.3211, 212.92],
  [29, 0.2859, 268.49],
  [30, 0.2546, 338.56],
];

/** Gauge, ohm per 1000 ft at 20 °C: NBS Handbook 100 (1966), Table 5. Standing: from memory. */
export const WIRE_HANDBOOK: readonly (readonly [number, number])[] = [
  [10, 0.9989],
  [12, 1.588],
  [14, 2.525],
  [16, 4.016],
  [18, 6.385],
  [20, 10.15],
  [22, 16.14],
  [24, 25.67],
  [26, 40.81],
  [28, 64.9],
  [30, 103.2],
];

/**
 * Gauge, current (A) that melts it in one second from 25 °C: I. M. Onderdonk's formula, as published by E. R. Stauffacher, General
 * Electric Review 31 (1928). Standing: formula from memory, values computed.
 */
export const FUSING_IN_ONE_SECOND: readonly (readonly [number, number])[] = [
  [10, 1519.0],
  [14, 600.8],
  [18, 237.6],
  [22, 93.99],
  [26, 37.17],
  [30, 14.7],
];
