/** Checks of one written amount: its number, its unit, its dimension, and whether it can be meant. */

import type { AstNode } from 'langium';
import { readAmount, smallerUnit } from '../../model/amounts.ts';
import { type Bounds, isBeyondUse, isPlausible, leastCount, unitsThatFit } from '../../model/plausible.ts';
import type { Place } from '../../syntax/place.ts';
import type { Problem, ProblemFix } from '../../syntax/problem.ts';
import { endOf, placeOfFeature, span } from '../../syntax/source.ts';
import { isCount, numberOf } from '../../syntax/written-number.ts';
import { alike, describe, equal, NONE } from '../../units/dimension.ts';
import { parseUnit } from '../../units/parse.ts';
import { formatValue, gapBefore, plainNumber } from '../../units/print.ts';
import type { Dimension } from '../../units/quantity.ts';
import { didYouMean, either } from '../../vocabulary/phrasing.ts';
import { problem, replace, rewrite } from './problem-words.ts';

/** What is allowed here. */
export interface Expected extends Bounds {
  /** What the value is of: `resistance`, or what comes after a clause word. */
  readonly of: string;
  readonly mistaken?: Readonly<Record<string, string>>;
  /** A unit without a dimension that must be written all the same: `%`, `S`. */
  readonly insists?: string;
  /** Somebody measured it. */
  readonly isMeasured?: boolean;
}

export interface NumberNode extends AstNode {
  readonly number: string;
  readonly unit?: string;
  readonly negative?: boolean;
}

/** At most one problem: the first that would have to be put right. */
export function amountProblem(first: NumberNode, more: readonly NumberNode[], expected: Expected): Problem | undefined {
  const numbers: (string | undefined)[] = [first, ...more].map(({ number }) => number);
  // A sign without its number: the parser has reported it.
  if (numbers.includes(undefined)) return undefined;
  const huge = [first, ...more].find(({ number }) => !Number.isFinite(Number(number)));
  if (huge) return problem('implausible-value', `${huge.number} is too large for any number here`, wholeOf(huge));
  const broken = spacedNumber(first, more) ?? strayAmount(first, more);
  if (broken) return broken;
  const amounts = [first, ...more];
  for (const amount of amounts) {
    const wanted = amount === first ? expected : { ...expected, units: smallerUnits(first, expected) };
    const found =
      amount.unit === undefined
        ? missingUnit(amount, wanted)
        : unitProblem({ ...spelt(amount), unit: amount.unit }, placeOfFeature(amount, 'unit'), wanted);
    if (found) return found;
  }
  const fraction = wholeProblem(first, expected);
  if (fraction) return fraction;
  const whole = readAmount(first, more, expected.dimensions[0]);
  if (!whole)
    return problem('wrong-dimension', 'these amounts do not add up: they are of different sorts', allOf(first, more));
  return implausible(first, more, whole.value, whole.dimension, expected);
}

/** How many there are of something is a whole number. */
export function wholeProblem(amount: NumberNode, expected: Expected): Problem | undefined {
  if (!expected.whole || isCount(amount, leastCount(expected))) return undefined;
  return problem('number-form', `${expected.of} is a whole number, at least ${leastCount(expected)}`, wholeOf(amount));
}

/** `11 000 rpm/V`: the parser sees two amounts, the first without a unit. */
function spacedNumber(first: NumberNode, more: readonly NumberNode[]): Problem | undefined {
  const groups = [first, ...more];
  const isGrouped =
    more.length > 0 &&
    groups.slice(0, -1).every((amount) => amount.unit === undefined) &&
    more.every((amount) => /^\d{3}(\.\d+)?$/.test(amount.number));
  if (!isGrouped) return undefined;
  const joined = groups.map((amount) => amount.number).join('');
  const last = more.at(-1) ?? first;
  const place = span(placeOfFeature(first, 'number'), placeOfFeature(last, 'number'));
  return problem('number-form', `a number has no spaces inside: ${joined}`, place, [rewrite(place, joined)]);
}

/** An amount that cannot belong to the one before: on the next line, or of a unit that nobody splits. */
function strayAmount(first: NumberNode, more: readonly NumberNode[]): Problem | undefined {
  const nextLine = more.find((amount) => rowOf(amount) !== rowOf(first));
  if (nextLine) {
    const description = 'a line begins with a word and a colon: what is this number?';
    return problem('syntax', description, wholeOf(nextLine));
  }
  const [second] = more;
  if (!second || first.unit === undefined || smallerUnit(first.unit) !== undefined) return undefined;
  return problem('number-form', `one number is enough: what is ${second.number}?`, wholeOf(second));
}

function rowOf(node: AstNode): number | undefined {
  return node.$cstNode?.range.start.line;
}

/** Any quantity whose unit exists: what it is compared with is known elsewhere. */
export function anyQuantity(of: string, { unit }: NumberNode): Expected {
  if (unit === undefined) return { of, dimensions: [NONE], units: [] };
  const parsed = parseUnit(unit);
  if (parsed.unit) return { of, dimensions: [parsed.unit.dimension], units: [unit] };
  const [suggested] = parsed.suggestions;
  const meant = suggested === undefined ? undefined : parseUnit(suggested).unit;
  return { of, dimensions: [meant?.dimension ?? NONE], units: [] };
}

/** A number and a unit, apart from where they are. */
interface Spelt {
  readonly number: string;
  readonly negative?: boolean;
}

function spelt({ number, negative }: NumberNode): Spelt {
  return { number, negative: negative ?? false };
}

/** `place`: the unit's. */
export function unitProblem(
  amount: Spelt & { readonly unit: string },
  place: Place,
  expected: Expected,
): Problem | undefined {
  const parsed = parseUnit(amount.unit);
  if (parsed.problem) return unknownUnit(amount, place, parsed.suggestions, expected);
  const { unit } = parsed;
  const meant = expected.mistaken?.[amount.unit];
  const fits = expected.dimensions.some((dimension) => fitsDimension(unit.dimension, dimension));
  if (fits && (expected.insists === undefined || amount.unit === expected.insists)) {
    return expected.units.length === 0 ? wrongDimension(amount, place, unit.dimension, expected) : undefined;
  }
  if (meant !== undefined && isNamedAlike(amount.unit, expected)) {
    const description = `${amount.unit} is ${describe(unit.dimension)}; ${expected.of} is ${nameOf(expected)}: write ${meant}`;
    return problem('wrong-dimension', description, place, [replace(place, meant)]);
  }
  return wrongDimension(amount, place, unit.dimension, expected);
}

/** `kV` behind `kv:` — the property's own name taken for a unit. */
function isNamedAlike(unit: string, expected: Expected): boolean {
  return unit.toLowerCase() === expected.of.toLowerCase();
}

/** Kelvins may be given for a temperature, degrees for a difference. */
function fitsDimension(found: Dimension, wanted: Dimension): boolean {
  return equal(found, wanted) || alike(found, wanted);
}

function missingUnit(amount: NumberNode, expected: Expected): Problem | undefined {
  const needsNone = expected.insists === undefined && expected.dimensions.some((dimension) => equal(dimension, NONE));
  if (needsNone) return undefined;
  const place = wholeOf(amount);
  const asShare = numberOf(amount);
  if (expected.insists === '%' && asShare > 0 && asShare < 1) {
    const [percent = ''] = inPercent(asShare);
    return problem('missing-unit', `a share is written in percent: ${percent}`, place, [replace(place, percent)]);
  }
  const units = plausibleUnits(amount, expected);
  const example = units[0] ?? expected.units[0];
  const description =
    example === undefined ? 'a unit is needed' : `a unit is needed: ${amount.number}${spaced(example)}?`;
  const possible = units.filter((unit) => canBe(spelt(amount), unit, expected));
  const fixes = possible.map((unit) =>
    replace(endOf(place), spaced(unit), `change to ${amount.number}${spaced(unit)}`),
  );
  return problem('missing-unit', description, place, fixes);
}

/** What a number without a unit can have meant where a share belongs: 60 is 60 %, so is 0.6; of 1 it cannot be determined. */
export function inPercent(number: number): string[] {
  const whole = Math.abs(number) >= 1 ? [`${plainNumber(number)} %`] : [];
  return Math.abs(number) <= 1 ? [...whole, `${plainNumber(Number((100 * number).toPrecision(10)))} %`] : whole;
}

/** `2S`, `75C` and `3P` are written in one word. */
export const spaced = (unit: string): string => `${gapBefore(unit)}${unit}`;

function unknownUnit(
  amount: Spelt & { readonly unit: string },
  place: Place,
  suggestions: readonly string[],
  expected: Expected,
): Problem {
  const written = amount.unit;
  if (written.endsWith('/') || written.endsWith('*') || written.endsWith('·')) {
    return problem('unknown-unit', `the unit ends at ${written}: something is missing after it`, place);
  }
  const meant = expected.mistaken?.[written];
  if (meant !== undefined && isNamedAlike(written, expected)) {
    const description = `${written} is no unit; ${expected.of} is ${nameOf(expected)}: write ${meant}`;
    return problem('unknown-unit', description, place, [replace(place, meant)]);
  }
  const fitting = suggestions.filter((name) => fitsExpected(name, expected));
  const usual = fitting.length > 0 ? fitting : expected.units.slice(0, 1);
  const offered = (meant === undefined ? usual : [meant]).filter((name) => canBe(amount, name, expected));
  const near = offered.slice(0, 3);
  return problem(
    'unknown-unit',
    `no such unit: ${written}${didYouMean(near)}`,
    place,
    near.map((name) => (isSameWord(name, written) ? rewrite : replace)(place, name)),
  );
}

/** Nobody is offered a unit in which the number is implausible. */
function canBe(amount: Spelt, name: string, expected: Expected): boolean {
  const { unit } = parseUnit(name);
  return unit === undefined || isPlausible(unit.toSI(numberOf(amount)), unit.dimension, expected);
}

const isSameWord = (one: string, other: string): boolean => one.toLowerCase() === other.toLowerCase();

function fitsExpected(name: string, expected: Expected): boolean {
  const { unit } = parseUnit(name);
  return unit !== undefined && expected.dimensions.some((dimension) => fitsDimension(unit.dimension, dimension));
}

function wrongDimension(
  amount: Spelt & { readonly unit: string },
  place: Place,
  found: Dimension,
  expected: Expected,
): Problem {
  const units = plausibleUnits(amount, expected);
  const such = expected.units.length > 0 ? ` (${expected.units.slice(0, 3).join(', ')})` : '';
  const meant = expected.mistaken?.[amount.unit];
  const description = `expected ${nameOf(expected)}${such}, found ${describeUnit(amount, found)}`;
  if (expected.units.length > 0)
    return problem(
      'wrong-dimension',
      description,
      place,
      [meant ?? units[0]].flatMap((unit) =>
        unit === undefined || !canBe(amount, unit, expected) ? [] : [replace(place, unit)],
      ),
    );
  return problem('wrong-dimension', description, place, [replace(place, '', `change to ${amount.number}`)]);
}

function describeUnit(amount: Spelt & { readonly unit: string }, dimension: Dimension): string {
  // People write C for degrees too: state what it is here.
  if (amount.unit === 'C') return "a pack's rate (C)";
  return equal(dimension, NONE) ? `${amount.number} ${amount.unit}` : describe(dimension);
}

/** What is expected, in words: `a resistance`; for `%` and `S` their own. */
function nameOf(expected: Expected): string {
  if (expected.insists === '%') return 'a share';
  if (expected.insists === 'S') return 'a number of cells';
  const [own, ...others] = expected.dimensions;
  if (own?.money === 1) return 'a price';
  return either([own, ...others].filter((dimension) => dimension !== undefined).map(describe));
}

/** Units in which this number can be meant, the usual one when none can. */
function plausibleUnits(amount: Spelt, expected: Expected): string[] {
  const units = unitsThatFit(numberOf(amount), expected);
  return units.length > 0 ? units : expected.units.slice(0, 1);
}

function implausible(
  first: NumberNode,
  more: readonly NumberNode[],
  value: number,
  dimension: Dimension,
  expected: Expected,
): Problem | undefined {
  if (isPlausible(value, dimension, expected) || !expected.plausible) return undefined;
  const [usual = ''] = expected.units;
  const [low, high] = expected.plausible.map((bound) => printed(bound, usual));
  const place = allOf(first, more);
  const others = more.length > 0 || first.unit === undefined ? [] : unitsThatFit(numberOf(first), expected);
  const better = others.filter(
    (name) => name !== first.unit && equal(parseUnit(name).unit?.dimension ?? NONE, dimension),
  );
  const description = `${written([first, ...more])} is implausible: ${expected.of} lies between ${low} and ${high}`;
  const unitPlace = placeOfFeature(first, 'unit');
  const fixes = [
    ...better.map((name) => replace(unitPlace, name, `change to ${first.number} ${name}`)),
    ...(more.length === 0 ? asPercent(first, place, expected) : []),
  ];
  const { isMeasured = false } = expected;
  const asWritten = { number: numberOf(first), unit: more.length === 0 ? first.unit : undefined, isMeasured };
  if (isBeyondUse(value, dimension, asWritten, expected))
    return problem('implausible-value', description, place, fixes);
  const unusual = `${written([first, ...more])} is unusual: ${expected.of} mostly lies between ${low} and ${high}`;
  return { ...problem('implausible-value', unusual, place, fixes), severity: 'warning' };
}

/** `0.43 %` where the share was meant, which is 43 %. */
function asPercent(first: NumberNode, place: Place, expected: Expected): ProblemFix[] {
  const share = numberOf(first);
  const [percent] = share > 0 && share < 1 && first.unit === '%' ? inPercent(share) : [];
  return percent !== undefined && isPlausible(share, NONE, expected) ? [replace(place, percent)] : [];
}

/** One side of a size, in the unit that serves all of them. */
export function implausibleSide(side: NumberNode, unitName: string, expected: Expected): Problem | undefined {
  const { unit } = parseUnit(unitName);
  const length = numberOf(side);
  if (!unit || (length > 0 && isPlausible(unit.toSI(length), unit.dimension, expected))) return undefined;
  const [usual = ''] = expected.units;
  const [low, high] = (expected.plausible ?? []).map((bound) => printed(bound, usual));
  const where = low === undefined ? 'is more than nothing' : `lies between ${low} and ${high}`;
  const description = `${written([{ ...spelt(side), unit: unitName }])} is implausible: a side of ${expected.of} ${where}`;
  return problem('implausible-value', description, wholeOf(side));
}

function printed(bound: number, unit: string): string {
  const known = unit === '' ? undefined : parseUnit(unit).unit;
  return known ? formatValue(known.toSI(bound), unit) : String(bound);
}

function written(amounts: readonly (Spelt & { readonly unit?: string })[]): string {
  return amounts
    .map(
      (amount) => `${amount.negative ? '-' : ''}${amount.number}${amount.unit === undefined ? '' : ` ${amount.unit}`}`,
    )
    .join(' ');
}

/** Seconds come after minutes. */
function smallerUnits(first: NumberNode, expected: Expected): readonly string[] {
  const smaller = first.unit === undefined ? undefined : smallerUnit(first.unit);
  return smaller === undefined ? expected.units : [smaller];
}

const allOf = (first: NumberNode, more: readonly NumberNode[]): Place =>
  span(wholeOf(first), wholeOf(more.at(-1) ?? first));

/** Number and unit, without what else a figure contains. */
function wholeOf(amount: NumberNode): Place {
  const number = placeOfFeature(amount, 'number');
  return amount.unit === undefined ? number : span(number, placeOfFeature(amount, 'unit'));
}
