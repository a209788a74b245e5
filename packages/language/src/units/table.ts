/**
 * The units the language knows, as data. Prefixed units are here one by one: what is not listed does not exist (`Mohm`, `kohm`).
 * Names are ASCII; aliases are what people type or paste. The scale turns one unit into SI; angles count in radians.
 */
import {
  ANGLE,
  CAPACITANCE,
  CHARGE,
  CURRENT,
  FORCE,
  FREQUENCY,
  INDUCTANCE,
  LENGTH,
  MASS,
  NONE,
  POWER,
  PRESSURE,
  RESISTANCE,
  ROTATIONAL_SPEED,
  SPEED,
  TEMPERATURE,
  TEMPERATURE_POINT,
  THRUST_PER_POWER,
  TIME,
  TORQUE,
  VOLTAGE,
} from './dimension.ts';
import type { Dimension } from './quantity.ts';

export interface UnitEntry {
  readonly name: string;
  readonly aliases?: readonly string[];
  readonly dimension: Dimension;
  /** SI units in one of these. */
  readonly scale: number;
  /** SI value of zero, for temperatures. */
  readonly offset?: number;
  /** May not be part of a compound: a gauge, or a compound that means something of its own. */
  readonly alone?: boolean;
  readonly description: string;
  /** Where the scale comes from. */
  readonly source: string;
}

const SI = 'SI Brochure, 9th edition (2019), tables 2, 4 and 7';
const ACCEPTED = 'SI Brochure, 9th edition (2019), table 8';
const YARD_POUND = 'NIST SP 811 (2008), appendix B: international yard and pound, exact';
const STANDARD_GRAVITY = '3rd CGPM (1901): standard gravity 9.80665 m/s², exact';
const DEFINITION = 'by definition';

const GRAVITY = 9.80665;
const POUND = 0.453_592_37;
const INCH = 0.0254;
const NAUTICAL_MILE = 1852;
const TURN = 2 * Math.PI;

export const UNITS: readonly UnitEntry[] = [
  // Mass
  { name: 'g', dimension: MASS, scale: 1e-3, description: 'gram', source: SI },
  { name: 'mg', dimension: MASS, scale: 1e-6, description: 'milligram', source: SI },
  { name: 'kg', dimension: MASS, scale: 1, description: 'kilogram', source: SI },
  { name: 'oz', dimension: MASS, scale: POUND / 16, description: 'ounce', source: YARD_POUND },
  { name: 'lb', aliases: ['lbs'], dimension: MASS, scale: POUND, description: 'pound', source: YARD_POUND },

  // Length
  { name: 'mm', dimension: LENGTH, scale: 1e-3, description: 'millimetre', source: SI },
  { name: 'cm', dimension: LENGTH, scale: 1e-2, description: 'centimetre', source: SI },
  { name: 'm', dimension: LENGTH, scale: 1, description: 'metre', source: SI },
  { name: 'km', dimension: LENGTH, scale: 1e3, description: 'kilometre', source: SI },
  { name: 'um', aliases: ['µm'], dimension: LENGTH, scale: 1e-6, description: 'micrometre', source: SI },
  { name: 'in', aliases: ['inch'], dimension: LENGTH, scale: INCH, description: 'inch', source: YARD_POUND },
  { name: 'ft', dimension: LENGTH, scale: 12 * INCH, description: 'foot', source: YARD_POUND },

  // Time and rates
  { name: 's', aliases: ['sec'], dimension: TIME, scale: 1, description: 'second', source: SI },
  { name: 'ms', dimension: TIME, scale: 1e-3, description: 'millisecond', source: SI },
  { name: 'us', aliases: ['µs'], dimension: TIME, scale: 1e-6, description: 'microsecond', source: SI },
  { name: 'min', dimension: TIME, scale: 60, description: 'minute', source: ACCEPTED },
  { name: 'h', dimension: TIME, scale: 3600, description: 'hour', source: ACCEPTED },
  { name: 'Hz', dimension: FREQUENCY, scale: 1, description: 'hertz', source: SI },
  { name: 'kHz', dimension: FREQUENCY, scale: 1e3, description: 'kilohertz', source: SI },
  { name: 'MHz', dimension: FREQUENCY, scale: 1e6, description: 'megahertz', source: SI },
  {
    name: 'C',
    dimension: FREQUENCY,
    scale: 1 / 3600,
    description: "a pack's rate: its capacity for each hour, so that 75C of 480 mAh is 36 A",
    source: 'IEC 61960-3: reference test current',
  },

  // Angle and rotation
  { name: 'rad', dimension: ANGLE, scale: 1, description: 'radian', source: SI },
  {
    name: 'deg',
    aliases: ['°'],
    dimension: ANGLE,
    scale: TURN / 360,
    description: 'degree of angle',
    source: ACCEPTED,
  },
  { name: 'turn', aliases: ['rev'], dimension: ANGLE, scale: TURN, description: 'one turn', source: DEFINITION },
  { name: 'rpm', dimension: ROTATIONAL_SPEED, scale: TURN / 60, description: 'turns per minute', source: DEFINITION },
  { name: 'rps', dimension: ROTATIONAL_SPEED, scale: TURN, description: 'turns per second', source: DEFINITION },

  // Speed
  { name: 'kph', dimension: SPEED, scale: 1 / 3.6, description: 'kilometres per hour', source: DEFINITION },
  {
    name: 'mph',
    dimension: SPEED,
    scale: (5280 * 12 * INCH) / 3600,
    description: 'miles per hour',
    source: YARD_POUND,
  },
  {
    name: 'kn',
    aliases: ['kt'],
    dimension: SPEED,
    scale: NAUTICAL_MILE / 3600,
    description: 'knot',
    source: 'NIST SP 811 (2008), appendix B: nautical mile 1852 m, exact',
  },

  // Force, energy, power, pressure
  { name: 'N', dimension: FORCE, scale: 1, description: 'newton', source: SI },
  { name: 'mN', dimension: FORCE, scale: 1e-3, description: 'millinewton', source: SI },
  {
    name: 'gf',
    dimension: FORCE,
    scale: GRAVITY / 1000,
    description: 'gram-force: the weight of a gram',
    source: STANDARD_GRAVITY,
  },
  { name: 'kgf', dimension: FORCE, scale: GRAVITY, description: 'kilogram-force', source: STANDARD_GRAVITY },
  { name: 'ozf', dimension: FORCE, scale: (GRAVITY * POUND) / 16, description: 'ounce-force', source: YARD_POUND },
  { name: 'lbf', dimension: FORCE, scale: GRAVITY * POUND, description: 'pound-force', source: YARD_POUND },
  { name: 'J', dimension: TORQUE, scale: 1, description: 'joule', source: SI },
  { name: 'kJ', dimension: TORQUE, scale: 1e3, description: 'kilojoule', source: SI },
  { name: 'Wh', dimension: TORQUE, scale: 3600, description: 'watt-hour', source: ACCEPTED },
  { name: 'mWh', dimension: TORQUE, scale: 3.6, description: 'milliwatt-hour', source: ACCEPTED },
  { name: 'W', dimension: POWER, scale: 1, description: 'watt', source: SI },
  { name: 'mW', dimension: POWER, scale: 1e-3, description: 'milliwatt', source: SI },
  { name: 'kW', dimension: POWER, scale: 1e3, description: 'kilowatt', source: SI },
  { name: 'Pa', dimension: PRESSURE, scale: 1, description: 'pascal', source: SI },
  { name: 'hPa', aliases: ['mbar'], dimension: PRESSURE, scale: 100, description: 'hectopascal', source: SI },
  { name: 'kPa', dimension: PRESSURE, scale: 1e3, description: 'kilopascal', source: SI },
  {
    name: 'gf/W',
    aliases: ['g/W'],
    dimension: THRUST_PER_POWER,
    scale: GRAVITY / 1000,
    alone: true,
    description: 'grams of thrust per watt (the trade writes g/W and means grams-force)',
    source: STANDARD_GRAVITY,
  },

  // Electricity
  { name: 'V', dimension: VOLTAGE, scale: 1, description: 'volt', source: SI },
  { name: 'mV', dimension: VOLTAGE, scale: 1e-3, description: 'millivolt', source: SI },
  { name: 'kV', dimension: VOLTAGE, scale: 1e3, description: 'kilovolt', source: SI },
  { name: 'A', dimension: CURRENT, scale: 1, description: 'ampere', source: SI },
  { name: 'mA', dimension: CURRENT, scale: 1e-3, description: 'milliampere', source: SI },
  { name: 'uA', aliases: ['µA'], dimension: CURRENT, scale: 1e-6, description: 'microampere', source: SI },
  { name: 'Ah', dimension: CHARGE, scale: 3600, description: 'ampere-hour', source: ACCEPTED },
  { name: 'mAh', dimension: CHARGE, scale: 3.6, description: 'milliampere-hour', source: ACCEPTED },
  { name: 'ohm', aliases: ['Ω', 'ohms'], dimension: RESISTANCE, scale: 1, description: 'ohm', source: SI },
  { name: 'mohm', aliases: ['mΩ', 'mohms'], dimension: RESISTANCE, scale: 1e-3, description: 'milliohm', source: SI },
  {
    name: 'uohm',
    aliases: ['µΩ', 'uΩ', 'µohm'],
    dimension: RESISTANCE,
    scale: 1e-6,
    description: 'microohm',
    source: SI,
  },
  { name: 'H', dimension: INDUCTANCE, scale: 1, description: 'henry', source: SI },
  { name: 'mH', dimension: INDUCTANCE, scale: 1e-3, description: 'millihenry', source: SI },
  { name: 'uH', aliases: ['µH'], dimension: INDUCTANCE, scale: 1e-6, description: 'microhenry', source: SI },
  { name: 'uF', aliases: ['µF'], dimension: CAPACITANCE, scale: 1e-6, description: 'microfarad', source: SI },
  { name: 'mF', dimension: CAPACITANCE, scale: 1e-3, description: 'millifarad', source: SI },

  // Temperature
  { name: 'K', dimension: TEMPERATURE, scale: 1, description: 'kelvin', source: SI },
  {
    name: 'degC',
    aliases: ['°C', '℃'],
    dimension: TEMPERATURE_POINT,
    scale: 1,
    offset: 273.15,
    description: 'degree Celsius',
    source: SI,
  },
  {
    name: 'degF',
    aliases: ['°F', '℉'],
    dimension: TEMPERATURE_POINT,
    scale: 5 / 9,
    offset: 273.15 - (32 * 5) / 9,
    description: 'degree Fahrenheit',
    source: 'NIST SP 811 (2008), appendix B, exact',
  },

  // Counts and shares
  { name: '%', dimension: NONE, scale: 0.01, description: 'a hundredth', source: SI },
  { name: 'S', dimension: NONE, scale: 1, description: 'cells in series', source: DEFINITION },
  { name: 'P', dimension: NONE, scale: 1, description: 'cells in parallel', source: DEFINITION },
  {
    name: 'cell',
    aliases: ['cells'],
    dimension: NONE,
    scale: 1,
    description: 'per cell, as in V/cell',
    source: DEFINITION,
  },
];

/** The gauge is no multiple of anything: its area falls by a constant ratio from number to number. */
export const GAUGE = {
  name: 'AWG',
  description: 'American wire gauge; counts as the area of its copper',
  source: 'ASTM B258: diameter 0.127 mm · 92^((36 − n)/39)',
  diameterAt36: 0.127e-3,
  ratio: 92,
  numberAtReference: 36,
  steps: 39,
} as const;

/** Compounds people write often: offered by completion, and the nearest name is looked for among them too. */
export const COMPOUNDS: readonly string[] = [
  'rpm/V',
  'rad/s',
  'deg/s',
  'm/s',
  'km/h',
  'm/s^2',
  'mm^2',
  'cm^2',
  'm^2',
  'cm^3',
  'N*m',
  'mN*m',
  'N/mm',
  'N/m',
  'K/W',
  'V/cell',
  'mohm/m',
  'Wh/kg',
  'mAh/g',
  'kg/m^2',
  'kg/m^3',
  's/g',
];

/** Spellings that no comparison of letters would lead to the unit meant. */
export const HABITS: Readonly<Record<string, string>> = {
  KV: 'rpm/V',
  Kv: 'rpm/V',
  '"': 'in',
  '″': 'in',
  '”': 'in',
  amp: 'A',
  amps: 'A',
  volt: 'V',
  volts: 'V',
  watt: 'W',
  watts: 'W',
  gram: 'g',
  grams: 'g',
  gr: 'g',
  sq: 'mm^2',
  sqmm: 'mm^2',
  mmsq: 'mm^2',
  minute: 'min',
  minutes: 'min',
  mins: 'min',
  second: 's',
  seconds: 's',
  hour: 'h',
  hours: 'h',
  percent: '%',
  degrees: 'deg',
  celsius: 'degC',
  R: 'ohm',
  mR: 'mohm',
  ga: 'AWG',
  gauge: 'AWG',
  kmh: 'km/h',
  mps: 'm/s',
  sqcm: 'cm^2',
};

/** Signs of currencies; `$` alone is taken as the United States dollar. */
export const CURRENCY_SIGNS: Readonly<Record<string, string>> = {
  '€': 'EUR',
  '£': 'GBP',
  $: 'USD',
  '¥': 'JPY',
};

/**
 * ISO 4217 codes in circulation (list one, from memory). The Aruban florin is left out: its code is AWG, which here is the wire gauge.
 */
export const CURRENCIES: readonly string[] = (
  'AED AFN ALL AMD ANG AOA ARS AUD AZN BAM BBD BDT BGN BHD BIF BMD BND BOB BRL BSD BTN BWP BYN BZD CAD CDF CHF CLP CNY COP CRC CUP CVE ' +
  'CZK DJF DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GNF GTQ GYD HKD HNL HTG HUF IDR ILS INR IQD IRR ISK JMD JOD JPY KES ' +
  'KGS KHR KMF KPW KRW KWD KYD KZT LAK LBP LKR LRD LSL LYD MAD MDL MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MYR MZN NAD NGN NIO NOK NPR ' +
  'NZD OMR PAB PEN PGK PHP PKR PLN PYG QAR RON RSD RUB RWF SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TND ' +
  'TOP TRY TTD TWD TZS UAH UGX USD UYU UZS VES VND VUV WST XAF XCD XOF XPF YER ZAR ZMW ZWG'
).split(' ');
