/**
 * Copper leads: resistance by gauge, length and temperature, and how hot a burst makes them.
 *
 * Sources: ASTM B258 (diameter by gauge), IEC 60028 (1/58 ohm mm²/m at 20 °C and its temperature coefficient), IEC 60949
 * (adiabatic temperature rise of copper conductors). A stranded lead is taken as the solid conductor of its gauge; by
 * IEC 60228 strands of the same nominal area measure 5–10 % more.
 */
import { ICE_POINT } from './air.ts';

/** Ohm metre, annealed copper at 20 °C. */
const RESISTIVITY = 1 / 58e6;
/** Per kelvin, at 20 °C. */
export const COPPER_TEMPERATURE_COEFFICIENT = 0.00393;
/** 20 °C in K. */
export const REFERENCE_TEMPERATURE = 293.15;
const INCH = 0.0254;

/** m, of an American wire gauge 0 … 40. */
export function gaugeDiameter(gauge: number): number {
  return 0.005 * INCH * 92 ** ((36 - gauge) / 39);
}

/** m² */
export function gaugeArea(gauge: number): number {
  return (Math.PI / 4) * gaugeDiameter(gauge) ** 2;
}

/** Factor on a copper resistance stated at 20 °C, at a temperature in K (200 … 500). */
export function copperFactor(temperature: number): number {
  return 1 + COPPER_TEMPERATURE_COEFFICIENT * (temperature - REFERENCE_TEMPERATURE);
}

/** Ohms of a lead pair, current going out and coming back: area in m², length one way in m, temperature in K. */
export function leadPairResistance(area: number, length: number, temperature: number): number {
  return ((RESISTIVITY * 2 * length) / area) * copperFactor(temperature);
}

/** A √s / m², IEC 60949 for copper. */
const ADIABATIC_CONSTANT = 226e6;
/** Reciprocal of copper's temperature coefficient at 0 °C, less the ice point: °C to be added. */
const ADIABATIC_OFFSET = 234.5;

/**
 * Temperature rise, K, of a conductor that sheds no heat while a current flows: current in A, area in m², time in s, start in K.
 * True for a few seconds; later the insulation takes part and this overstates.
 */
export function adiabaticRise(current: number, area: number, time: number, startTemperature: number): number {
  const start = startTemperature - ICE_POINT + ADIABATIC_OFFSET;
  return start * Math.expm1((current / (ADIABATIC_CONSTANT * area)) ** 2 * time);
}
