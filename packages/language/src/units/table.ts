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
  readonly says: string;
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
  { name: 'g', dimension: MASS, scale: 1e-3, says: 'gram', source: SI },
  { name: 'mg', dimension: MASS, scale: 1e-6, says: 'milligram', source: SI },
  { name: 'kg', dimension: MASS, scale: 1, says: 'kilogram', source: SI },
  { name: 'oz', dimension: MASS, scale: POUND / 16, says: 'ounce', source: YARD_POUND },
  { name: 'lb', aliases: ['lbs'], dimension: MASS, scale: POUND, says: 'pound', source: YARD_POUND },

  // Length
  { name: 'mm', dimension: LENGTH, scale: 1e-3, says: 'millimetre', source: SI },
  { name: 'cm', dimension: LENGTH, scale: 1e-2, says: 'centimetre', source: SI },
  { name: 'm', dimension: LENGTH, scale: 1, says: 'metre', source: SI },
  { name: 'km', dimension: LENGTH, scale: 1e3, says: 'kilometre', source: SI },
  { name: 'um', aliases: ['µm'], dimension: LENGTH, scale: 1e-6, says: 'micrometre', source: SI },
  { name: 'in', aliases: ['inch'], dimension: LENGTH, scale: INCH, says: 'inch', source: YARD_POUND },
  { name: 'ft', dimension: LENGTH, scale: 12 * INCH, says: 'foot', source: YARD_POUND },

  // Time and rates
  { name: 's', aliases: ['sec'], dimension: TIME, scale: 1, says: 'second', source: SI },
  { name: 'ms', dimension: TIME, scale: 1e-3, says: 'millisecond', source: SI },
  { name: 'us', aliases: ['µs'], dimension: TIME, scale: 1e-6, says: 'microsecond', source: SI },
  { name: 'min', dimension: TIME, scale: 60, says: 'minute', source: ACCEPTED },
  { name: 'h', dimension: TIME, scale: 3600, says: 'hour', source: ACCEPTED },
  { name: 'Hz', dimension: FREQUENCY, scale: 1, says: 'hertz', source: SI },
  { name: 'kHz', dimension: FREQUENCY, scale: 1e3, says: 'kilohertz', source: SI },
  { name: 'MHz', dimension: FREQUENCY, scale: 1e6, says: 'megahertz', source: SI },
  {
    name: 'C',
    dimension: FREQUENCY,
    scale: 1 / 3600,
    says: "a pack's rate: its capacity for each hour, so that 75C of 480 mAh is 36 A",
    source: 'IEC 61960-3: reference test current',
  },

  // Angle and rotation
  { name: 'rad', dimension: ANGLE, scale: 1, says: 'radian', source: SI },
  { name: 'deg', aliases: ['°'], dimension: ANGLE, scale: TURN / 360, says: 'degree of angle', source: ACCEPTED },
  { name: 'turn', aliases: ['rev'], dimension: ANGLE, scale: TURN, says: 'one turn', source: DEFINITION },
  { name: 'rpm', dimension: ROTATIONAL_SPEED, scale: TURN / 60, says: 'turns per minute', source: DEFINITION },
  { name: 'rps', dimension: ROTATIONAL_SPEED, scale: TURN, says: 'turns per second', source: DEFINITION },

  // Speed
  { name: 'kph', dimension: SPEED, scale: 1 / 3.6, says: 'kilometres per hour', source: DEFINITION },
  { name: 'mph', dimension: SPEED, scale: (5280 * 12 * INCH) / 3600, says: 'miles per hour', source: YARD_POUND },
  {
    name: 'kn',
    aliases: ['kt'],
    dimension: SPEED,
    scale: NAUTICAL_MILE / 3600,
    says: 'knot',
    source: 'NIST SP 811 (2008), appendix B: nautical mile 1852 m, exact',
  },

  // Force, energy, power, pressure
  { name: 'N', dimension: FORCE, scale: 1, says: 'newton', source: SI },
  { name: 'mN', dimension: FORCE, scale: 1e-3, says: 'millinewton', source: SI },
  {
    name: 'gf',
    dimension: FORCE,
    scale: GRAVITY / 1000,
    says: 'gram-force: the weight of a gram',
    source: STANDARD_GRAVITY,
  },
  { name: 'kgf', dimension: FORCE, scale: GRAVITY, says: 'kilogram-force', source: STANDARD_GRAVITY },
  { name: 'ozf', dimension: FORCE, scale: (GRAVITY * POUND) / 16, says: 'ounce-force', source: YARD_POUND },
  { name: 'lbf', dimension: FORCE, scale: GRAVITY * POUND, says: 'pound-force', source: YARD_POUND },
  { name: 'J', dimension: TORQUE, scale: 1, says: 'joule', source: SI },
  { name: 'kJ', dimension: TORQUE, scale: 1e3, says: 'kilojoule', source: SI },
  { name: 'Wh', dimension: TORQUE, scale: 3600, says: 'watt-hour', source: ACCEPTED },
  { name: 'mWh', dimension: TORQUE, scale: 3.6, says: 'milliwatt-hour', source: ACCEPTED },
  { name: 'W', dimension: POWER, scale: 1, says: 'watt', source: SI },
  { name: 'mW', dimension: POWER, scale: 1e-3, says: 'milliwatt', source: SI },
  { name: 'kW', dimension: POWER, scale: 1e3, says: 'kilowatt', source: SI },
  { name: 'Pa', dimension: PRESSURE, scale: 1, says: 'pascal', source: SI },
  { name: 'hPa', aliases: ['mbar'], dimension: PRESSURE, scale: 100, says: 'hectopascal', source: SI },
  { name: 'kPa', dimension: PRESSURE, scale: 1e3, says: 'kilopascal', source: SI },
  {
    name: 'gf/W',
    aliases: ['g/W'],
    dimension: THRUST_PER_POWER,
    scale: GRAVITY / 1000,
    alone: true,
    says: 'grams of thrust per watt (the trade writes g/W and means grams-force)',
    source: STANDARD_GRAVITY,
  },

  // Electricity
  { name: 'V', dimension: VOLTAGE, scale: 1, says: 'volt', source: SI },
  { name: 'mV', dimension: VOLTAGE, scale: 1e-3, says: 'millivolt', source: SI },
  { name: 'kV', dimension: VOLTAGE, scale: 1e3, says: 'kilovolt', source: SI },
  { name: 'A', dimension: CURRENT, scale: 1, says: 'ampere', source: SI },
  { name: 'mA', dimension: CURRENT, scale: 1e-3, says: 'milliampere', source: SI },
  { name: 'uA', aliases: ['µA'], dimension: CURRENT, scale: 1e-6, says: 'microampere', source: SI },
  { name: 'Ah', dimension: CHARGE, scale: 3600, says: 'ampere-hour', source: ACCEPTED },
  { name: 'mAh', dimension: CHARGE, scale: 3.6, says: 'milliampere-hour', source: ACCEPTED },
  { name: 'ohm', aliases: ['Ω', 'ohms'], dimension: RESISTANCE, scale: 1, says: 'ohm', source: SI },
  { name: 'mohm', aliases: ['mΩ', 'mohms'], dimension: RESISTANCE, scale: 1e-3, says: 'milliohm', source: SI },
  { name: 'uohm', aliases: ['µΩ', 'uΩ', 'µohm'], dimension: RESISTANCE, scale: 1e-6, says: 'microohm', source: SI },
  { name: 'H', dimension: INDUCTANCE, scale: 1, says: 'henry', source: SI },
  { name: 'mH', dimension: INDUCTANCE, scale: 1e-3, says: 'millihenry', source: SI },
  { name: 'uH', aliases: ['µH'], dimension: INDUCTANCE, scale: 1e-6, says: 'microhenry', source: SI },
  { name: 'uF', aliases: ['µF'], dimension: CAPACITANCE, scale: 1e-6, says: 'microfarad', source: SI },
  { name: 'mF', dimension: CAPACITANCE, scale: 1e-3, says: 'millifarad', source: SI },

  // Temperature
  { name: 'K', dimension: TEMPERATURE, scale: 1, says: 'kelvin', source: SI },
  {
    name: 'degC',
    aliases: ['°C', '℃'],
    dimension: TEMPERATURE_POINT,
    scale: 1,
    offset: 273.15,
    says: 'degree Celsius',
    source: SI,
  },
  {
    name: 'degF',
    aliases: ['°F', '℉'],
    dimension: TEMPERATURE_POINT,
    scale: 5 / 9,
    offset: 273.15 - (32 * 5) / 9,
    says: 'degree Fahrenheit',
    source: 'NIST SP 811 (2008), appendix B, exact',
  },

  // Counts and shares
  { name: '%', dimension: NONE, scale: 0.01, says: 'a hundredth', source: SI },
  { name: 'S', dimension: NONE, scale: 1, says: 'cells in series', source: DEFINITION },
  { name: 'P', dimension: NONE, scale: 1, says: 'cells in parallel', source: DEFINITION },
  { name: 'cell', aliases: ['cells'], dimension: NONE, scale: 1, says: 'per cell, as in V/cell', source: DEFINITION },
];

/** The gauge is no multiple of anything: its area falls by a constant ratio from number to number. */
export const GAUGE = {
  name: 'AWG',
  says: 'American wire gauge; counts as the area of its copper',
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
