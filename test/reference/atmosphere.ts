/**
 * Geometric altitude (m), temperature (K), pressure (Pa), density (kg/m³), standing of the row.
 * Source: U.S. Standard Atmosphere 1976 (NOAA-S/T 76-1562), Table I; ISO 2533:1975 is identical here.
 * "read": from a public test that quotes the report; "memory": typed from memory of Table I.
 * Licence: a publication of the United States government, in the public domain; values of a standard.
 */
export const STANDARD_ATMOSPHERE: readonly (readonly [number, number, number, number, 'read' | 'memory'])[] = [
  [0, 288.15, 101325, 1.225, 'read'],
  [50, 287.825, 100720, 1.2191, 'read'],
  [500, 284.9, 95461, 1.1673, 'read'],
  [550, 284.575, 94890, 1.1616, 'read'],
  [850, 282.626, 91523, 1.1281, 'read'],
  [1000, 281.651, 89876, 1.1117, 'memory'],
  [1500, 278.402, 84559, 1.0581, 'memory'],
  [2000, 275.154, 79501, 1.0066, 'memory'],
  [2500, 271.906, 74691, 0.95695, 'read'],
  [3000, 268.659, 70121, 0.90925, 'memory'],
  [3500, 265.413, 65780, 0.8634, 'memory'],
  [4000, 262.166, 61660, 0.81935, 'memory'],
  [4500, 258.921, 57752, 0.77704, 'memory'],
  [5000, 255.676, 54048, 0.73643, 'read'],
  [6000, 249.187, 47217, 0.66011, 'memory'],
  [6500, 245.943, 44075, 0.62431, 'read'],
  [7000, 242.7, 41105, 0.59002, 'memory'],
  [8000, 236.215, 35651, 0.52579, 'memory'],
  [9000, 229.733, 30800, 0.46706, 'read'],
  [10000, 223.252, 26499, 0.41351, 'memory'],
  [11000, 216.774, 22699, 0.3648, 'read'],
];

/**
 * Temperature (°C), pressure (Pa), relative humidity (0 … 1), density (kg/m³). Standing: read from public tests and
 * documentation, which quote in order: S. V. Gupta, Mass Metrology, appendix (two rows); NIST SOP 2, Appendix B, examples 1 and 3
 * (Jones 1978); the ASHRAE psychrometric formulation.
 */
export const MOIST_AIR: readonly (readonly [number, number, number, number])[] = [
  [10, 97325.3, 0.4, 1.1957],
  [40, 101325.0, 0.4, 1.115],
  [22.3, 99738.5, 0.37, 1.17194],
  [23.4, 81633.3, 0.23, 0.95632],
  [20, 101325, 0.7, 1.19714],
];
