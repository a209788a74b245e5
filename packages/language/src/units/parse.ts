/** From the text of a unit (`mohm`, `rpm/V`, `cm²`, `N·m`) to its dimension and its conversion. */
import { AREA, alike, divideDimension, equal, money, multiplyDimension, NONE, power } from './dimension.ts';
import { nearest } from './nearest.ts';
import type { Dimension } from './quantity.ts';
import { COMPOUNDS, CURRENCIES, CURRENCY_SIGNS, GAUGE, HABITS, UNITS, type UnitEntry } from './table.ts';

export interface Unit {
  /** ASCII, as the formatter writes it. */
  readonly name: string;
  readonly dimension: Dimension;
  /** SI units in one of these: for differences and half-widths. Absent for a wire gauge, which has no even steps. */
  readonly scale?: number;
  toSI(value: number): number;
  fromSI(value: number): number;
}

export type ParsedUnit =
  | { readonly unit: Unit; readonly problem?: undefined }
  | { readonly problem: 'unknown'; readonly suggestions: readonly string[]; readonly unit?: undefined };

function fromEntry(entry: UnitEntry): Unit {
  const offset = entry.offset ?? 0;
  return {
    name: entry.name,
    dimension: entry.dimension,
    scale: entry.scale,
    toSI: (value) => value * entry.scale + offset,
    fromSI: (value) => (value - offset) / entry.scale,
  };
}

function linear(name: string, dimension: Dimension, scale: number): Unit {
  return { name, dimension, scale, toSI: (value) => value * scale, fromSI: (value) => value / scale };
}

const WIRE_GAUGE: Unit = {
  name: GAUGE.name,
  dimension: AREA,
  toSI: (gauge) => {
    const diameter = GAUGE.diameterAt36 * GAUGE.ratio ** ((GAUGE.numberAtReference - gauge) / GAUGE.steps);
    return (Math.PI / 4) * diameter ** 2;
  },
  fromSI: (area) => {
    const diameter = Math.sqrt((4 / Math.PI) * area);
    return GAUGE.numberAtReference - (GAUGE.steps * Math.log(diameter / GAUGE.diameterAt36)) / Math.log(GAUGE.ratio);
  },
};

/** Units and aliases that are allowed in a compound. */
const factors = new Map<string, Unit>();
/** All single names, the ones above included. */
const singles = new Map<string, Unit>([[GAUGE.name, WIRE_GAUGE]]);
for (const entry of UNITS) {
  const unit = fromEntry(entry);
  for (const name of [entry.name, ...(entry.aliases ?? [])]) {
    singles.set(name, unit);
    if (!entry.alone) factors.set(name, unit);
  }
}
for (const code of CURRENCIES) {
  const unit = linear(code, money(code), 1);
  factors.set(code, unit);
  singles.set(code, unit);
}
for (const [sign, code] of Object.entries(CURRENCY_SIGNS)) {
  const unit = factors.get(code);
  if (!unit) continue;
  factors.set(sign, unit);
  singles.set(sign, unit);
}

/** The same letter at two code points: micro sign and mu, ohm sign and omega; and the typographic signs of a product and a fraction. */
const TWINS: readonly (readonly [RegExp, string])[] = [
  [/\u03bc/g, '\u00b5'],
  [/\u2126/g, '\u03a9'],
  [/[\u00b7\u22c5]/g, '*'],
  [/[\u2215\u2044]/g, '/'],
  [/\u00b2/g, '^2'],
  [/\u00b3/g, '^3'],
];

function normalise(text: string): string {
  return TWINS.reduce((result, [pattern, twin]) => result.replace(pattern, twin), text);
}

/** Longer than any unit: such text is no unit, and is not worth comparing with all of them. */
const LONGEST = 40;
const FACTOR = /^(.+?)(?:\^(-?[1-9]))?$/u;

const cache = new Map<string, ParsedUnit>();
/** A file can contain any number of different wrong texts; the cache keeps only this many. */
const CACHE_SIZE = 2000;

/**
 * Looks a unit up. A compound is read from left to right: `W/m/K` is W/(m·K), `W/m*K` is (W/m)·K.
 * Degrees in a compound are differences. Unknown text comes with the nearest names, best first, perhaps none.
 */
export function parseUnit(text: string): ParsedUnit {
  const known = cache.get(text);
  if (known) return known;
  const unit = text.length <= LONGEST ? lookUp(normalise(text)) : undefined;
  const parsed: ParsedUnit = unit ? { unit } : { problem: 'unknown', suggestions: suggest(text) };
  if (cache.size >= CACHE_SIZE) cache.clear();
  cache.set(text, parsed);
  return parsed;
}

/** A unit the program itself names. Throws when the name is not in the table: a mistake in the program, not in a file. */
export function unitNamed(name: string): Unit {
  const { unit } = parseUnit(name);
  if (!unit) throw new RangeError(`no such unit: ${name}`);
  return unit;
}

/**
 * The unit as it counts where `expected` is wanted: kelvins may be given for a point on the scale, degrees for a difference
 * (`+- 1 degC`). Undefined when the dimensions differ.
 */
export function unitFor(unit: Unit, expected: Dimension): Unit | undefined {
  if (equal(unit.dimension, expected)) return unit;
  if (!alike(unit.dimension, expected) || unit.scale === undefined) return undefined;
  return linear(unit.name, expected, unit.scale);
}

function lookUp(text: string): Unit | undefined {
  const single = singles.get(text);
  if (single) return single;
  const parts = text.split(/([/*])/);
  let dimension = NONE;
  let scale = 1;
  let name = '';
  for (let index = 0; index < parts.length; index += 2) {
    const sign = parts[index - 1];
    const factor = lookUpFactor(parts[index] ?? '');
    if (!factor) return undefined;
    dimension =
      sign === '/' ? divideDimension(dimension, factor.dimension) : multiplyDimension(dimension, factor.dimension);
    scale = sign === '/' ? scale / factor.scale : scale * factor.scale;
    name += (sign ?? '') + factor.name;
  }
  return linear(name, dimension, scale);
}

function lookUpFactor(text: string): { name: string; dimension: Dimension; scale: number } | undefined {
  const [, base, exponentText] = FACTOR.exec(text) ?? [];
  const unit = factors.get(base ?? '');
  if (!unit || unit.scale === undefined) return undefined;
  if (exponentText === undefined) return { name: unit.name, dimension: unit.dimension, scale: unit.scale };
  const exponent = Number(exponentText);
  return {
    name: `${unit.name}^${exponentText}`,
    dimension: power(unit.dimension, exponent),
    scale: unit.scale ** exponent,
  };
}

/** As a map: `constructor` is no habit. */
const habits = new Map(Object.entries(HABITS));
const suggestible = [...UNITS.map((entry) => entry.name), GAUGE.name, ...COMPOUNDS];

function suggest(text: string): string[] {
  if (text.length > LONGEST) return [];
  // A compound whose second half is still to be typed.
  const whole = normalise(text).replace(/[/*]+$/, '');
  if (whole !== normalise(text) && lookUp(whole)) return [whole];
  const habit = habits.get(text) ?? habits.get(text.toLowerCase());
  const candidates = [habit, suggestByFactor(whole), ...nearest(whole, suggestible)];
  return [...new Set(candidates)].filter((name) => name !== undefined).slice(0, 3);
}

/** `mah/G` → `mAh/g`: each factor's nearest name, when every one has one. */
function suggestByFactor(text: string): string | undefined {
  if (!/[/*]/.test(text)) return undefined;
  let whole = '';
  for (const part of text.split(/([/*])/)) {
    const known = part === '/' || part === '*' || lookUpFactor(part) !== undefined;
    const replacement = known ? part : nearest(part, factors.keys(), 1)[0];
    if (replacement === undefined) return undefined;
    whole += replacement;
  }
  return whole === text ? undefined : lookUp(whole)?.name;
}

/** Names of the units that measure a dimension, for completion: the common ones, in the table's order. */
export function unitsOf(dimension: Dimension): string[] {
  return suggestible.filter((name) => alike(unitNamed(name).dimension, dimension));
}

/** Volts per cell are no volts of a pack, and a discharge rate is no frequency, though both have the same dimension. */
const OF_ONE_SORT = /^C$|\/cell$/;

/** Units in which the same quantity may be written: of volts those of a pack, of a discharge rate none. */
export const otherUnitsOf = ({ name, dimension }: Unit): string[] =>
  OF_ONE_SORT.test(name) ? [] : unitsOf(dimension).filter((other) => other !== name && !OF_ONE_SORT.test(other));
