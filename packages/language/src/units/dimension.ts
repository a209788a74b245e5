/** Named dimensions, their algebra, and how a sentence calls them. */
import type { Dimension } from './quantity.ts';

type Exponents = Partial<Omit<Dimension, 'point' | 'currency' | 'money'>>;

function dimension(exponents: Exponents): Dimension {
  return {
    length: 0,
    mass: 0,
    time: 0,
    current: 0,
    temperature: 0,
    angle: 0,
    currency: '',
    money: 0,
    point: false,
    ...exponents,
  };
}

/** Counts, shares and ratios. */
export const NONE = dimension({});

export const LENGTH = dimension({ length: 1 });
export const MASS = dimension({ mass: 1 });
export const TIME = dimension({ time: 1 });
export const CURRENT = dimension({ current: 1 });
/** A difference of temperatures, as in K/W. */
export const TEMPERATURE = dimension({ temperature: 1 });
/** A point on the temperature scale, as in 20 °C. */
export const TEMPERATURE_POINT: Dimension = { ...TEMPERATURE, point: true };
export const ANGLE = dimension({ angle: 1 });

export const AREA = power(LENGTH, 2);
const VOLUME = power(LENGTH, 3);
export const SPEED = divideDimension(LENGTH, TIME);
const ACCELERATION = divideDimension(SPEED, TIME);
export const FREQUENCY = power(TIME, -1);
export const ROTATIONAL_SPEED = divideDimension(ANGLE, TIME);
export const FORCE = multiplyDimension(MASS, ACCELERATION);
export const TORQUE = multiplyDimension(FORCE, LENGTH);
export const PRESSURE = divideDimension(FORCE, AREA);
export const STIFFNESS = divideDimension(FORCE, LENGTH);
const DENSITY = divideDimension(MASS, VOLUME);
export const SURFACE_DENSITY = divideDimension(MASS, AREA);
export const POWER = divideDimension(TORQUE, TIME);
export const CHARGE = multiplyDimension(CURRENT, TIME);
export const VOLTAGE = divideDimension(POWER, CURRENT);
export const RESISTANCE = divideDimension(VOLTAGE, CURRENT);
export const INDUCTANCE = multiplyDimension(RESISTANCE, TIME);
export const CAPACITANCE = divideDimension(CHARGE, VOLTAGE);
export const SPEED_PER_VOLT = divideDimension(ROTATIONAL_SPEED, VOLTAGE);
export const THRUST_PER_POWER = divideDimension(FORCE, POWER);
export const THERMAL_RESISTANCE = divideDimension(TEMPERATURE, POWER);
const SPECIFIC_ENERGY = divideDimension(TORQUE, MASS);
const RESISTANCE_PER_LENGTH = divideDimension(RESISTANCE, LENGTH);
export const TIME_PER_MASS = divideDimension(TIME, MASS);

/** Money in one currency (ISO 4217 code); sums of different currencies are never made. */
export function money(currency: string): Dimension {
  return { ...NONE, currency, money: 1 };
}

/** Product. A product with a temperature point is a difference from then on. */
export function multiplyDimension(left: Dimension, right: Dimension): Dimension {
  return combine(left, right, 1);
}

/** Quotient. A quotient with a temperature point is a difference from then on. */
export function divideDimension(left: Dimension, right: Dimension): Dimension {
  return combine(left, right, -1);
}

/** Whole powers only: the language writes no roots. */
export function power(base: Dimension, exponent: number): Dimension {
  const raised = base.money * exponent;
  return {
    length: base.length * exponent,
    mass: base.mass * exponent,
    time: base.time * exponent,
    current: base.current * exponent,
    temperature: base.temperature * exponent,
    angle: base.angle * exponent,
    currency: raised === 0 ? '' : base.currency,
    money: raised,
    point: exponent === 1 && base.point,
  };
}

export function equal(left: Dimension, right: Dimension): boolean {
  return sameExponents(left, right) && left.point === right.point;
}

/** Equal but for point against difference: 20 K is allowed where 20 °C may. */
export function alike(left: Dimension, right: Dimension): boolean {
  return sameExponents(left, right);
}

function sameExponents(left: Dimension, right: Dimension): boolean {
  return (
    left.length === right.length &&
    left.mass === right.mass &&
    left.time === right.time &&
    left.current === right.current &&
    left.temperature === right.temperature &&
    left.angle === right.angle &&
    left.currency === right.currency &&
    left.money === right.money
  );
}

function combine(left: Dimension, right: Dimension, sign: 1 | -1): Dimension {
  const sum = left.money + sign * right.money;
  return {
    length: left.length + sign * right.length,
    mass: left.mass + sign * right.mass,
    time: left.time + sign * right.time,
    current: left.current + sign * right.current,
    temperature: left.temperature + sign * right.temperature,
    angle: left.angle + sign * right.angle,
    currency: currencyOf(left, right, sum),
    money: sum,
    point: false,
  };
}

/** Currencies are not converted, so a mix of two keeps both codes and equals nothing else. */
function currencyOf(left: Dimension, right: Dimension, money: number): string {
  if (left.currency !== '' && right.currency !== '' && left.currency !== right.currency) {
    return [left.currency, right.currency].sort().join(' ');
  }
  const currency = left.currency || right.currency;
  return money === 0 && !currency.includes(' ') ? '' : currency;
}

const NAMES: readonly (readonly [Dimension, string])[] = [
  [NONE, 'a plain number'],
  [LENGTH, 'a length'],
  [MASS, 'a mass'],
  [TIME, 'a time'],
  [CURRENT, 'a current'],
  [TEMPERATURE, 'a temperature difference'],
  [TEMPERATURE_POINT, 'a temperature'],
  [ANGLE, 'an angle'],
  [AREA, 'an area'],
  [VOLUME, 'a volume'],
  [SPEED, 'a speed'],
  [ACCELERATION, 'an acceleration'],
  [FREQUENCY, 'a frequency or rate'],
  [ROTATIONAL_SPEED, 'a rotational speed'],
  [FORCE, 'a force'],
  // Energy has the same exponents: N·m and W·s are one dimension.
  [TORQUE, 'an energy or torque'],
  [PRESSURE, 'a pressure'],
  [STIFFNESS, 'a stiffness'],
  [DENSITY, 'a density'],
  [SURFACE_DENSITY, 'a mass for each area'],
  [POWER, 'a power'],
  [CHARGE, 'a charge'],
  [VOLTAGE, 'a voltage'],
  [RESISTANCE, 'a resistance'],
  [INDUCTANCE, 'an inductance'],
  [CAPACITANCE, 'a capacitance'],
  [SPEED_PER_VOLT, 'a rotational speed per volt'],
  [THRUST_PER_POWER, 'a thrust per watt'],
  [THERMAL_RESISTANCE, 'a temperature rise per watt'],
  [SPECIFIC_ENERGY, 'an energy for each mass'],
  [RESISTANCE_PER_LENGTH, 'a resistance for each length'],
  [TIME_PER_MASS, 'a time for each mass'],
];

/** What a sentence calls it: "a mass", "a voltage"; a product without a name in base units: "a quantity in kg*m/s^2". */
export function describe(of: Dimension): string {
  const named = NAMES.find(([candidate]) => equal(candidate, of));
  if (named) return named[1];
  if (alike(of, money(of.currency))) return `an amount of money (${of.currency})`;
  return `a quantity in ${baseUnits(of)}`;
}

function baseUnits(of: Dimension): string {
  const factors: readonly (readonly [string, number])[] = [
    [of.currency || 'money', of.money],
    ['kg', of.mass],
    ['m', of.length],
    ['rad', of.angle],
    ['A', of.current],
    ['K', of.temperature],
    ['s', of.time],
  ];
  const write = (name: string, exponent: number) => (exponent === 1 ? name : `${name}^${exponent}`);
  const above = factors.filter(([, exponent]) => exponent > 0).map(([name, exponent]) => write(name, exponent));
  const below = factors.filter(([, exponent]) => exponent < 0).map(([name, exponent]) => write(name, -exponent));
  return [above.join('*') || '1', ...below].join('/');
}
