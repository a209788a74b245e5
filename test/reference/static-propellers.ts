/**
 * Static thrust and power coefficients of small propellers: label (diameter and pitch in inch), blades, mean C_T and C_P over
 * the upper half of the measured speeds, highest measured speed (rpm). C_T = T/(ρ n² D⁴), C_P = P/(ρ n³ D⁵).
 * Source: J. B. Brandt, R. W. Deters, G. K. Ananda, O. D. Dantsker, M. S. Selig, UIUC Propeller Database, volumes 1–3,
 * University of Illinois at Urbana-Champaign (AIAA 2011-1255, AIAA 2014-2151). Standing: read from a copy of the tables; the
 * means are ours. A random two thirds of the collection; one blade count is corrected from the speed quantum. Makes are left out.
 * Licence: none is stated with the copy that was read; these are measured values, cited, and part of what was published.
 */
export interface StaticPropeller {
  readonly diameter: number;
  readonly pitch: number;
  readonly blades: number;
  readonly thrustCoefficient: number;
  readonly powerCoefficient: number;
  readonly highestSpeed: number;
}

const ROWS: readonly (readonly [number, number, number, number, number, number])[] = [
  [2.2441, 0.7874, 2, 0.1376, 0.0746, 23863],
  [2.5, 1.0, 2, 0.0748, 0.0334, 26953],
  [3.0, 2.0, 2, 0.1363, 0.0689, 18937],
  [3.2, 2.2, 2, 0.1193, 0.0563, 19923],
  [4.0, 2.7, 2, 0.103, 0.0536, 11830],
  [4.0, 4.0, 2, 0.1696, 0.1274, 10420],
  [4.2, 2.0, 2, 0.0861, 0.043, 15000],
  [4.2, 4.0, 2, 0.1295, 0.1099, 9880],
  [4.5, 3.0, 2, 0.1202, 0.0574, 10837],
  [4.5, 4.0, 2, 0.1557, 0.0892, 9457],
  [5.0, 1.58, 2, 0.0546, 0.0223, 11980],
  [5.0, 2.65, 2, 0.0891, 0.0395, 10477],
  [5.0, 2.65, 2, 0.1004, 0.0576, 7960],
  [5.0, 3.0, 2, 0.1115, 0.0464, 9477],
  [5.0, 3.1567, 2, 0.0878, 0.0461, 10337],
  [5.0, 3.1567, 3, 0.1152, 0.061, 9898],
  [5.0, 3.1567, 4, 0.1361, 0.0799, 8920],
  [5.0, 3.75, 2, 0.1263, 0.0902, 7440],
  [5.0, 3.75, 2, 0.1167, 0.0744, 7937],
  [5.0, 3.75, 3, 0.2079, 0.1331, 6947],
  [5.0, 4.0, 3, 0.1786, 0.1154, 6396],
  [5.0, 4.2879, 2, 0.0966, 0.0736, 9420],
  [5.0, 4.3, 2, 0.1633, 0.1058, 6920],
  [5.0, 4.92, 2, 0.1455, 0.1449, 6867],
  [5.1181, 2.7559, 2, 0.107, 0.0461, 9427],
  [5.5118, 1.7717, 2, 0.0617, 0.0214, 10953],
  [7.0, 4.0, 2, 0.0831, 0.0404, 7203],
  [7.0, 6.0, 2, 0.0917, 0.0718, 7002],
  [7.4, 8.25, 2, 0.1397, 0.1065, 6800],
  [7.8, 6.0, 2, 0.1042, 0.0669, 6804],
  [7.8, 7.0, 2, 0.106, 0.085, 6705],
  [8.0, 3.8, 2, 0.1047, 0.0446, 7015],
  [8.0, 4.0, 2, 0.0899, 0.0372, 7078],
  [8.0, 4.3, 2, 0.1101, 0.0449, 6998],
  [8.0, 5.0, 2, 0.0911, 0.0504, 7016],
  [8.0, 6.0, 2, 0.1493, 0.0858, 6611],
  [8.0, 6.0, 2, 0.1136, 0.0749, 6700],
  [8.0, 8.0, 2, 0.1286, 0.1141, 6412],
  [8.0, 9.0, 2, 0.104, 0.1125, 6395],
  [8.0, 10.0, 2, 0.1147, 0.1369, 6202],
];

export const STATIC_PROPELLERS: readonly StaticPropeller[] = ROWS.map(
  ([diameter, pitch, blades, thrustCoefficient, powerCoefficient, highestSpeed]) => ({
    diameter,
    pitch,
    blades,
    thrustCoefficient,
    powerCoefficient,
    highestSpeed,
  }),
);
