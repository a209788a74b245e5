/** Words behind a value, on its row, that could not be read as part of it: what they were meant to be. */
import {
  isAccept,
  isFigureNode,
  isPropertyNode,
  isUnknownNode,
  type Line,
  type PropertyNode,
  type UnknownNode,
} from '../../grammar/generated/ast.ts';
import { dimensionsOf } from '../../model/figures.ts';
import { isOnSameRow, nextOnRow } from '../../syntax/nodes.ts';
import type { Problem } from '../../syntax/problem.ts';
import { placeOf, placeOfFeature, span, textOf } from '../../syntax/source.ts';
import { equal } from '../../units/dimension.ts';
import { parseUnit } from '../../units/parse.ts';
import type { BlockSchema } from '../../vocabulary/schema.ts';
import { problem, replace, rewrite } from './problem-words.ts';
import { spaced } from './quantity-problems.ts';
import { isWritten } from './written.ts';

/** Whether words follow on its row that could not be read as part of it: what seems to be missing may be among them. */
export function hasUnreadWords(line: Line): boolean {
  return isUnknownNode(nextOnRow(line));
}

/** What follows a value on its row and could not be read as part of it. */
export function continuedProblem(
  before: Line,
  line: UnknownNode,
  schema: BlockSchema | undefined,
): Problem | undefined {
  if (isAccept(before)) return boundedFromAbove(line);
  if (!isPropertyNode(before)) return undefined;
  return (
    splitUnit(before, line, schema) ??
    missingTimes(before, line) ??
    dashedRange(before, line, schema) ??
    secondPoint(before, line) ??
    secondColon(before, line)
  );
}

/** `accept pack-overcurrent above 40 A`: the number is the most that is accepted. */
function boundedFromAbove(line: UnknownNode): Problem | undefined {
  if (line.words[0] !== 'above') return undefined;
  const place = placeOfFeature(line, 'words');
  return problem('clause', 'accept takes “below” and the number up to which it is accepted, not “above”', place, [
    replace(place, 'below'),
  ]);
}

/** `11000 rpm / V`, `11000 rpm per volt`: a unit in pieces. */
function splitUnit(before: PropertyNode, line: UnknownNode, schema: BlockSchema | undefined): Problem | undefined {
  const [sign, below] = line.words;
  if (!isFigureNode(before.value) || before.value.unit === undefined || before.clauses.length > 0) return undefined;
  if ((sign !== '/' && sign !== 'per') || below === undefined) return undefined;
  const unitPlace = placeOfFeature(before.value, 'unit');
  const place = span(unitPlace, placeOfFeature(line, 'words', 1));
  const property = schema?.properties[before.key];
  const joined = `${before.value.unit}/${below}`;
  const fits = (name: string) => {
    const { unit } = parseUnit(name);
    return (
      unit !== undefined &&
      property !== undefined &&
      dimensionsOf(property).some((dimension) => equal(dimension, unit.dimension))
    );
  };
  const meant = [joined, property?.unit ?? ''].find(fits);
  const hint = meant === undefined ? '' : `: ${meant}`;
  const mend = meant === joined ? rewrite : replace;
  return problem('number-form', `a unit has no spaces inside${hint}`, place, [
    meant === undefined ? undefined : mend(place, meant),
  ]);
}

/** `supply: 5-17 V`, `cells: 2-4S`: an end, a dash, another end. */
function dashedRange(before: PropertyNode, line: UnknownNode, schema: BlockSchema | undefined): Problem | undefined {
  const { value } = before;
  if (schema?.properties[before.key]?.shape !== 'range' || !isFigureNode(value) || !isWritten(value)) return undefined;
  if (before.clauses.length > 0) return undefined;
  const sign = line.words[0];
  if (sign === undefined || !/^[-–]$/.test(sign)) return undefined;
  const row = /^[^\n\r}]*/.exec(textOf(line))?.[0] ?? '';
  const end = /^[-–]\s*(\d+(?:\.\d+)?)\s*(\p{L}[\p{L}/]*)?/u.exec(row);
  const unit = end?.[2] ?? value.unit;
  if (end === null || end[1] === undefined || unit === undefined) return undefined;
  const whole = `${value.number}${spaced(value.unit ?? unit)} .. ${end[1]}${spaced(unit)}`;
  const start = placeOfFeature(value, 'number');
  const place = { ...start, end: placeOf(line).start + end[0].length };
  return problem('number-form', `a range is written with two points: ${whole}`, place, [rewrite(place, whole)]);
}

/** `3.4.5 g` */
function secondPoint(before: PropertyNode, line: UnknownNode): Problem | undefined {
  if (!isFigureNode(before.value) || before.value.unit !== undefined || line.words[0] !== '.') return undefined;
  const place = span(
    placeOfFeature(before.value, 'number'),
    placeOfFeature(line, 'words', Math.min(1, line.words.length - 1)),
  );
  return problem('number-form', 'a number has one decimal point', place);
}

/** `kv:: 11000 rpm/V` */
function secondColon(before: PropertyNode, line: UnknownNode): Problem | undefined {
  if (before.value !== undefined || line.words[0] !== ':') return undefined;
  const place = placeOfFeature(line, 'words');
  return problem('syntax', 'one colon is enough', place, [rewrite(place, '', 'take one colon out')]);
}

/** Whether a problem of the line before has its cause in what follows it. */
export function isContinued(line: PropertyNode, next: Line | undefined, schema: BlockSchema): boolean {
  return isUnknownNode(next) && isOnSameRow(line, next) && continuedProblem(line, next, schema) !== undefined;
}

/** `motors: 4 M1606 with P3024x3`; `mass: 1_000 mg` */
function missingTimes(before: PropertyNode, line: UnknownNode): Problem | undefined {
  const { value } = before;
  const [name] = line.words;
  if (
    !isFigureNode(value) ||
    !isWritten(value) ||
    value.unit !== undefined ||
    value.times.length > 0 ||
    before.clauses.length > 0
  )
    return undefined;
  if (name === undefined || !/^[\p{L}_]/u.test(name)) return undefined;
  const number = placeOfFeature(value, 'number');
  const place = span(number, placeOfFeature(line, 'words'));
  if (/^(_\d+)+$/.test(name)) {
    const joined = value.number + name.replaceAll('_', '');
    return problem('number-form', `a number has no _ inside: ${joined}`, place, [rewrite(place, joined)]);
  }
  const whole = `${value.number} x ${name}`;
  return problem('number-form', `an x is missing: ${whole}`, place, [replace(place, whole)]);
}
