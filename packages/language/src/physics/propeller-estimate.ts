/**
 * Thrust and power coefficients of a propeller of which only the size is known.
 *
 *   C_T = 0.132·(pitch/diameter)^0.485·(blades/2)^0.634      C_P = 0.1035·(pitch/diameter)^1.229·(blades/2)^0.755
 *
 * Fitted by least squares to the static rows of 40 propellers, 57–203 mm (means over the upper half of the measured speeds),
 * of the UIUC Propeller Database (J. B. Brandt, R. W. Deters, G. K. Ananda, O. D. Dantsker, M. S. Selig); the blade exponents are
 * set from families that differ in blades only (2 → 3 → 4: C_T × 1.3 and 1.55, C_P × 1.35 and 1.7). Left out of the fit one by
 * one, propellers scatter by 21 % in C_T and 24 % in C_P (one standard deviation), with a correlation of 0.75 between the two.
 *
 * Above 203 mm the law is extrapolated: nine pairs of 9.4 to 15 inch on a bench with a load cell (Czech Technical University in Prague)
 * lie about it by 17 % rms in C_T, no worse than the propellers it was fitted to.
 *
 * Below 57 mm the open data end. Wide-bladed small propellers give more of both, and their labelled pitch means less:
 * adjusted to the ranges seen in practice (common practice), ±30 %.
 */
import { monotoneCurve, valueAt } from './monotone-curve.ts';

export interface PropellerSize {
  /** m */
  readonly diameter: number;
  /** m; absent: what is usual for the diameter. */
  readonly pitch?: number;
  readonly blades: number;
}

export interface CoefficientEstimate {
  readonly thrustCoefficient: number;
  readonly powerCoefficient: number;
  /** Relative standard uncertainties. */
  readonly thrustUncertainty: number;
  readonly powerUncertainty: number;
  /** Between the two coefficients' errors. */
  readonly correlation: number;
  /** Smaller than the measured propellers. */
  readonly outsideData: boolean;
}

const SMALLEST_MEASURED = 0.057;
const CORRELATION = 0.75;

/** Diameter (m), usual pitch over diameter: common practice. */
const USUAL_PITCH_RATIO = monotoneCurve([
  [0.03, 1],
  [0.055, 0.95],
  [0.076, 0.85],
  [0.13, 0.82],
  [0.178, 0.6],
  [0.254, 0.5],
  [0.4, 0.4],
]);
/**
 * Relative standard uncertainty of that usual ratio: with it the ± covers nine tenths of the measured propellers in C_P, their
 * pitches unsaid.
 */
const USUAL_PITCH_UNCERTAINTY = 0.28;

const THRUST = { scale: 0.132, pitchExponent: 0.485, bladeExponent: 0.634, scatter: 0.21, smallExponent: 0.25 };
const POWER = { scale: 0.1035, pitchExponent: 1.229, bladeExponent: 0.755, scatter: 0.24, smallExponent: 0.4 };
/** Scatter of either coefficient below the data. */
const SCATTER_SMALL = 0.3;

/** Coefficients from size: diameters 0.025 … 0.5 m, pitch over diameter 0.2 … 1.5, 2 … 8 blades. */
export function estimateCoefficients({ diameter, pitch, blades }: PropellerSize): CoefficientEstimate {
  const usual = valueAt(USUAL_PITCH_RATIO, diameter);
  const small = diameter < SMALLEST_MEASURED;
  const labelled = pitch === undefined ? usual : pitch / diameter;
  const ratio = small ? Math.sqrt(labelled * usual) : labelled;
  const smallness = small ? SMALLEST_MEASURED / diameter : 1;

  const estimate = (law: typeof THRUST): number =>
    law.scale * ratio ** law.pitchExponent * (blades / 2) ** law.bladeExponent * smallness ** law.smallExponent;
  const uncertainty = (law: typeof THRUST): number => {
    const scatter = small ? SCATTER_SMALL : law.scatter;
    const byPitch = pitch === undefined ? law.pitchExponent * USUAL_PITCH_UNCERTAINTY : 0;
    return Math.hypot(scatter, byPitch);
  };
  return {
    thrustCoefficient: estimate(THRUST),
    powerCoefficient: estimate(POWER),
    thrustUncertainty: uncertainty(THRUST),
    powerUncertainty: uncertainty(POWER),
    correlation: CORRELATION,
    outsideData: small,
  };
}
