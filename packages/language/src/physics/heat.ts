/**
 * Winding temperature of a motor with a known thermal resistance, copper's own rise with temperature included.
 *
 * At a given speed and shaft power the winding current does not depend on the resistance, so the balance is linear:
 * T = T_air + R_th·(i²·R₂₀·(1 + α·(T − 20 °C)) + other losses). When one kelvin more makes more than one kelvin's worth of
 * heat there is no balance: the winding runs away.
 * Sources: one-body thermal model of machine texts (A. Hughes and W. Drury, Electric Motors and Drives, 5th ed., ch. 11, from
 * memory); IEC 60028 for α. Neglected: the bell's cooling by its own propeller over speed, two-body effects between winding and iron.
 */
import { COPPER_TEMPERATURE_COEFFICIENT, REFERENCE_TEMPERATURE } from './lead.ts';

export interface WindingHeat {
  /** K */
  readonly airTemperature: number;
  /** From winding to air, K/W. */
  readonly thermalResistance: number;
  /** A */
  readonly current: number;
  /** At 20 °C, ohm. */
  readonly resistance: number;
  /** Iron, friction, lossy commutation, ripple: W. */
  readonly otherLosses: number;
}

/** Steady winding temperature, K, or the news that there is none. */
export function windingTemperature(heat: WindingHeat): number | 'runaway' {
  const stability = 1 - feedback(heat);
  if (stability <= 0) return 'runaway';
  return heat.airTemperature + steadyRiseWithoutFeedback(heat) / stability;
}

/** Kelvins of rise that one kelvin of winding temperature causes. */
function feedback({ thermalResistance, current, resistance }: WindingHeat): number {
  return thermalResistance * current ** 2 * resistance * COPPER_TEMPERATURE_COEFFICIENT;
}

/** Rise with the copper held at the air's temperature, K. */
function steadyRiseWithoutFeedback(heat: WindingHeat): number {
  const coldFactor = 1 + COPPER_TEMPERATURE_COEFFICIENT * (heat.airTemperature - REFERENCE_TEMPERATURE);
  return heat.thermalResistance * (heat.current ** 2 * heat.resistance * coldFactor + heat.otherLosses);
}
