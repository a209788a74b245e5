/** Checks of the value behind a colon, by the shape that the vocabulary gives it. */

import {
  type FigureNode,
  isDay,
  isFigureNode,
  isNamedNode,
  isText,
  type PropertyNode,
} from '../../grammar/generated/ast.ts';
import { dayMeant, readDay } from '../../model/days.ts';
import { boundsOf } from '../../model/figures.ts';
import { isInline } from '../../model/inline.ts';
import { conditionOf, isUnset, originOf } from '../../syntax/clauses.ts';
import type { Problem } from '../../syntax/problem.ts';
import { endOf, nameText, placeOf, placeOfFeature, span, textOf } from '../../syntax/source.ts';
import { extraOf, isCount, numberOf } from '../../syntax/written-number.ts';
import { describe, equal, money, NONE } from '../../units/dimension.ts';
import { parseUnit } from '../../units/parse.ts';
import { article, either } from '../../vocabulary/phrasing.ts';
import type { BlockSchema, ClauseRule, Property, Shape } from '../../vocabulary/schema.ts';
import { commaProblem } from './comma-problems.ts';
import { notHover } from './hover-problems.ts';
import { described, problem, replace, rewrite } from './problem-words.ts';
import { amountProblem, type Expected, implausibleSide, type NumberNode, wholeProblem } from './quantity-problems.ts';
import { isWritten } from './written.ts';

type Value = NonNullable<PropertyNode['value']>;

/** `blades: 4  mass 0.5 g`: behind a bare number, on one line, the next property without its colon reads as a unit. */
export function lineInUnit({ key, value }: PropertyNode, schema: BlockSchema): Problem | undefined {
  if (!isFigureNode(value)) return undefined;
  const last = value.to ?? value;
  const { unit } = last;
  // The line's own word again is no next line: its unit is missing.
  if (unit === undefined || unit === key || !Object.hasOwn(schema.properties, unit) || parseUnit(unit).unit)
    return undefined;
  const place = placeOfFeature(last, 'unit');
  return problem('syntax', `a colon is missing: ${unit}: …`, place, [rewrite(endOf(place), ':', `change to ${unit}:`)]);
}

/** The first thing wrong with a line's value, clauses apart. */
export function valueProblem(line: PropertyNode, schema: Property): Problem | undefined {
  const isMeasured = originOf(line)?.word === 'measured';
  const expected = { ...expectedOf(line.key, schema), isMeasured };
  const inParts = schema.shape === 'word' || schema.shape === 'date' || (schema.shape === 'part' && !isInline(line));
  const comma = commaProblem(line, inParts ? undefined : expected, {
    ...(schema.repeats && { key: line.key }),
    ...(schema.shape === 'size' && { parting: 'x' }),
    ...(schema.shape === 'range' && { parting: '..' }),
  });
  if (comma) return comma;
  if (line.value === undefined) {
    return problem(
      'missing-value',
      `${line.key} has no value yet: ${described(schema.description)}`,
      placeOfFeature(line, 'key'),
    );
  }
  if (isUnset(line)) return undefined;
  if (isFigureNode(line.value) && isUnfinished(line.value)) {
    return problem('missing-value', `something is missing after ${textOf(line.value).trim()}`, placeOf(line.value));
  }
  // A sign without its number: the parser has reported it.
  if (isFigureNode(line.value) && !isWritten(line.value)) return undefined;
  return byShape(line, line.value, schema, expected);
}

/** `of`: the property, or what comes after a clause word. */
export function expectedOf(of: string, rule: Property | ClauseRule): Expected {
  const insists = rule.unit === '%' || rule.unit === 'S' ? rule.unit : undefined;
  return {
    of,
    ...boundsOf(rule),
    ...('mistaken' in rule && rule.mistaken ? { mistaken: rule.mistaken } : {}),
    ...(insists === undefined ? {} : { insists }),
  };
}

function isUnfinished(figure: FigureNode): boolean {
  const factors = figure.sides.length + figure.of.length;
  return factors < figure.times.length || (figure.range !== undefined && figure.to === undefined);
}

function byShape(line: PropertyNode, value: Value, schema: Property, expected: Expected): Problem | undefined {
  switch (schema.shape) {
    case 'word':
      return isNamedNode(value) ? undefined : wrongWord(value, line.key, schema.words);
    case 'date':
      return dateProblem(value, line.key);
    case 'part':
      return partProblem(line, value, schema, expected);
    case 'pattern':
      return isFigureNode(value)
        ? (figureProblem(value, line.key, schema.shape, expected) ?? spacingProblem(line, value))
        : noNumber(value, line.key, expected);
    default:
      return isFigureNode(value)
        ? figureProblem(value, line.key, schema.shape, expected)
        : noNumber(value, line.key, expected);
  }
}

function wrongWord(value: Value, key: string, words: readonly string[] = []): Problem {
  const place = placeOf(value);
  const bare = isText(value) ? words.find((word) => word === value.text.trim()) : undefined;
  const choices = words.length > 0 ? `: ${either(words)}` : '';
  return problem('wrong-dimension', `${key} is a word${choices}`, place, [bare ? replace(place, bare) : undefined]);
}

function dateProblem(value: Value, key: string): Problem | undefined {
  if (readDay(value)) return undefined;
  const place = placeOf(value);
  const written = textOf(value);
  const meant = dayMeant(isText(value) ? value.text : written);
  const description = `${key} is a date, such as 2026-10-04${isText(value) && meant ? ': no quotes around it' : `; ${written} is none`}`;
  return problem('wrong-dimension', description, place, [meant ? replace(place, meant) : undefined]);
}

/** A name or a text where a number belongs. */
function noNumber(value: Value, key: string, expected: Expected): Problem {
  const place = placeOf(value);
  const unit = expected.units[0] === undefined ? '' : `, such as 1 ${expected.units[0]}`;
  const inQuotes = isText(value) && /^\s*[0-9.]+\s*[^\s\d]*\s*$/.test(value.text) ? value.text.trim() : undefined;
  const what = describe(expected.dimensions[0] ?? NONE);
  const description = inQuotes
    ? `${key} is a number: no quotes around it`
    : `expected ${what}${unit}, found ${found(value)}`;
  return problem('wrong-dimension', description, place, [inQuotes ? replace(place, inQuotes) : undefined]);
}

function found(value: Value): string {
  if (isDay(value)) return 'a date';
  return isNamedNode(value) ? `the name ${nameText(value)}` : 'a text';
}

/** Numbers of every shape: plain, `a .. b`, `a x b`, `3S2P`. */
export function figureProblem(
  figure: FigureNode,
  of: string,
  shape: Shape | ClauseRule['shape'],
  expected: Expected,
): Problem | undefined {
  if (!isWritten(figure)) return undefined;
  const extra = extraProblem(figure, shape === 'money' ? 'a price' : of, shape);
  if (extra) return extra;
  switch (shape) {
    case 'range':
      return rangeProblem(figure, expected);
    case 'size':
      return sizeProblem(figure, of, expected);
    case 'pattern':
      return patternProblem(figure);
    case 'cells':
      return cellsProblem(figure, expected);
    case 'money':
      return moneyProblem(figure, expected);
    case 'multiple':
      return multipleProblem(figure, of, expected);
    default:
      return amountProblem(figure, figure.more, expected);
  }
}

/** `2 x`, `..`, a label behind a number that takes none of them. */
function extraProblem(figure: FigureNode, of: string, shape: Shape | ClauseRule['shape']): Problem | undefined {
  const place = placeOf(figure);
  switch (extraOf(figure, shape)) {
    case 'times':
      return problem(
        'wrong-dimension',
        `${of} is ${shape === 'range' ? 'a range: low .. high' : 'one number, without x'}`,
        place,
      );
    case 'range':
      return problem(
        'wrong-dimension',
        shape === 'size' || shape === 'pattern' ? `${of} takes no range` : `${of} is one number, not a range`,
        place,
      );
    case 'label':
      return labelProblem(figure, of);
    default:
      return undefined;
  }
}

function labelProblem(figure: FigureNode, of: string): Problem {
  const label = placeOfFeature(figure, 'label');
  if (/[\r\n]/.test(textOf(figure))) {
    const description = 'a text on a line of its own: is it a note?';
    return problem('syntax', description, label, [
      replace({ ...label, end: label.start }, 'note ', 'write note in front'),
    ]);
  }
  return problem('clause', `${of} takes no text; write its source after measured, claimed or estimated`, label);
}

function rangeProblem(figure: FigureNode, expected: Expected): Problem | undefined {
  const { to } = figure;
  if (!to) return amountProblem(figure, figure.more, expected);
  // `7 .. 26 V`: one unit is enough when it is at the end.
  const hasUnitAtEnd = figure.unit === undefined && to.unit !== undefined;
  const lower = hasUnitAtEnd ? wholeProblem(figure, expected) : amountProblem(figure, figure.more, expected);
  const end = lower ?? amountProblem(to, [], expected);
  if (end) return end;
  const [low, high] = [numberOf(figure), numberOf(to)];
  const sameUnit = figure.unit === undefined || figure.unit === to.unit;
  if (!sameUnit || low <= high) return undefined;
  const place = placeOf(figure);
  const [first, second] = [place.start, placeOfFeature(figure, 'to').start];
  const text = textOf(figure);
  const turned = `${text.slice(second - first)} .. ${text.slice(0, text.indexOf('..')).trim()}`;
  return problem('number-form', 'the lower end comes first', place, [replace(place, turned)]);
}

/** One unit at the end serves all sides. */
function sizeProblem(figure: FigureNode, of: string, expected: Expected): Problem | undefined {
  if (figure.of.length > 0) return problem('wrong-dimension', `${of} has numbers on both sides of x`, placeOf(figure));
  const sides: NumberNode[] = [figure, ...figure.sides];
  const { plausible: _, ...anyNumber } = expected;
  const written = sides.filter((side) => side.unit !== undefined);
  const last = sides.at(-1) ?? figure;
  const code = statorCode(figure, of);
  if (code) return code;
  const [second] = figure.more;
  if (second)
    return problem(
      'number-form',
      `one number is enough for a side: what is ${second.number}?`,
      placeOfFeature(second, 'number'),
    );
  for (const side of written.length > 0 ? written : [last]) {
    const found = amountProblem(side, [], anyNumber);
    if (found) return found;
  }
  const unit = written.at(-1)?.unit ?? '';
  return (
    sides.map((side) => implausibleSide(side, unit, expected)).find((found) => found !== undefined) ??
    heightFirst(figure, of)
  );
}

/** `stator: 4 x 11 mm`: no stator is higher than it is wide. */
function heightFirst(figure: FigureNode, of: string): Problem | undefined {
  const [height] = figure.sides;
  if (of !== 'stator' || !height) return undefined;
  const last = height.unit ?? figure.unit ?? 'mm';
  const first = figure.unit ?? last;
  const metres = (side: NumberNode, unit: string) => parseUnit(unit).unit?.toSI(numberOf(side)) ?? 0;
  if (metres(figure, first) >= metres(height, last)) return undefined;
  const turned = `${height.number}${first === last ? '' : ` ${last}`} x ${figure.number} ${first}`;
  const place = { ...placeOf(figure), end: placeOf(height).end };
  const description = `the diameter comes first, and no stator is higher than it is wide: ${turned}`;
  return problem('implausible-value', description, place, [replace(place, turned)]);
}

/** `stator: 1606`: motors are named by diameter and height in millimetres. */
function statorCode(figure: FigureNode, of: string): Problem | undefined {
  const [, diameter, height] = /^(\d\d)(\d\d(?:\.\d)?)$/.exec(figure.number) ?? [];
  if (of !== 'stator' || figure.unit !== undefined || figure.sides.length > 0 || !diameter || !height) return undefined;
  const place = placeOf(figure);
  const size = `${Number(diameter)} x ${Number(height)} mm`;
  return problem('missing-unit', `${figure.number} is ${size}`, place, [replace(place, size)]);
}

/** `4 x M2 on 25.5 x 25.5 mm`; what comes after `on` is a clause of its own. */
function patternProblem(figure: FigureNode): Problem | undefined {
  const isPattern = figure.unit === undefined && figure.times.length === 1 && figure.of.length === 1;
  if (isPattern && !isCount(figure))
    return problem('number-form', 'how many bolts is a whole number, at least 1', placeOfFeature(figure, 'number'));
  if (isPattern) return undefined;
  return problem('missing-value', 'bolts are written as in 4 x M2 on 25.5 x 25.5 mm', placeOf(figure));
}

/** Bolts without their distances fit everywhere. */
function spacingProblem(line: PropertyNode, value: FigureNode): Problem | undefined {
  if (conditionOf(line, 'on')) return undefined;
  return problem('missing-value', 'how far apart are they? 4 x M2 on 25.5 x 25.5 mm', placeOf(value));
}

function cellsProblem(figure: FigureNode, expected: Expected): Problem | undefined {
  const [parallel] = figure.more;
  const found = amountProblem(figure, [], expected);
  if (found || !parallel) return found;
  if (parallel.unit === 'P' && figure.more.length === 1 && isCount(parallel)) return undefined;
  const place = span(placeOfFeature(figure, 'number'), placeOf(figure));
  return problem('wrong-dimension', 'cells are written as in 2S, or 3S2P with two in parallel', place);
}

/** Any one currency will do. */
function moneyProblem(figure: FigureNode, expected: Expected): Problem | undefined {
  const currency = figure.unit === undefined ? undefined : parseUnit(figure.unit).unit?.dimension;
  const isMoney = currency !== undefined && equal(currency, money(currency.currency));
  const dimension = isMoney ? currency : money(expected.units[0] ?? '');
  const inMoney: Expected = { ...expected, dimensions: [dimension] };
  return amountProblem(figure, figure.more, inMoney);
}

/** `2.5 x hover` */
function multipleProblem(figure: FigureNode, of: string, expected: Expected): Problem | undefined {
  const multiplied = figure.of[0];
  if (figure.times.length === 0 || !multiplied) {
    const place = placeOf(figure);
    const whole = `${figure.number} x hover`;
    const fix = figure.unit === undefined ? replace(place, whole) : undefined;
    return problem('missing-value', `${of} is a multiple of hover thrust: ${whole}`, place, [fix]);
  }
  return notHover(multiplied) ?? amountProblem(figure, figure.more, expected);
}

function partProblem(line: PropertyNode, value: Value, schema: Property, expected: Expected): Problem | undefined {
  const place = placeOf(value);
  const kinds = (schema.parts ?? []).filter((kind) => kind !== 'rail');
  const what = either(kinds.map((kind) => `${article(kind)} ${kind}`));
  if (isText(value) && line.key === 'item')
    return problem('missing-value', `how much does it weigh? item: 2 g ${textOf(value)}`, place);
  if (isText(value)) return problem('wrong-kind', `expected the name of ${what}, found a text`, place);
  if (isNamedNode(value)) return value.dots.length > value.tail.length ? halfName(value) : undefined;
  if (isDay(value)) return problem('wrong-kind', `expected the name of ${what}, found a date`, place);
  if (isInline(line) && !(value.unit === undefined && value.label === undefined)) return inlineProblem(value, expected);
  if (value.times.length === 0) {
    if (value.unit !== undefined) return problem('wrong-kind', `expected the name of ${what}, found a number`, place);
    return problem('missing-value', `${value.number} of what? ${value.number} x and the name of ${what}`, place);
  }
  const isOfParts = value.unit === undefined && value.times.length === 1 && value.of.length === 1;
  if (isOfParts && isCount(value)) return undefined;
  return problem('number-form', 'how many is a whole number, as in 4 x Name', place);
}

function halfName(value: Value): Problem {
  return problem('missing-value', `a name is missing after ${textOf(value)}`, placeOf(value));
}

function inlineProblem(figure: FigureNode, expected: Expected): Problem | undefined {
  if (figure.range !== undefined) return extraProblem(figure, 'a mass', 'quantity');
  const found = amountProblem(figure, figure.more, { ...expected, of: 'mass' });
  if (found || figure.label !== undefined) return found;
  const place = placeOf(figure);
  const fix = replace(endOf(place), ' "small things"', 'add a label');
  return {
    ...problem('missing-value', 'what is it? Write a label in quotes', place, [fix]),
    severity: 'hint',
  };
}
