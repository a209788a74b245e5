/**
 * Electrical power of a quadcopter in level flight and in hover: 1 m/s bins of steady cruise, with the airspeed found by closing the wind triangle.
 * T. A. Rodrigues, J. Patrikar, A. Choudhry et al., 209 flights of a quadcopter that carries parcels, Scientific Data 8 (2021) 155,
 * doi:10.1038/s41597-021-00930-x; data doi:10.1184/R1/12683453 (licence CC BY 4.0). Bins and airspeeds computed from the data; their mean power has a
 * standard error of 4 to 11 W.
 */
export interface LevelFlightRow {
  /** kg */
  readonly mass: number;
  /** m/s */
  readonly airspeed: number;
  /** W */
  readonly power: number;
  /** Nose down, degrees. */
  readonly tilt: number;
}

/** Four flights of 3.715 kg, W. */
export const HOVER_POWER = [459.2, 484.6, 481.5, 481.3];
export const HOVER_MASS = 3.715;
/** Of each of four propellers, m. */
export const DIAMETER = 0.344;
/** kg/m³, mean of the rows. */
export const AIR_DENSITY = 1.185;

export const LEVEL_FLIGHT: readonly LevelFlightRow[] = [
  { mass: 3.715, airspeed: 2.32, power: 457.4, tilt: 1.6 },
  { mass: 3.715, airspeed: 2.97, power: 465.9, tilt: 2.4 },
  { mass: 3.715, airspeed: 4.02, power: 462.6, tilt: 3.3 },
  { mass: 3.715, airspeed: 4.98, power: 449.1, tilt: 4.7 },
  { mass: 3.715, airspeed: 5.85, power: 452.9, tilt: 5.8 },
  { mass: 3.715, airspeed: 6.94, power: 439.7, tilt: 7.1 },
  { mass: 3.715, airspeed: 7.72, power: 449.1, tilt: 8.1 },
  { mass: 3.715, airspeed: 9.05, power: 441.7, tilt: 9.7 },
  { mass: 3.715, airspeed: 9.54, power: 436.6, tilt: 11.0 },
  { mass: 4.215, airspeed: 1.79, power: 586.6, tilt: 1.5 },
  { mass: 4.215, airspeed: 3.08, power: 569.2, tilt: 2.8 },
  { mass: 4.215, airspeed: 4.03, power: 550.4, tilt: 3.6 },
  { mass: 4.215, airspeed: 4.83, power: 557.3, tilt: 5.1 },
  { mass: 4.215, airspeed: 5.55, power: 550.8, tilt: 5.9 },
  { mass: 4.215, airspeed: 6.85, power: 546.2, tilt: 7.0 },
  { mass: 4.215, airspeed: 8.15, power: 527.9, tilt: 8.2 },
  { mass: 4.215, airspeed: 8.92, power: 540.7, tilt: 9.6 },
  { mass: 4.215, airspeed: 10.0, power: 548.9, tilt: 10.8 },
];
