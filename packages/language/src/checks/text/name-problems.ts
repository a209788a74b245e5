/** What is wrong with the names in a document: as data, each with what was probably meant. */
import type { LangiumDocument } from 'langium';
import { isNamedNode, isResultNode } from '../../grammar/generated/ast.ts';
import { type FettleLinkingError, lookupOf, referencesIn } from '../../resolve/linker.ts';
import type { Lookup, Missing } from '../../resolve/lookup.ts';
import type { Problem } from '../../syntax/problem.ts';
import { ambiguousName } from './duplicate.ts';
import { TEXT_CHECKS } from './generated/text-checks.ts';
import { directionProblem } from './shortlist-problems.ts';
import { dashedResult, nameElsewhere, unknownName } from './unknown-name.ts';
import { Unresolved } from './unresolved.ts';
import { wrongKind } from './wrong-kind.ts';

/** Empty before the document is linked. */
export function referenceProblems(document: LangiumDocument): Problem[] {
  const lookup = lookupOf(document);
  if (!lookup) return [];
  return [
    ...Object.values(TEXT_CHECKS).flatMap((check) =>
      'findInNames' in check ? [...check.findInNames(document, lookup)] : [],
    ),
    ...onceForEachFix([...unknownNames(document, lookup)]),
  ];
}

/** Names that one and the same edit would mend, such as those of a folder that is not opened, are one slip: reported at the first of them. */
function onceForEachFix(problems: readonly Problem[]): Problem[] {
  const wayOf = ({ fixes }: Problem): string | undefined =>
    fixes?.length === 1 ? JSON.stringify(fixes[0]?.edits) : undefined;
  const reported = new Map<string, number>();
  for (const problem of problems) {
    const way = wayOf(problem);
    if (way !== undefined) reported.set(way, (reported.get(way) ?? 0) + 1);
  }
  return problems.flatMap((problem) => {
    const way = wayOf(problem);
    if (way === undefined) return problem;
    const count = reported.get(way);
    reported.delete(way);
    if (count === undefined) return [];
    const others =
      count === 1 ? '' : ` (so ${count === 2 ? 'is 1 more name' : `are ${count - 1} more names`} of this file)`;
    return { ...problem, message: problem.message + others };
  });
}

function* unknownNames(document: LangiumDocument, lookup: Lookup): Iterable<Problem> {
  for (const reference of referencesIn(document.parseResult.value)) {
    if (!reference.$refNode) continue;
    const missing = (reference.error as FettleLinkingError | undefined)?.missing;
    if (!missing || missing.reason === 'dependent') continue;
    const dashed = isResultNode(reference.container) ? dashedResult(reference.container) : undefined;
    if (dashed) {
      if (dashed.isFirst) yield dashed.problem;
      continue;
    }
    yield unresolvedProblem(new Unresolved(document, lookup, reference, reference.$refNode), missing);
  }
}

function unresolvedProblem(unresolved: Unresolved, missing: Exclude<Missing, { reason: 'dependent' }>): Problem {
  switch (missing.reason) {
    case 'wrong-kind':
      return wrongKind(unresolved, missing.found);
    case 'ambiguous':
      return ambiguousName(
        unresolved,
        missing.entries.map(({ part }) => part),
      );
    case 'unknown': {
      const { container } = unresolved.reference;
      const directed = isNamedNode(container) ? directionProblem(container) : undefined;
      return nameElsewhere(unresolved) ?? directed ?? unknownName(unresolved);
    }
  }
}
