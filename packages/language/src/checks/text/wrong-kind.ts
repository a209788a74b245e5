/** A name of another kind than its line takes. Where something that is no name is written, the reader of the value finds it. */
import type { PartNode } from '../../grammar/generated/ast.ts';
import { namePlace } from '../../syntax/nodes.ts';
import type { Problem } from '../../syntax/problem.ts';
import { listed, withArticle } from '../../vocabulary/phrasing.ts';
import { problem } from './problem-words.ts';
import type { TextCheck } from './text-check.ts';
import type { Unresolved } from './unresolved.ts';

export const WRONG_KIND: TextCheck = {
  id: 'wrong-kind',
  severity: 'error',
  isReportedByReaders: true,
  page: {
    title: 'A part of another kind is expected here',
    cause: 'Each line takes parts of certain kinds: `esc:` an esc, `pack:` a pack.',
    criterion: 'Read from the text alone.',
    standing: 'The language.',
    remedy: 'Write the name of a part of the right kind.',
    fixes: ['choice'],
    fails: `build Mixed like Healthy {
  pack: M1805
}`,
    passes: `build Sorted like Healthy {
  pack: Mast900_4S as Sorted
}`,
  },
};

export function wrongKind(unresolved: Unresolved, found: PartNode): Problem {
  const { name, place } = unresolved;
  const wanted = unresolved.wantedKinds();
  const expected = wanted ? listed(wanted.map(withArticle), 'or') : 'something else';
  const description = `${name} is ${withArticle(found.kind)}, expected ${expected}${unresolved.hint()}`;
  const related = [{ message: `${name} is declared here`, place: namePlace(found) }];
  return problem('wrong-kind', description, place, unresolved.replacements(), related);
}
