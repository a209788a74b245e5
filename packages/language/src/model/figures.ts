/** From a written value and its clauses to a `Figure`. */
import {
  type Condition,
  type FigureNode,
  isCondition,
  isFigureNode,
  isNamedNode,
  type PropertyNode as Line,
  type ToleranceNode,
} from '../grammar/generated/ast.ts';
import { type Claused, originOf, toleranceOf } from '../syntax/clauses.ts';
import { nameText, placeOf } from '../syntax/source.ts';
import { extraOf, isCount, numberOf } from '../syntax/written-number.ts';
import { equal, NONE } from '../units/dimension.ts';
import { deviationOf } from '../units/interval.ts';
import { parseUnit, type Unit, unitNamed } from '../units/parse.ts';
import type { Dimension } from '../units/quantity.ts';
import type { ClauseRule, ClauseWord, Origin, Property, Tolerance, Whose } from '../vocabulary/schema.ts';
import { type Amount, knownUnit, readAmount } from './amounts.ts';
import type { Figure } from './build.ts';
import type { Cells } from './part-values.ts';
import { type Bounds, isBeyondUse, isPlausible, leastCount } from './plausible.ts';

/** Who a figure belongs to: the declaring part keeps its identity along `like`. */
export interface Identity {
  readonly id: string;
  readonly label: string;
  readonly whose: Whose;
}

/** What belongs to a line, and is no property of a part. */
export const OF_A_LINE: Whose = { sort: 'other' };

/** A declared half-width is rectangular (JCGM 100, 4.3.7); a measured or a tabulated one is a ± as it is shown. */
const RECTANGULAR = Math.sqrt(3);

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
  if (!isFigureNode(line.value) || line.commas.length > 0) return undefined;
  const origin = originOf(line)?.word ?? usual;
  // Only who writes that it was measured is believed beyond what is plausible, as the text's own check has it.
  const written = amountOf(line.value, schema, originOf(line)?.word === 'measured');
  if (!written) return undefined;
  const amount = schema.shape === 'money' ? perPiece(written, line) : written;
  if (!amount) return undefined;
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
  const limits = {
    ...(rule.plausible && { plausible: rule.plausible }),
    ...((rule.shape === 'count' || rule.unit === 'S') && { whole: true }),
  };
  if (!('description' in rule)) return { dimensions: [rule.dimension ?? NONE], units: usual, ...limits };
  return { dimensions: dimensionsOf(rule), units: [...usual, ...(rule.otherUnits ?? [])], ...limits };
}

/** Of shapes whose numbers need their unit although it has no dimension, or are plain numbers. */
function lacksUnit(node: FigureNode, schema: Property): boolean {
  if (node.unit !== undefined) return boundsOf(schema).units.length === 0;
  return schema.shape === 'share' || schema.shape === 'cells' || schema.shape === 'flown';
}

function amountOf(node: FigureNode, schema: Property, isMeasured: boolean): Amount | undefined {
  if (lacksUnit(node, schema) || extraOf(node, schema.shape) !== undefined) return undefined;
  if (schema.shape === 'count' && !isCount(node, leastCount(schema))) return undefined;
  if (schema.shape === 'cells') {
    const cells = readCells(node, boundsOf(schema));
    return cells && { value: cells.series, dimension: NONE, unit: 'S' };
  }
  const dimensions = dimensionsOf(schema);
  const amount = readAmount(node, node.more, dimensions[0]);
  if (!amount) return undefined;
  if (schema.shape === 'money') return amount.dimension.money === 1 ? amount : undefined;
  const written = { number: numberOf(node), unit: node.more.length === 0 ? node.unit : undefined, isMeasured };
  if (isBeyondUse(amount.value, amount.dimension, written, boundsOf(schema))) return undefined;
  return dimensions.some((dimension) => equal(dimension, amount.dimension)) ? amount : undefined;
}

/** `9.80 EUR for 8`: the price of one. */
function perPiece(amount: Amount, line: Line): Amount | undefined {
  const pieces = line.clauses.filter(isCondition).find((clause) => clause.word === 'for')?.value;
  const count = isFigureNode(pieces) && pieces.unit === undefined ? numberOf(pieces) : 1;
  return Number.isInteger(count) && count > 0 ? { ...amount, value: amount.value / count } : undefined;
}

function standardUncertainty(line: Claused, schema: Property, amount: Amount, origin: Origin): number {
  const tolerance = toleranceOf(line);
  const declared = tolerance && declaredHalfWidth(tolerance, amount);
  if (declared !== undefined && !reachesNothing(declared, amount, schema))
    return origin === 'measured' ? deviationOf(declared) : declared / RECTANGULAR;
  const usual = schema.tolerance?.[origin] ?? schema.tolerance?.stated;
  return usual ? deviationOf(usualHalfWidth(usual, schema, amount)) : 0;
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
function conditionsOf(line: Claused, schema: Property, identity: Identity): Figure['conditions'] {
  const conditions: Partial<Record<ClauseWord, Figure>> = {};
  for (const clause of line.clauses.filter(isCondition)) {
    const { word } = clause;
    // The last two are of sentences.
    if (schema.shape === 'money' || word === 'below' || word === 'because') continue;
    const rule = schema.clauses?.[word];
    const amount = rule && conditionAmount(clause, rule.dimension);
    if (!amount || conditions[word] || !isPlausible(amount.value, amount.dimension, boundsOf(rule))) continue;
    conditions[word] = exactFigure(behindWord(identity, word), amount, placeOf(clause));
  }
  return conditions;
}

/** Each number of degrees, whatever is in front of it. */
const IN_DEGREES = /\d\s*(?:°\s?[CF]|deg[CF]|[℃℉])(?!\w)/g;

/** A number with a unit that is set off from the text before it: "charger, 20 degC", "charger at 68°F", "garage, −10 °C". */
const NUMBER_AND_UNIT = /(?<![\w.,+−–-])([+−–-]?)(\d+(?:\.\d+)?)\s*(°\s?[CF]|deg[CF]|[℃℉])(?!\w)/g;

/** What is in front of the second number of a range: "15–20 °C", "15 to 20 °C", "20 ± 2 °C". */
const BEHIND_ANOTHER = /\d\s*(?:[−–—…~/±-]|\.\.+|to|and|or)\s*$/;

/**
 * The temperature that a source names, for a property that may be stated `at` one: `measured "charger, 20 degC"` is read as
 * `at 20 degC`. Of several temperatures, or between two, nobody knows which is meant.
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
  const [found] = [...source.matchAll(NUMBER_AND_UNIT)];
  if (!found || [...source.matchAll(IN_DEGREES)].length > 1) return {};
  const [, sign = '', number = '', name = ''] = found;
  const unit = knownUnit(name.replace(/\s/g, ''), rule.dimension);
  if (!unit || BEHIND_ANOTHER.test(source.slice(0, found.index + sign.length))) return {};
  const degrees = numberOf({ number, negative: sign !== '' && sign !== '+' });
  const amount: Amount = { value: unit.toSI(degrees), dimension: rule.dimension, unit: unit.name };
  if (!isPlausible(amount.value, amount.dimension, boundsOf(rule))) return {};
  return { at: exactFigure(behindWord(identity, 'at'), amount, placeOf(words)) };
}

/** The identity of what comes after a clause word: `no_load_current of M1606, at`. */
export function behindWord(identity: Identity, word: string): Identity {
  return { ...identity, id: `${identity.id}.${word}`, label: `${identity.label}, ${word}` };
}

/** The clause's number when it has the requested dimension; `1.4 x hover` counts as 1.4, `hover` as 1. */
export function conditionAmount(clause: Condition, dimension: Dimension | undefined): Amount | undefined {
  if (isNamedNode(clause.value)) {
    return nameText(clause.value) === 'hover' ? { value: 1, dimension: NONE, unit: '' } : undefined;
  }
  if (!isFigureNode(clause.value) || clause.commas.length > 0) return undefined;
  if (extraOf(clause.value, dimension ? 'quantity' : 'multiple') !== undefined) return undefined;
  const amount = readAmount(clause.value, clause.value.more, dimension);
  return amount && equal(amount.dimension, dimension ?? NONE) ? amount : undefined;
}

/** `3S2P`, `2S`; as few and as many as there are packs of. */
export function readCells(node: FigureNode, bounds: Bounds): Cells | undefined {
  if (node.unit !== 'S' || extraOf(node, 'cells') !== undefined || !isCount(node)) return undefined;
  const series = numberOf(node);
  const [second, ...others] = node.more;
  if (others.length > 0 || (second && (second.unit !== 'P' || !isCount(second)))) return undefined;
  const parallel = second ? numberOf(second) : 1;
  return isPlausible(series, NONE, bounds) ? { series, parallel, place: placeOf(node) } : undefined;
}
