/** What is wrong with a line that states what a shortlist tries. */
import type { Part as PartNode, Property as PropertyLine } from '../../grammar/generated/ast.ts';
import { isPart } from '../../grammar/generated/ast.ts';
import { readShortlist } from '../../model/shortlists.ts';
import type { Problem } from '../../syntax/problem.ts';
import { placeOf } from '../../syntax/source.ts';
import { MISSING_VALUE } from './missing-value.ts';
import { problem } from './problem-text.ts';
import { UNKNOWN_NAME } from './unknown-name.ts';
import { WRONG_DIMENSION } from './wrong-dimension.ts';

/** One message a line: an unresolved name in it is reported where names are resolved. */
export function varyProblem(line: PropertyLine): Problem | undefined {
  const block = line.$container;
  if (!isPart(block)) return undefined;
  const { start } = placeOf(line);
  const found = readShortlist(block as PartNode).vary.find(({ place }) => place.start === start)?.wrong;
  if (!found) return undefined;
  const check = { value: MISSING_VALUE, dimension: WRONG_DIMENSION, name: UNKNOWN_NAME }[found.sort];
  return problem(check, found.message, found.place);
}
