/**
 * Motor and propeller pairs measured on a bench with load cell, 8 to 15 inch, at six throttles (50 … 100 %).
 * Source: Czech Technical University in Prague, multirotor group, page "Motor tests" (thrust by load cell, speed, and
 * current and voltage as measured by the ESC, on full packs). Standing: read from a copy. Makes and types are left out.
 * Licence: none is stated with the copy that was read; these are measured values, cited, and part of what was published.
 */
export interface BenchPair {
  /** A to J: makes and types are left out. */
  readonly name: string;
  /** Stator diameter and height, mm. */
  readonly stator: readonly [number, number];
  /** rpm/V */
  readonly kv: number;
  /** inch */
  readonly diameter: number;
  /** inch; undefined where the label's meaning is not certain. */
  readonly pitch: number | undefined;
  /** Throttle, thrust (gram-force), speed (rpm), voltage (V), current (A). */
  readonly rows: readonly (readonly [number, number, number, number, number])[];
}

export const BENCH_PAIRS: readonly BenchPair[] = [
  {
    name: 'A',
    stator: [23, 12],
    kv: 920,
    diameter: 9.4,
    pitch: 5,
    rows: [
      [0.5, 401, 5688, 16.66, 3.09],
      [0.6, 529, 6508, 16.61, 4.8],
      [0.7, 656, 7213, 16.54, 6.72],
      [0.8, 787, 7788, 16.48, 9.05],
      [0.9, 911, 8608, 16.4, 11.48],
      [1.0, 1024, 9068, 16.32, 14.26],
    ],
  },
  {
    name: 'B',
    stator: [23, 12],
    kv: 920,
    diameter: 9.4,
    pitch: 5,
    rows: [
      [0.5, 395, 5628, 16.75, 3.19],
      [0.6, 509, 6542, 16.71, 4.82],
      [0.7, 634, 7282, 16.64, 6.74],
      [0.8, 745, 7853, 16.57, 9.1],
      [0.9, 893, 8525, 16.49, 11.58],
      [1.0, 997, 8956, 16.41, 14.37],
    ],
  },
  {
    name: 'C',
    stator: [23, 12],
    kv: 920,
    diameter: 9.4,
    pitch: 5,
    rows: [
      [0.5, 363, 5899, 16.66, 2.8],
      [0.6, 486, 6842, 16.62, 4.27],
      [0.7, 599, 7639, 16.56, 6.09],
      [0.8, 734, 8448, 16.51, 8.14],
      [0.9, 867, 9125, 16.43, 10.46],
      [1.0, 989, 9708, 16.35, 13.19],
    ],
  },
  {
    name: 'D',
    stator: [23, 12],
    kv: 920,
    diameter: 8,
    pitch: 4.5,
    rows: [
      [0.5, 323, 5939, 16.7, 2.73],
      [0.6, 429, 6902, 16.66, 4.17],
      [0.7, 542, 7648, 16.59, 6.06],
      [0.8, 663, 8499, 16.52, 8.22],
      [0.9, 781, 9076, 16.45, 10.5],
      [1.0, 891, 9722, 16.37, 13.27],
    ],
  },
  {
    name: 'E',
    stator: [41, 14],
    kv: 320,
    diameter: 15,
    pitch: 5.5,
    rows: [
      [0.5, 791, 3448, 25.12, 3.6],
      [0.6, 1077, 4013, 25.03, 5.77],
      [0.7, 1420, 4528, 24.92, 8.53],
      [0.8, 1773, 4975, 24.78, 12.23],
      [0.9, 2116, 5468, 24.6, 16.67],
      [1.0, 2545, 5832, 24.41, 21.62],
    ],
  },
  {
    name: 'F',
    stator: [41, 14],
    kv: 320,
    diameter: 15,
    pitch: undefined,
    rows: [
      [0.5, 614, 3624, 25.08, 2.42],
      [0.6, 867, 4277, 25.01, 3.88],
      [0.7, 1217, 4836, 24.93, 5.78],
      [0.8, 1568, 5346, 24.82, 8.35],
      [0.9, 1996, 5957, 24.69, 11.73],
      [1.0, 2373, 6376, 24.52, 15.49],
    ],
  },
  {
    name: 'G',
    stator: [31, 10],
    kv: 780,
    diameter: 11,
    pitch: 4.7,
    rows: [
      [0.5, 621, 5313, 16.61, 4.19],
      [0.6, 868, 6156, 16.53, 6.79],
      [0.7, 1112, 6971, 16.42, 10.11],
      [0.8, 1288, 7913, 16.29, 13.93],
      [0.9, 1625, 8348, 16.13, 18.83],
      [1.0, 1876, 8951, 15.95, 24.17],
    ],
  },
  {
    name: 'H',
    stator: [31, 10],
    kv: 780,
    diameter: 11,
    pitch: 5.5,
    rows: [
      [0.5, 494, 5422, 16.53, 3.72],
      [0.6, 687, 6336, 16.45, 6.03],
      [0.7, 897, 7051, 16.36, 9.1],
      [0.8, 1135, 7716, 16.22, 12.96],
      [0.9, 1345, 8616, 16.07, 17.42],
      [1.0, 1576, 9168, 15.91, 22.97],
    ],
  },
  {
    name: 'I',
    stator: [31, 10],
    kv: 780,
    diameter: 11,
    pitch: 5,
    rows: [
      [0.5, 543, 5325, 16.69, 4.39],
      [0.6, 732, 6145, 16.59, 6.92],
      [0.7, 903, 7031, 16.47, 10.33],
      [0.8, 1113, 7691, 16.35, 13.93],
      [0.9, 1357, 8476, 16.19, 18.85],
      [1.0, 1538, 9159, 16.02, 23.53],
    ],
  },
  {
    name: 'J',
    stator: [31, 10],
    kv: 780,
    diameter: 10,
    pitch: 4.5,
    rows: [
      [0.5, 482, 5568, 16.82, 3.41],
      [0.6, 669, 6522, 16.74, 5.47],
      [0.7, 871, 7368, 16.66, 7.98],
      [0.8, 1055, 8345, 16.55, 11.37],
      [0.9, 1321, 9136, 16.42, 15.19],
      [1.0, 1546, 9836, 16.26, 19.88],
    ],
  },
];
