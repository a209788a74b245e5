/**
 * The three-constant motor on direct current, V = I·R + ω·K, shaft power = (V − I·R)·(I − I₀), at a few points: computed from the
 * equations (M. Drela, First-Order DC Electric Motor Model, MIT 2007; A. Hughes and W. Drury, Electric Motors and Drives, 5th ed.
 * 2019, ch. 3; equations from memory), optimum checked with another optimiser.
 * Licence: ours; computed.
 */
export interface ThreeConstantMotor {
  /** rpm/V */
  readonly kv: number;
  /** ohm */
  readonly resistance: number;
  /** A */
  readonly noLoadCurrent: number;
  /** V */
  readonly voltage: number;
  /** Current (A), speed (rpm), shaft power (W). */
  readonly points: readonly (readonly [number, number, number])[];
}

export const THREE_CONSTANT_MOTORS: readonly ThreeConstantMotor[] = [
  {
    kv: 2300,
    resistance: 0.08,
    noLoadCurrent: 0.9,
    voltage: 7.4,
    points: [
      [4.625, 16169, 26.18675],
      [9.25, 15318, 55.611],
      [18.5, 13616, 104.192],
      [27.75, 11914, 139.083],
      [46.25, 8510, 167.795],
    ],
  },
  {
    kv: 1000,
    resistance: 0.1,
    noLoadCurrent: 0.6,
    voltage: 11.1,
    points: [
      [5.55, 10545.0, 52.19775],
      [11.1, 9990.0, 104.895],
      [22.2, 8880.0, 191.808],
      [33.3, 7770.0, 254.079],
      [55.5, 5550.0, 304.695],
    ],
  },
  {
    kv: 6000,
    resistance: 0.18,
    noLoadCurrent: 0.35,
    voltage: 3.7,
    points: [
      [1.027778, 21090.0, 2.382389],
      [2.055556, 19980.0, 5.6795],
      [4.111111, 17760.0, 11.13289],
      [6.166667, 15540.0, 15.06517],
      [10.27778, 11100.0, 18.36639],
    ],
  },
];

/**
 * A. E. Fitzgerald, C. Kingsley, S. D. Umans, Electric Machinery, 6th ed. 2003, Example 7.9: no load 50 V, 1.25 A, 2100 rpm;
 * R = 1.03 ohm; at 48 V and 1700 rpm the shaft gives 275 W. Read from a worked copy; the book rounds K to 0.22 V s/rad on the
 * way, and models of the no-load loss move the answer between 267 and 279 W.
 */
export const TEXTBOOK_MOTOR = {
  noLoadVoltage: 50,
  noLoadCurrent: 1.25,
  noLoadSpeed: 2100,
  resistance: 1.03,
  voltage: 48,
  speed: 1700,
  shaftPower: 275,
};
