/** From a written value and its clauses to a `Figure`. */
import {
  type Condition,
  type Figure as FigureNode,
  isCondition,
  isFigure,
  isNamed,
  type Property as Line,
  type Tolerance as ToleranceNode,
} from '../grammar/generated/ast.ts';
import { type Claused, originOf, toleranceOf } from '../syntax/clauses.ts';
import { nameText, placeOf } from '../syntax/source.ts';
import { equal, NONE } from '../units/dimension.ts';
import { parseUnit, type Unit, unitNamed } from '../units/parse.ts';
import type { Dimension } from '../units/quantity.ts';
import type { ClauseRule, Origin, Property, Tolerance } from '../vocabulary/schema.ts';
import { type Amount, knownUnit, readAmount } from './amounts.ts';
import type { Cells, Figure } from './build.ts';
import { type Bounds, isBeyondUse, isPlausible, leastCount } from './plausible.ts';

/** Who a figure belongs to: the declaring part keeps its identity along `like`. */
export interface Identity {
  readonly id: string;
  readonly label: string;
}

/** A declared half-width is rectangular (JCGM 100, 4.3.7) … */
const RECTANGULAR = Math.sqrt(3);
/** … but a measured or a tabulated one covers two standard deviations. */
const COVERAGE = 2;

/**
 * The figure a property's line states, or undefined when it cannot be read (the text's own checks report why).
 * `usual` is its origin when no word gives another.
 */
export function readFigure(
  line: Line,
  schema: Property,
  identity: Identity,
  usual: Origin = 'stated',
): Figure | undefined {
  if (!isFigure(line.value) || line.commas.length > 0) return undefined;
  const origin = originOf(line)?.word ?? usual;
  // Only who writes that it was measured is believed beyond what is plausible, as the text's own check has it.
  const written = amountOf(line.value, schema, originOf(line)?.word === 'measured');
  if (!written) return undefined;
  const amount = schema.shape === 'money' ? perPiece(written, line) : written;
  const source = originOf(line)?.source;
  return {
    ...identity,
    value: amount.value,
    dimension: amount.dimension,
    unit: amount.unit || schema.unit || '',
    standardUncertainty: standardUncertainty(line, schema, amount, origin),
    origin,
    ...(source === undefined ? {} : { source }),
    place: placeOf(line.value),
    conditions: { ...temperatureInWords(source, line, schema, identity), ...conditionsOf(line, schema, identity) },
  };
}

/** A number known exactly: a count, or a clause's value. */
export function exactFigure(
  identity: Identity,
  amount: Amount,
  place: Figure['place'],
  origin: Origin = 'stated',
): Figure {
  return {
    ...identity,
    value: amount.value,
    dimension: amount.dimension,
    unit: amount.unit,
    standardUncertainty: 0,
    origin,
    ...(place ? { place } : {}),
    conditions: {},
  };
}

/** All dimensions a property takes: its own, and those of the other units people write (`75C` or `45 A`). */
export function dimensionsOf(schema: { dimension?: Dimension; otherUnits?: readonly string[] }): Dimension[] {
  const own = schema.dimension ?? NONE;
  const dimensions = [own];
  for (const { dimension } of (schema.otherUnits ?? []).map(unitNamed)) {
    if (!dimensions.some((known) => equal(known, dimension))) dimensions.push(dimension);
  }
  return dimensions;
}

/** What a property, or what comes after a clause word, expects of a number. */
export function boundsOf(rule: Property | ClauseRule): Bounds {
  const usual = rule.unit === undefined || rule.unit === '' ? [] : [rule.unit];
  const plausible = rule.plausible && { plausible: rule.plausible };
  if (!('description' in rule)) return { dimensions: [rule.dimension ?? NONE], units: usual, ...plausible };
  return { dimensions: dimensionsOf(rule), units: [...usual, ...(rule.otherUnits ?? [])], ...plausible };
}

/** Shapes whose numbers need their unit although it has no dimension. */
function lacksUnit(node: FigureNode, schema: Property): boolean {
  if (node.unit !== undefined) return false;
  return schema.shape === 'share' || schema.shape === 'cells' || schema.shape === 'flown';
}

function amountOf(node: FigureNode, schema: Property, isMeasured: boolean): Amount | undefined {
  if (lacksUnit(node, schema) || (schema.shape === 'count' && !isCount(node, leastCount(schema)))) return undefined;
  if (schema.shape === 'cells') {
    const cells = readCells(node, boundsOf(schema));
    return cells && { value: cells.series, dimension: NONE, unit: 'S' };
  }
  const dimensions = dimensionsOf(schema);
  const amount = readAmount(node, node.more, dimensions[0]);
  if (!amount) return undefined;
  if (schema.shape === 'money') return amount.dimension.money === 1 ? amount : undefined;
  const number = (node.negative ? -1 : 1) * Number(node.number);
  const written = { number, unit: node.more.length === 0 ? node.unit : undefined, isMeasured };
  if (isBeyondUse(amount.value, amount.dimension, written, boundsOf(schema))) return undefined;
  return dimensions.some((dimension) => equal(dimension, amount.dimension)) ? amount : undefined;
}

function isCount({ number, negative }: FigureNode, least: number): boolean {
  return !negative && Number.isInteger(Number(number)) && Number(number) >= least;
}

/** `9.80 EUR for 8`: the price of one. */
function perPiece(amount: Amount, line: Line): Amount {
  const pieces = line.clauses.filter(isCondition).find((clause) => clause.word === 'for')?.value;
  const count = isFigure(pieces) && pieces.unit === undefined ? Number(pieces.number) : 1;
  return count > 0 ? { ...amount, value: amount.value / count } : amount;
}

function standardUncertainty(line: Claused, schema: Property, amount: Amount, origin: Origin): number {
  const tolerance = toleranceOf(line);
  const declared = tolerance && declaredHalfWidth(tolerance, amount);
  if (declared !== undefined && !reachesNothing(declared, amount, schema))
    return declared / (origin === 'measured' ? COVERAGE : RECTANGULAR);
  const usual = schema.tolerance?.[origin] ?? schema.tolerance?.stated;
  return usual ? usualHalfWidth(usual, schema, amount) / COVERAGE : 0;
}

/** A ± as wide as the figure itself, of something that is always there: it is implausible, and it is not used. */
export function reachesNothing(halfWidth: number, { value }: Amount, { plausible }: Property): boolean {
  return plausible !== undefined && plausible[0] > 0 && halfWidth >= Math.abs(value);
}

/**
 * SI. Behind a share, percent means points of it (88 % ± 4 % is 84 to 92 %); behind anything else a part of the value. Behind a
 * plain number the ± may be one.
 */
export function declaredHalfWidth(tolerance: ToleranceNode, amount: Amount): number | undefined {
  if (tolerance.number === undefined) return undefined;
  const half = Number(tolerance.number);
  if (tolerance.unit === undefined) return amount.unit === '' ? half : undefined;
  if (tolerance.unit === '%' && !isShare(amount)) return (half / 100) * Math.abs(amount.value);
  const unit = knownUnit(tolerance.unit, amount.dimension);
  if (!unit || !sameSort(unit, amount) || unit.scale === undefined) return undefined;
  return half * unit.scale;
}

function isShare(amount: Amount): boolean {
  return amount.unit === '%';
}

/** Half-widths of temperatures are differences: any temperature unit will do. */
function sameSort(unit: Unit, amount: Amount): boolean {
  return equal({ ...unit.dimension, point: false }, { ...amount.dimension, point: false });
}

function usualHalfWidth(tolerance: Tolerance, schema: Property, amount: Amount): number {
  if ('relative' in tolerance) return tolerance.relative * Math.abs(amount.value);
  const scale = schema.unit === undefined ? undefined : parseUnit(schema.unit).unit?.scale;
  return tolerance.absolute * (scale ?? 1);
}

/** `at 7.4 V`, `for 5 s`, `of 20 AWG`: the numbers among the clauses. */
function conditionsOf(line: Claused, schema: Property, identity: Identity): Record<string, Figure> {
  const conditions: Record<string, Figure> = {};
  for (const clause of line.clauses.filter(isCondition)) {
    if (schema.shape === 'money') continue;
    const rule = schema.clauses?.[clause.word as keyof NonNullable<Property['clauses']>];
    const amount = rule && conditionAmount(clause, rule.dimension);
    if (!amount || conditions[clause.word] || !isPlausible(amount.value, amount.dimension, boundsOf(rule))) continue;
    conditions[clause.word] = exactFigure(behindWord(identity, clause.word), amount, placeOf(clause));
  }
  return conditions;
}

/** A number with a unit that is set off from the text before it: "charger, 20 degC", "charger at 68°F". */
const NUMBER_AND_UNIT = /(?<![\w.,+-])([+-]?\d+(?:\.\d+)?)\s*(°\s?[CF]|deg[CF]|[℃℉])(?!\w)/g;

/**
 * The temperature that a source names, for a property that may be stated `at` one: `measured "charger, 20 degC"` is read as
 * `at 20 degC`. Of several temperatures nobody knows which is meant.
 */
function temperatureInWords(
  source: string | undefined,
  line: Claused,
  schema: Property,
  identity: Identity,
): Record<string, Figure> {
  const rule = schema.clauses?.at;
  const words = originOf(line);
  if (source === undefined || !words || !rule?.dimension?.point) return {};
  const [found, another] = [...source.matchAll(NUMBER_AND_UNIT)];
  const name = found?.[2]?.replace(/\s/g, '');
  const unit = name === undefined ? undefined : knownUnit(name, rule.dimension);
  if (!found || another || !unit) return {};
  const amount: Amount = { value: unit.toSI(Number(found[1])), dimension: rule.dimension, unit: unit.name };
  if (!isPlausible(amount.value, amount.dimension, boundsOf(rule))) return {};
  return { at: exactFigure(behindWord(identity, 'at'), amount, placeOf(words)) };
}

/** The identity of what comes after a clause word: `no_load_current of M1606, at`. */
export function behindWord(identity: Identity, word: string): Identity {
  return { id: `${identity.id}.${word}`, label: `${identity.label}, ${word}` };
}

/** The clause's number when it has the requested dimension; `1.4 x hover` counts as 1.4, `hover` as 1. */
export function conditionAmount(clause: Condition, dimension: Dimension | undefined): Amount | undefined {
  if (isNamed(clause.value)) {
    return nameText(clause.value) === 'hover' ? { value: 1, dimension: NONE, unit: '' } : undefined;
  }
  if (!isFigure(clause.value) || clause.commas.length > 0) return undefined;
  const amount = readAmount(clause.value, clause.value.more, dimension);
  return amount && equal(amount.dimension, dimension ?? NONE) ? amount : undefined;
}

/** `3S2P`, `2S`; as few and as many as there are packs of. */
export function readCells(node: FigureNode, bounds: Bounds): Cells | undefined {
  if (node.unit !== 'S' || !isPlausible(Number(node.number), NONE, bounds)) return undefined;
  const second = node.more[0];
  if (second && second.unit !== 'P') return undefined;
  const series = Number(node.number);
  const parallel = second ? Number(second.number) : 1;
  const whole = Number.isInteger(series) && Number.isInteger(parallel) && series > 0 && parallel > 0;
  return whole ? { series, parallel, place: placeOf(node) } : undefined;
}
