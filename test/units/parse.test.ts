import Qty from 'js-quantities';
import { describe, expect, it } from 'vitest';
import {
  alike,
  CHARGE,
  CURRENT,
  divideDimension,
  equal,
  describe as inWords,
  MASS,
  money,
  multiplyDimension,
  NONE,
  ROTATIONAL_SPEED,
  SPEED_PER_VOLT,
  TEMPERATURE,
  TEMPERATURE_POINT,
  VOLTAGE,
} from '../../packages/language/src/units/dimension.ts';
import { parseUnit, unitFor, unitNamed, unitsOf } from '../../packages/language/src/units/parse.ts';
import { COMPOUNDS, CURRENCIES, HABITS, UNITS } from '../../packages/language/src/units/table.ts';
import { below, record, worst } from '../agreement.ts';
import { CONVERSIONS, GAUGE_DIAMETERS, TEMPERATURES } from '../reference/unit-conversions.ts';

const convert = (from: string, to: string) => unitNamed(to).fromSI(unitNamed(from).toSI(1));
const relativeError = (value: number, expected: number) => Math.abs(value / expected - 1);

describe('conversions agree with GNU units', () => {
  it.each(CONVERSIONS)('%s in %s', (from, to, factor) => {
    expect(alike(unitNamed(from).dimension, unitNamed(to).dimension)).toBe(true);
    expect(relativeError(convert(from, to), factor)).toBeLessThan(5e-12);
  });

  it('agreement with GNU units', () => {
    record({
      id: 'units',
      check: `${CONVERSIONS.length} conversions between units`,
      source: 'GNU units 2.22; every unit once more against js-quantities',
      standing: 'computed',
      suite: 'test/units/parse.test.ts',
      found: `largest relative difference ${below(worst(CONVERSIONS.map(([from, to, factor]) => convert(from, to) / factor - 1)))}`,
    });
  });

  it.each(TEMPERATURES)('%d %s', (value, from, kelvin) => {
    expect(unitNamed(from).toSI(value)).toBeCloseTo(kelvin, 10);
    expect(unitNamed(from).fromSI(kelvin)).toBeCloseTo(value, 10);
  });
});

describe('every unit agrees with js-quantities', () => {
  /** Names that differ there. Absent: not known there (currencies, C, S, P) or taken apart (gf/W). */
  const theirs: Record<string, string> = {
    um: 'um',
    in: 'in',
    ft: 'ft',
    oz: 'oz',
    lb: 'lb',
    deg: 'deg',
    turn: 'rotation',
    rps: 'rotation/s',
    rpm: 'rpm',
    kph: 'kph',
    kn: 'knot',
    gf: 'gee*g',
    kgf: 'gee*kg',
    ozf: 'gee*oz',
    lbf: 'lbf',
    Wh: 'W*h',
    mWh: 'mW*h',
    Ah: 'A*h',
    mAh: 'mA*h',
    uohm: 'uohm',
    K: 'tempK',
    degC: 'tempC',
    degF: 'tempF',
    hPa: 'hPa',
    'gf/W': 'gee*g/W',
    '%': '%',
    ms: 'ms',
    us: 'us',
  };
  const unknownThere = new Set(['C', 'S', 'P', 'cell', 'K', 'degC', 'degF']);
  const siOf = (text: string) => Qty(1, text).toBase();

  it.each(UNITS.filter((unit) => !unknownThere.has(unit.name)).map((unit) => unit.name))('%s', (name) => {
    const quantity = siOf(theirs[name] ?? name);
    expect(relativeError(unitNamed(name).toSI(1), quantity.scalar)).toBeLessThan(1e-6);
  });
});

describe('wire gauge', () => {
  it.each(GAUGE_DIAMETERS)('%d AWG is %d mm thick', (gauge, millimetres) => {
    const area = unitNamed('AWG').toSI(gauge);
    expect(Math.sqrt((4 / Math.PI) * area) * 1000).toBeCloseTo(millimetres, 2);
    expect(unitNamed('AWG').fromSI(area)).toBeCloseTo(gauge, 9);
  });
});

describe('what people write', () => {
  it.each([
    ['µm', 'um'],
    ['\u03bcm', 'um'],
    ['mΩ', 'mohm'],
    ['m\u2126', 'mohm'],
    ['°C', 'degC'],
    ['cm²', 'cm^2'],
    ['mm³', 'mm^3'],
    ['N·m', 'N*m'],
    ['€', 'EUR'],
    ['£', 'GBP'],
    ['$', 'USD'],
    ['¥/g', 'JPY/g'],
    ['€/Wh', 'EUR/Wh'],
    ['Wh/£', 'Wh/GBP'],
    ['g*$', 'g*USD'],
    ['K/℃', 'K/degC'],
    ['g/W', 'gf/W'],
    ['m/s²', 'm/s^2'],
  ])('%s is %s', (written, name) => {
    expect(parseUnit(written).unit?.name).toBe(name);
  });

  it.each([
    ['mah', 'mAh'],
    ['MAH', 'mAh'],
    ['rpm/v', 'rpm/V'],
    ['c', 'C'],
    ['Mohm', 'mohm'],
    ['KV', 'rpm/V'],
    ['mW/', 'mW'],
    ['amps', 'A'],
    ['grams', 'g'],
    ['sqmm', 'mm^2'],
    ['v/cell', 'V/cell'],
    ['wh/KG', 'Wh/kg'],
    ['awg', 'AWG'],
    ['hz', 'Hz'],
    ['k/w', 'K/W'],
    ['mAh/cM', 'mAh/cm'],
  ])('%s: did you mean %s?', (written, meant) => {
    const parsed = parseUnit(written);
    expect(parsed.problem).toBe('unknown');
    expect(parsed.problem === 'unknown' && parsed.suggestions[0]).toBe(meant);
  });

  it.each([
    'kohm',
    'Mohm',
    'µg',
    'rpm/',
    '/V',
    'm^',
    'm^0',
    'm^12',
    'gf/W/s*',
    'AWG*m',
    'x'.repeat(10_000),
    '',
    'constructor',
    '__proto__',
  ])('%s is no unit', (text) => expect(parseUnit(text).unit).toBeUndefined());

  it('reads compounds from left to right', () => {
    expect(
      alike(unitNamed('W/m/K').dimension, divideDimension(unitNamed('W').dimension, unitNamed('m*K').dimension)),
    ).toBe(true);
  });

  it('keeps each habit out of the table and pointing into it', () => {
    for (const [habit, meant] of Object.entries(HABITS)) {
      expect(parseUnit(habit).unit, habit).toBeUndefined();
      expect(parseUnit(meant).unit, meant).toBeDefined();
    }
  });

  it('has no name twice', () => {
    const names = UNITS.flatMap((unit) => [unit.name, ...(unit.aliases ?? [])]).concat(CURRENCIES, 'AWG');
    expect(new Set(names).size).toBe(names.length);
  });

  it('offers compounds that exist', () => {
    for (const compound of COMPOUNDS) expect(parseUnit(compound).unit?.name).toBe(compound);
    expect(unitsOf(MASS)).toEqual(['g', 'mg', 'kg', 'oz', 'lb']);
    expect(unitsOf(SPEED_PER_VOLT)).toEqual(['rpm/V']);
  });
});

describe('dimensions', () => {
  it('computes a current from a pack rate and a capacity', () => {
    const current = multiplyDimension(unitNamed('C').dimension, CHARGE);
    expect(equal(current, CURRENT)).toBe(true);
    expect(unitNamed('C').toSI(75) * unitNamed('mAh').toSI(480)).toBeCloseTo(36, 12);
  });

  it('does not let hertz pass for a rotational speed', () => {
    expect(alike(unitNamed('Hz').dimension, ROTATIONAL_SPEED)).toBe(false);
    expect(alike(unitNamed('rps').dimension, ROTATIONAL_SPEED)).toBe(true);
  });

  it('counts volts per cell as volts', () => {
    expect(equal(unitNamed('V/cell').dimension, VOLTAGE)).toBe(true);
  });

  it('distinguishes points on the temperature scale from differences', () => {
    const kelvin = unitNamed('K');
    const celsius = unitNamed('degC');
    expect(unitFor(kelvin, TEMPERATURE_POINT)?.toSI(300)).toBe(300);
    expect(unitFor(celsius, TEMPERATURE_POINT)?.toSI(20)).toBeCloseTo(293.15, 10);
    expect(unitFor(celsius, TEMPERATURE)?.toSI(20)).toBe(20);
    expect(unitNamed('K/W').toSI(14)).toBe(14);
    expect(alike(unitNamed('W/degC').dimension, unitNamed('W/K').dimension)).toBe(true);
    expect(unitNamed('W/degF').toSI(1)).toBeCloseTo(9 / 5, 12);
    expect(unitFor(celsius, MASS)).toBeUndefined();
  });

  it('never mixes currencies', () => {
    const euros = money('EUR');
    const dollars = money('USD');
    expect(equal(euros, dollars)).toBe(false);
    expect(equal(divideDimension(euros, euros), NONE)).toBe(true);
    expect(alike(divideDimension(euros, dollars), NONE)).toBe(false);
  });

  it('knows only codes of ISO 4217', () => {
    const known = new Set(Intl.supportedValuesOf('currency'));
    expect(CURRENCIES.filter((code) => !known.has(code))).toEqual([]);
  });

  it('calls them by name', () => {
    expect(inWords(MASS)).toBe('a mass');
    expect(inWords(unitNamed('rpm/V').dimension)).toBe('a rotational speed per volt');
    expect(inWords(unitNamed('EUR').dimension)).toBe('an amount of money (EUR)');
    expect(inWords(unitNamed('g*m').dimension)).toBe('a quantity in kg*m');
    expect(inWords(unitNamed('g/s^2/m').dimension)).toBe('a pressure');
    expect(inWords(unitNamed('g/s/EUR').dimension)).toBe('a quantity in kg/EUR/s');
  });
});
