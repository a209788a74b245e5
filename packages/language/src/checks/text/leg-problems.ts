/** What is wrong with a leg of a flight. */
import { isFigure, type Property as PropertyLine } from '../../grammar/generated/ast.ts';
import { readLeg } from '../../model/leg-lines.ts';
import { conditionOf } from '../../syntax/clauses.ts';
import type { Problem } from '../../syntax/problem.ts';
import { placeOf } from '../../syntax/source.ts';
import { LENGTH, TIME } from '../../units/dimension.ts';
import type { Property } from '../../vocabulary/schema.ts';
import { CLAUSE } from './clause.ts';
import { clauseProblems } from './clause-problems.ts';
import { commaProblem } from './comma-problems.ts';
import { isUnfinished } from './continued-lines.ts';
import { IMPLAUSIBLE_VALUE } from './implausible-value.ts';
import { MISSING_VALUE } from './missing-value.ts';
import { problem, rewrite } from './problem-text.ts';
import { amountProblem } from './quantity-problems.ts';
import { WRONG_DIMENSION } from './wrong-dimension.ts';

const FLOWN = { of: 'a leg', dimensions: [TIME, LENGTH], units: ['min', 's', 'm', 'km'] };
const HOVERED = { of: 'a leg', dimensions: [TIME], units: ['min', 's'] };

/** One message per line; a name that refers to nothing is reported where names are resolved. */
export function legProblem(line: PropertyLine, schema: Property): Problem | undefined {
  const { value } = line;
  const expected = conditionOf(line, 'hover') ? HOVERED : FLOWN;
  const comma = commaProblem(line, expected, { key: line.key });
  if (comma) return comma;
  const { wrong } = readLeg(line);
  // What is missing may be among the words that could not be read.
  if (wrong?.sort === 'missing' && isUnfinished(line)) return undefined;
  if (wrong) {
    const check = {
      missing: MISSING_VALUE,
      value: IMPLAUSIBLE_VALUE,
      dimension: WRONG_DIMENSION,
      clause: CLAUSE,
    }[wrong.sort];
    const { place, text } = wrong.instead ?? {};
    return problem(check, wrong.message, wrong.place, [place && text !== undefined ? rewrite(place, text) : undefined]);
  }
  const amount = isFigure(value) ? amountProblem(value, value.more, expected) : undefined;
  if (amount) return amount;
  if (isFigure(value) && value.negative)
    return problem(IMPLAUSIBLE_VALUE, 'a leg is not shorter than nothing', placeOf(value));
  return clauseProblems(line, schema)[0];
}
