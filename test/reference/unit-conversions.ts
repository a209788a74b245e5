/**
 * Conversions computed with GNU units 2.22 (12 digits); exact by definition where the digits end.
 * Unit texts are ours; the first column is one of the left, the third how many of the right that is.
 * Licence: ours; computed.
 */
export const CONVERSIONS: readonly (readonly [from: string, to: string, factor: number])[] = [
  ['oz', 'g', 28.349523125],
  ['lb', 'kg', 0.45359237],
  ['lbf', 'N', 4.44822161526],
  ['gf', 'N', 0.00980665],
  ['kgf', 'N', 9.80665],
  ['ozf', 'N', 0.278013850954],
  ['N', 'gf', 101.971621298],
  ['in', 'mm', 25.4],
  ['ft', 'm', 0.3048],
  ['mph', 'm/s', 0.44704],
  ['mph', 'km/h', 1.609344],
  ['kn', 'm/s', 0.514444444444],
  ['km/h', 'm/s', 0.277777777778],
  ['rpm', 'rad/s', 0.10471975512],
  ['rpm/V', 'rad/s/V', 0.10471975512],
  ['mAh', 'A*s', 3.6],
  ['Wh', 'J', 3600],
  ['mAh*V', 'Wh', 0.001],
  ['ozf*in', 'mN*m', 7.06155181423],
  ['lbf*in', 'N*m', 0.112984829028],
  ['gf*cm', 'mN*m', 0.0980665],
  ['kgf*m', 'N*m', 9.80665],
  ['lbf/in^2', 'Pa', 6894.75729317],
  ['lb/ft^3', 'kg/m^3', 16.018463374],
  ['oz/in^3', 'kg/m^3', 1729.99404439],
  ['deg', 'rad', 0.0174532925199],
  ['g/W', 'N/W', 0.00980665],
];

/** The same source; points on the scale. */
export const TEMPERATURES: readonly (readonly [value: number, from: string, kelvin: number])[] = [
  [25, 'degC', 298.15],
  [59, 'degF', 288.15],
  [-40, 'degC', 233.15],
  [-40, 'degF', 233.15],
];

/**
 * Solid copper wire, diameter in mm: ASTM B258 table 1, from memory; the formula is the standard's own, the table its rounding to
 * a tenth of a mil.
 */
export const GAUGE_DIAMETERS: readonly (readonly [gauge: number, millimetres: number])[] = [
  [10, 2.588],
  [12, 2.052],
  [14, 1.628],
  [16, 1.29],
  [18, 1.024],
  [20, 0.813],
  [22, 0.643],
  [24, 0.511],
  [26, 0.404],
  [28, 0.32],
  [30, 0.254],
];
