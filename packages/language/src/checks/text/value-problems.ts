/** Checks of the value behind a colon, by the shape that the vocabulary gives it. */

import {
  type Figure,
  isDay,
  isFigure,
  isNamed,
  isText,
  type Property as PropertyLine,
} from '../../grammar/generated/ast.ts';
import { dayMeant, readDay } from '../../model/days.ts';
import { boundsOf } from '../../model/figures.ts';
import { isInline } from '../../model/inline.ts';
import { isUnset, originOf } from '../../syntax/clauses.ts';
import type { Problem } from '../../syntax/problem.ts';
import { endOf, nameText, placeOf, placeOfFeature, span, textOf } from '../../syntax/source.ts';
import { describe, equal, money, NONE } from '../../units/dimension.ts';
import { parseUnit } from '../../units/parse.ts';
import type { BlockSchema, ClauseRule, Property, Shape } from '../../vocabulary/schema.ts';
import { CLAUSE } from './clause.ts';
import { commaProblem } from './comma-problems.ts';
import { notHover } from './hover-problems.ts';
import { IMPLAUSIBLE_VALUE } from './implausible-value.ts';
import { MISSING_UNIT } from './missing-unit.ts';
import { MISSING_VALUE } from './missing-value.ts';
import { NUMBER_FORM } from './number-form.ts';
import { article, described, either, problem, replace, rewrite } from './problem-text.ts';
import { type AmountNode, amountProblem, type Expected, implausibleSide } from './quantity-problems.ts';
import { SYNTAX } from './syntax.ts';
import { isWritten } from './written.ts';
import { WRONG_DIMENSION } from './wrong-dimension.ts';
import { WRONG_KIND } from './wrong-kind.ts';

type Value = NonNullable<PropertyLine['value']>;

/** `blades: 4  mass 0.5 g`: behind a bare number, on one line, the next property without its colon reads as a unit. */
export function lineInUnit({ key, value }: PropertyLine, schema: BlockSchema): Problem | undefined {
  if (!isFigure(value)) return undefined;
  const last = value.to ?? value;
  const { unit } = last;
  // The line's own word again is no next line: its unit is missing.
  if (unit === undefined || unit === key || !Object.hasOwn(schema.properties, unit) || parseUnit(unit).unit)
    return undefined;
  const place = placeOfFeature(last, 'unit');
  return problem(SYNTAX, `a colon is missing: ${unit}: …`, place, [rewrite(endOf(place), ':', `change to ${unit}:`)]);
}

/** The first thing wrong with a line's value, clauses apart. */
export function valueProblem(line: PropertyLine, schema: Property): Problem | undefined {
  const isMeasured = originOf(line)?.word === 'measured';
  const expected = { ...expectedOf(line.key, schema), isMeasured };
  const inParts =
    schema.shape === 'word' ||
    schema.shape === 'text' ||
    schema.shape === 'date' ||
    (schema.shape === 'part' && !isInline(line));
  const comma = commaProblem(line, inParts ? undefined : expected, {
    ...(schema.repeats && { key: line.key }),
    ...(schema.shape === 'size' && { parting: 'x' }),
    ...(schema.shape === 'range' && { parting: '..' }),
  });
  if (comma) return comma;
  if (line.value === undefined) {
    return problem(
      MISSING_VALUE,
      `${line.key} has no value yet: ${described(schema.description)}`,
      placeOfFeature(line, 'key'),
    );
  }
  if (isUnset(line)) return undefined;
  if (isFigure(line.value) && isUnfinished(line.value)) {
    return problem(MISSING_VALUE, `something is missing after ${textOf(line.value).trim()}`, placeOf(line.value));
  }
  // A sign without its number: the parser has reported it.
  if (isFigure(line.value) && !isWritten(line.value)) return undefined;
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
    ...(rule.shape === 'count' || rule.unit === 'S' ? { whole: true } : {}),
  };
}

function isUnfinished(figure: Figure): boolean {
  const factors = figure.sides.length + figure.of.length;
  return factors < figure.times.length || (figure.range !== undefined && figure.to === undefined);
}

function byShape(line: PropertyLine, value: Value, schema: Property, expected: Expected): Problem | undefined {
  switch (schema.shape) {
    case 'word':
      return isNamed(value) ? undefined : wrongWord(value, line.key, schema.words);
    case 'text':
      return isText(value) ? undefined : wrongText(value, line.key);
    case 'date':
      return dateProblem(value, line.key);
    case 'part':
      return partProblem(line, value, schema, expected);
    default:
      return isFigure(value)
        ? figureProblem(value, line.key, schema.shape, expected)
        : noNumber(value, line.key, expected);
  }
}

function wrongWord(value: Value, key: string, words: readonly string[] = []): Problem {
  const place = placeOf(value);
  const bare = isText(value) ? words.find((word) => word === value.text.trim()) : undefined;
  const choices = words.length > 0 ? `: ${either(words)}` : '';
  return problem(WRONG_DIMENSION, `${key} is a word${choices}`, place, [bare ? replace(place, bare) : undefined]);
}

function wrongText(value: Value, key: string): Problem {
  const place = placeOf(value);
  const quoted = `"${textOf(value)}"`;
  return problem(WRONG_DIMENSION, `${key} is a text in quotes: ${quoted}`, place, [replace(place, quoted)]);
}

function dateProblem(value: Value, key: string): Problem | undefined {
  if (readDay(value)) return undefined;
  const place = placeOf(value);
  const written = textOf(value);
  const meant = dayMeant(isText(value) ? value.text : written);
  const description = `${key} is a date, such as 2026-10-04${isText(value) && meant ? ': no quotes around it' : `; ${written} is none`}`;
  return problem(WRONG_DIMENSION, description, place, [meant ? replace(place, meant) : undefined]);
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
  return problem(WRONG_DIMENSION, description, place, [inQuotes ? replace(place, inQuotes) : undefined]);
}

function found(value: Value): string {
  if (isDay(value)) return 'a date';
  return isNamed(value) ? `the name ${nameText(value)}` : 'a text';
}

/** Numbers of every shape: plain, `a .. b`, `a x b`, `3S2P`. */
export function figureProblem(
  figure: Figure,
  of: string,
  shape: Shape | ClauseRule['shape'],
  expected: Expected,
): Problem | undefined {
  if (!isWritten(figure)) return undefined;
  switch (shape) {
    case 'range':
      return rangeProblem(figure, of, expected);
    case 'size':
      return sizeProblem(figure, of, expected);
    case 'pattern':
      return patternProblem(figure);
    case 'cells':
      return cellsProblem(figure, of, expected);
    case 'money':
      return moneyProblem(figure, expected);
    case 'multiple':
      return multipleProblem(figure, of, expected);
    default:
      return extraProblem(figure, of) ?? amountProblem(figure, figure.more, expected);
  }
}

/** `2 x`, `..`, a label behind a number that takes none of them. */
function extraProblem(figure: Figure, of: string): Problem | undefined {
  if (figure.times.length > 0) return problem(WRONG_DIMENSION, `${of} is one number, without x`, placeOf(figure));
  if (figure.range !== undefined) return problem(WRONG_DIMENSION, `${of} is one number, not a range`, placeOf(figure));
  if (figure.label !== undefined && figure.$cstNode) {
    const label = placeOfFeature(figure, 'label');
    if (/[\r\n]/.test(textOf(figure))) {
      const description = 'a text on a line of its own: is it a note?';
      return problem(SYNTAX, description, label, [
        replace({ ...label, end: label.start }, 'note ', 'write note in front'),
      ]);
    }
    return problem(
      CLAUSE,
      `${of} takes no text; write its source after measured, claimed or estimated`,
      placeOfFeature(figure, 'label'),
    );
  }
  return undefined;
}

function rangeProblem(figure: Figure, of: string, expected: Expected): Problem | undefined {
  if (figure.times.length > 0) return problem(WRONG_DIMENSION, `${of} is a range: low .. high`, placeOf(figure));
  const { to } = figure;
  if (!to) return amountProblem(figure, figure.more, expected);
  // `7 .. 26 V`: one unit is enough when it is at the end.
  const lower =
    figure.unit === undefined && to.unit !== undefined ? undefined : amountProblem(figure, figure.more, expected);
  const end = lower ?? amountProblem(to, [], expected);
  if (end) return end;
  const [low, high] = [signed(figure), signed(to)];
  const sameUnit = figure.unit === undefined || figure.unit === to.unit;
  if (!sameUnit || low <= high) return undefined;
  const place = placeOf(figure);
  const [first, second] = [place.start, placeOfFeature(figure, 'to').start];
  const text = textOf(figure);
  const turned = `${text.slice(second - first)} .. ${text.slice(0, text.indexOf('..')).trim()}`;
  return problem(NUMBER_FORM, 'the lower end comes first', place, [replace(place, turned)]);
}

function signed(amount: { number: string; negative?: boolean }): number {
  return (amount.negative ? -1 : 1) * Number(amount.number);
}

/** One unit at the end serves all sides. */
function sizeProblem(figure: Figure, of: string, expected: Expected): Problem | undefined {
  if (figure.of.length > 0) return problem(WRONG_DIMENSION, `${of} has numbers on both sides of x`, placeOf(figure));
  const sides: AmountNode[] = [figure, ...figure.sides];
  const { plausible: _, ...anyNumber } = expected;
  const written = sides.filter((side) => side.unit !== undefined);
  const last = sides.at(-1) ?? figure;
  const code = statorCode(figure, of);
  if (code) return code;
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
function heightFirst(figure: Figure, of: string): Problem | undefined {
  const [height] = figure.sides;
  if (of !== 'stator' || !height || Number(figure.number) >= Number(height.number)) return undefined;
  if (figure.unit !== undefined && figure.unit !== height.unit) return undefined;
  const unit = height.unit ?? figure.unit ?? 'mm';
  const turned = `${height.number} x ${figure.number} ${unit}`;
  const place = { ...placeOf(figure), end: placeOf(height).end };
  const description = `the diameter comes first, and no stator is higher than it is wide: ${turned}`;
  return problem(IMPLAUSIBLE_VALUE, description, place, [replace(place, turned)]);
}

/** `stator: 1606`: motors are named by diameter and height in millimetres. */
function statorCode(figure: Figure, of: string): Problem | undefined {
  const [, diameter, height] = /^(\d\d)(\d\d(?:\.\d)?)$/.exec(figure.number) ?? [];
  if (of !== 'stator' || figure.unit !== undefined || figure.sides.length > 0 || !diameter || !height) return undefined;
  const place = placeOf(figure);
  const size = `${Number(diameter)} x ${Number(height)} mm`;
  return problem(MISSING_UNIT, `${figure.number} is ${size}`, place, [replace(place, size)]);
}

/** `4 x M2 on 25.5 x 25.5 mm`; what comes after `on` is a clause of its own. */
function patternProblem(figure: Figure): Problem | undefined {
  const isPattern = figure.unit === undefined && figure.times.length === 1 && figure.of.length === 1;
  if (isPattern) return undefined;
  return problem(MISSING_VALUE, 'bolts are written as in 4 x M2 on 25.5 x 25.5 mm', placeOf(figure));
}

function cellsProblem(figure: Figure, of: string, expected: Expected): Problem | undefined {
  const extra = extraProblem(figure, of);
  if (extra) return extra;
  const [parallel] = figure.more;
  const found = amountProblem(figure, [], expected);
  if (found || !parallel) return found;
  if (parallel.unit === 'P' && figure.more.length === 1) return undefined;
  const place = span(placeOfFeature(figure, 'number'), placeOf(figure));
  return problem(WRONG_DIMENSION, 'cells are written as in 2S, or 3S2P with two in parallel', place);
}

/** Any one currency will do. */
function moneyProblem(figure: Figure, expected: Expected): Problem | undefined {
  const currency = figure.unit === undefined ? undefined : parseUnit(figure.unit).unit?.dimension;
  const isMoney = currency !== undefined && equal(currency, money(currency.currency));
  const dimension = isMoney ? currency : money(expected.units[0] ?? '');
  const inMoney: Expected = { ...expected, dimensions: [dimension] };
  return extraProblem(figure, 'a price') ?? amountProblem(figure, figure.more, inMoney);
}

/** `2.5 x hover` */
function multipleProblem(figure: Figure, of: string, expected: Expected): Problem | undefined {
  if (figure.range !== undefined || figure.label !== undefined) return extraProblem(figure, of);
  const multiplied = figure.of[0];
  if (figure.times.length === 0 || !multiplied) {
    const place = placeOf(figure);
    const whole = `${figure.number} x hover`;
    const fix = figure.unit === undefined ? replace(place, whole) : undefined;
    return problem(MISSING_VALUE, `${of} is a multiple of hover thrust: ${whole}`, place, [fix]);
  }
  return notHover(multiplied) ?? amountProblem(figure, figure.more, expected);
}

function partProblem(line: PropertyLine, value: Value, schema: Property, expected: Expected): Problem | undefined {
  const place = placeOf(value);
  const kinds = (schema.parts ?? []).filter((kind) => kind !== 'rail');
  const what = either(kinds.map((kind) => `${article(kind)} ${kind}`));
  if (isText(value) && line.key === 'item')
    return problem(MISSING_VALUE, `how much does it weigh? item: 2 g ${textOf(value)}`, place);
  if (isText(value)) return problem(WRONG_KIND, `expected the name of ${what}, found a text`, place);
  if (isNamed(value)) return value.dots.length > value.tail.length ? halfName(value) : undefined;
  if (isDay(value)) return problem(WRONG_KIND, `expected the name of ${what}, found a date`, place);
  if (isInline(line) && !(value.unit === undefined && value.label === undefined)) return inlineProblem(value, expected);
  if (value.times.length === 0) {
    if (value.unit !== undefined) return problem(WRONG_KIND, `expected the name of ${what}, found a number`, place);
    return problem(MISSING_VALUE, `${value.number} of what? ${value.number} x and the name of ${what}`, place);
  }
  const count = Number(value.number);
  const isCount = value.unit === undefined && value.times.length === 1 && value.of.length === 1;
  if (isCount && !value.negative && Number.isInteger(count) && count > 0) return undefined;
  return problem(NUMBER_FORM, 'how many is a whole number, as in 4 x Name', place);
}

function halfName(value: Value): Problem {
  return problem(MISSING_VALUE, `a name is missing after ${textOf(value)}`, placeOf(value));
}

function inlineProblem(figure: Figure, expected: Expected): Problem | undefined {
  if (figure.range !== undefined) return extraProblem(figure, 'a mass');
  const found = amountProblem(figure, figure.more, { ...expected, of: 'mass' });
  if (found || figure.label !== undefined) return found;
  const place = placeOf(figure);
  const fix = replace(endOf(place), ' "small things"', 'add a label');
  return {
    ...problem(MISSING_VALUE, 'what is it? Write a label in quotes', place, [fix]),
    severity: 'hint',
  };
}
