/**
 * Resting voltage and resistance of lithium cells over their charge, in the cold and with age.
 *
 * Form after M. Chen and G. A. Rincón-Mora, IEEE Trans. Energy Conversion 21 (2006) 504: a source that depends on the
 * charge alone, behind a resistance that rises steeply when nearly empty. Their two time constants (seconds, minutes)
 * are folded into one steady resistance: a short burst from rest sags a little less than stated here.
 * Resting volts: common practice, ±0.03 V of pouch cells, ±0.12 V of round ones. Growth of a pouch cell's resistance: the 2C rows of W. Ai et al.,
 * J. Electrochem. Soc. 167 (2020) 013512, which agree with practice. Round cells: common practice, compared with the cell with a
 * nickel-cobalt cathode of M. Ecker et al., J. Electrochem. Soc. 162 (2015) A1849. Cold factor and ageing: common practice.
 */
import type { Chemistry, Pack } from './craft.ts';
import { type MonotoneCurve, monotoneCurve, valueAt } from './monotone-curve.ts';

/** State of charge, resting volts of one cell. */
const LIPO: readonly (readonly [number, number])[] = [
  [0, 3.27],
  [0.05, 3.61],
  [0.1, 3.69],
  [0.2, 3.73],
  [0.3, 3.77],
  [0.4, 3.8],
  [0.5, 3.84],
  [0.6, 3.87],
  [0.8, 4.02],
  [1, 4.2],
];

const LIION: readonly (readonly [number, number])[] = [
  [0, 2.8],
  [0.05, 3.1],
  [0.1, 3.27],
  [0.2, 3.45],
  [0.3, 3.54],
  [0.4, 3.6],
  [0.5, 3.66],
  [0.6, 3.74],
  [0.8, 3.94],
  [1, 4.2],
];

/** High-voltage cells are 0.02 V above ordinary ones at 20 % and 0.15 V above when full. */
const highVoltageExcess = (charge: number): number =>
  charge < 0.2 ? 0.02 * (charge / 0.2) : 0.02 + 0.13 * ((charge - 0.2) / 0.8);

const RESTING: Readonly<Record<Chemistry, MonotoneCurve>> = {
  lipo: monotoneCurve(LIPO),
  lihv: monotoneCurve(LIPO.map(([charge, volts]) => [charge, volts + highVoltageExcess(charge)] as const)),
  liion: monotoneCurve(LIION),
};

/** State of charge, resistance over that at 60 %. */
const POUCH_GROWTH = monotoneCurve([
  [0, 3.2],
  [0.05, 2],
  [0.1, 1.55],
  [0.2, 1.3],
  [0.4, 1.12],
  [0.6, 1],
  [0.8, 0.97],
  [1, 0.92],
]);

const ROUND_GROWTH = monotoneCurve([
  [0, 2.6],
  [0.05, 1.75],
  [0.1, 1.45],
  [0.2, 1.2],
  [0.4, 1.06],
  [0.6, 1],
  [0.8, 1.08],
  [1, 1.08],
]);

const RESISTANCE_GROWTH: Readonly<Record<Chemistry, MonotoneCurve>> = {
  lipo: POUCH_GROWTH,
  lihv: POUCH_GROWTH,
  liion: ROUND_GROWTH,
};

/** States of charge between which the curves are one smooth piece each, rising; integrate piece by piece. */
export const CHARGE_KNOTS: readonly number[] = [0, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.8, 0.9, 1];

/** Volts of one resting cell at a state of charge 0 … 1. */
export function restingVoltage(chemistry: Chemistry, stateOfCharge: number): number {
  return valueAt(RESTING[chemistry], stateOfCharge);
}

/** Resistance at a state of charge 0 … 1 over the resistance at 60 %, of a typical cell. */
export function resistanceGrowth(chemistry: Chemistry, stateOfCharge: number): number {
  return valueAt(RESISTANCE_GROWTH[chemistry], stateOfCharge);
}

/** Resistance at a cell temperature in K (250 … 330) over that at 25 °C. */
export function coldFactor(temperature: number): number {
  return Math.exp(2500 * (1 / temperature - 1 / 298.15));
}

/** Resistance after a number of charge cycles (0 … 500) over that of a new cell: half as much again per hundred. Common practice. */
export function wornFactor(cycles: number): number {
  return 1.5 ** (cycles / 100);
}

/**
 * How much of `Pack.restingOffset` counts: all of it up to 90 % charge, fading smoothly to nothing when full, where the charger
 * fixes the voltage. What is missing from full counts of `Pack.chargeOffset`.
 */
const offsetShare = (stateOfCharge: number): number =>
  stateOfCharge > 0.9 ? smoothStep((1 - stateOfCharge) / 0.1) : 1;

function smoothStep(x: number): number {
  const t = Math.min(1, Math.max(0, x));
  return t * t * (3 - 2 * t);
}

/** Volts of the whole resting pack. */
export function packRestingVoltage(pack: Pack, stateOfCharge: number): number {
  const share = offsetShare(stateOfCharge);
  const offset = pack.restingOffset * share + pack.chargeOffset * (1 - share);
  return pack.cellsInSeries * (restingVoltage(pack.chemistry, stateOfCharge) + offset);
}

/** Ohms of the cells alone, all positions in series; lead and plug come on top. */
export function packCellResistance(pack: Pack, stateOfCharge: number): number {
  const growth = 1 + pack.resistanceGrowthShare * (resistanceGrowth(pack.chemistry, stateOfCharge) - 1);
  return pack.cellsInSeries * pack.positionResistance * growth;
}
