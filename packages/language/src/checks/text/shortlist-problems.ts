/** What is wrong with a line that states what a shortlist tries. */
import {
  isNamed,
  isPart,
  isProperty,
  isUnknown,
  type Line,
  type Named,
  type Part as PartNode,
} from '../../grammar/generated/ast.ts';
import { otherFlights, readShortlist } from '../../model/shortlists.ts';
import type { Problem } from '../../syntax/problem.ts';
import { nameText, placeOf, span, textOf } from '../../syntax/source.ts';
import { isResultName } from '../../vocabulary/results.ts';
import { isOnSameRow } from './continued-lines.ts';
import { MISSING_VALUE } from './missing-value.ts';
import { problem, rewrite } from './problem-text.ts';
import { UNKNOWN_NAME } from './unknown-name.ts';
import { WRONG_DIMENSION } from './wrong-dimension.ts';

const DIRECTIONS: ReadonlySet<string> = new Set([
  'more',
  'most',
  'less',
  'least',
  'fewer',
  'higher',
  'lower',
  'highest',
  'lowest',
  'max',
  'min',
  'maximum',
  'minimum',
  'maximize',
  'minimize',
]);

/** `prefer: more hover_time`: the word before the result, where there is one that states a direction. */
export function directionOf(line: Line | undefined): Named | undefined {
  if (!line || !isProperty(line) || line.key !== 'prefer' || !isNamed(line.value)) return undefined;
  return line.value.tail.length === 0 && DIRECTIONS.has(nameText(line.value)) ? line.value : undefined;
}

/** What is written behind a direction on its row, which is the result. */
export function directionProblem(value: Named): Problem | undefined {
  const line = value.$container;
  if (!isProperty(line) || directionOf(line) !== value) return undefined;
  const siblings = isPart(line.$container) ? line.$container.lines : [];
  const next = siblings[siblings.indexOf(line) + 1];
  const place = placeOf(value);
  const behind = next && isUnknown(next) && isOnSameRow(line, next) ? textOf(next).trim() : undefined;
  const name = behind !== undefined && isResultName(behind) ? behind : undefined;
  const description = `prefer names a result alone: prefer: ${name ?? 'hover_time'}; of each result it is known whether more or less is better`;
  const fixes = name === undefined || !next ? [] : [rewrite(span(place, placeOf(next)), name)];
  return problem(UNKNOWN_NAME, description, place, fixes);
}

/** What a shortlist varies, prefers and requires, where that depends on the build and the parts of other files. */
export function shortlistProblems(shortlist: PartNode): Problem[] {
  const read = readShortlist(shortlist);
  return [
    ...read.vary
      .flatMap(({ wrong }) => wrong ?? [])
      .map((wrong) => problem(CHECKS[wrong.sort], wrong.message, wrong.place)),
    ...otherFlights(read).map(({ message, place }) => problem(UNKNOWN_NAME, message, place)),
  ];
}

/** Of a wrong line, by what is wrong; an unresolved name in it is reported where names are resolved. */
const CHECKS = { value: MISSING_VALUE, dimension: WRONG_DIMENSION, name: UNKNOWN_NAME };
