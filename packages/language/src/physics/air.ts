/**
 * Density and speed of sound of the air a craft flies in.
 *
 * Pressure follows the standard atmosphere at the given altitude; temperature is the declared one, or the standard
 * one where none is declared; humidity is optional and thins the air a little.
 *
 * Sources: ISO 2533:1975 and U.S. Standard Atmosphere 1976 (identical here); saturation pressure over water by the
 * Magnus form of the WMO Guide to Instruments and Methods of Observation (WMO-No. 8), from memory.
 * Neglected: weather (±2 % in pressure), compressibility of the gas (0.04 %), the enhancement factor of moist air (0.4 %
 * of the vapour's share).
 */
import type { Air } from './craft.ts';

/** K */
const SEA_LEVEL_TEMPERATURE = 288.15;
/** Pa */
const SEA_LEVEL_PRESSURE = 101325;
/** K per geopotential metre */
const LAPSE_RATE = -0.0065;
/** Top of the layer with that lapse rate, geopotential metres. */
const TROPOPAUSE = 11000;
/** m/s² */
export const STANDARD_GRAVITY = 9.80665;
/** Specific gas constant of dry air, J/(kg K). */
const GAS_CONSTANT = 287.05287;
/** m */
const EARTH_RADIUS = 6356766;
const HEAT_CAPACITY_RATIO = 1.4;
/** Molar mass of water over that of dry air, subtracted from one. */
const VAPOUR_LIGHTNESS = 0.378;
/** 0 °C in K. */
export const ICE_POINT = 273.15;

export interface AirConditions {
  /** Geometric altitude above sea level, m; −1000 … 20000. */
  readonly altitude: number;
  /** K; 220 … 330. Absent: the standard atmosphere's at this altitude. */
  readonly temperature?: number;
  /** 0 … 1. Absent: dry. */
  readonly relativeHumidity?: number;
}

/** Air at the given conditions. */
export function airAt({ altitude, temperature, relativeHumidity = 0 }: AirConditions): Air {
  const geopotential = (EARTH_RADIUS * altitude) / (EARTH_RADIUS + altitude);
  const actual = temperature ?? standardTemperature(geopotential);
  const vapourPressure = relativeHumidity * saturationPressure(actual);
  const density = (standardPressure(geopotential) - VAPOUR_LIGHTNESS * vapourPressure) / (GAS_CONSTANT * actual);
  return { density, speedOfSound: Math.sqrt(HEAT_CAPACITY_RATIO * GAS_CONSTANT * actual) };
}

/** K, at a geopotential altitude in metres. */
export function standardTemperature(geopotential: number): number {
  return SEA_LEVEL_TEMPERATURE + LAPSE_RATE * Math.min(geopotential, TROPOPAUSE);
}

/** Pa, at a geopotential altitude in metres. */
export function standardPressure(geopotential: number): number {
  const below = Math.min(geopotential, TROPOPAUSE);
  const ratio = standardTemperature(below) / SEA_LEVEL_TEMPERATURE;
  const pressure = SEA_LEVEL_PRESSURE * ratio ** (-STANDARD_GRAVITY / (GAS_CONSTANT * LAPSE_RATE));
  if (geopotential <= TROPOPAUSE) return pressure;
  const scaleHeight = (GAS_CONSTANT * standardTemperature(TROPOPAUSE)) / STANDARD_GRAVITY;
  return pressure * Math.exp(-(geopotential - TROPOPAUSE) / scaleHeight);
}

/** Water vapour over a plane surface of water, Pa, at a temperature in K. */
function saturationPressure(temperature: number): number {
  const celsius = temperature - ICE_POINT;
  return 611.2 * Math.exp((17.62 * celsius) / (243.12 + celsius));
}
