/** What is wrong with a leg of a flight. */
import { isFigureNode, type PropertyNode } from '../../grammar/generated/ast.ts';
import { readLeg } from '../../model/leg-lines.ts';
import { conditionOf } from '../../syntax/clauses.ts';
import type { Problem } from '../../syntax/problem.ts';
import { placeOf } from '../../syntax/source.ts';
import { LENGTH, TIME } from '../../units/dimension.ts';
import type { Property } from '../../vocabulary/schema.ts';
import { clauseProblems } from './clause-problems.ts';
import { commaProblem } from './comma-problems.ts';
import { hasUnreadWords } from './continued-lines.ts';
import { problem, rewrite } from './problem-words.ts';
import { amountProblem } from './quantity-problems.ts';

const FLOWN = { of: 'a leg', dimensions: [TIME, LENGTH], units: ['min', 's', 'm', 'km'] };
const HOVERED = { of: 'a leg', dimensions: [TIME], units: ['min', 's'] };

/** One message per line; a name that refers to nothing is reported where names are resolved. */
export function legProblem(line: PropertyNode, schema: Property): Problem | undefined {
  const { value } = line;
  const expected = conditionOf(line, 'hover') ? HOVERED : FLOWN;
  const comma = commaProblem(line, expected, { key: line.key });
  if (comma) return comma;
  const { wrong } = readLeg(line);
  // What is missing may be among the words that could not be read.
  if (wrong?.id === 'missing-value' && hasUnreadWords(line)) return undefined;
  if (wrong) {
    const { id, message, place, instead } = wrong;
    return problem(id, message, place, [instead && rewrite(instead.place, instead.text)]);
  }
  const amount = isFigureNode(value) ? amountProblem(value, value.more, expected) : undefined;
  if (amount) return amount;
  if (isFigureNode(value) && value.negative)
    return problem('implausible-value', 'a leg is not shorter than nothing', placeOf(value));
  return clauseProblems(line, schema)[0];
}
