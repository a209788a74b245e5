/** What is wrong with a document's text, in the order of the text: one cause, one problem. */
import type { LangiumDocument } from 'langium';
import { type File, isLog, isObserved, isRail, isRows, type Part as PartNode } from '../../grammar/generated/ast.ts';
import type { Assembled } from '../../model/assembled.ts';
import { type Defect, guarded } from '../../syntax/defects.ts';
import { isWithin } from '../../syntax/place.ts';
import type { Problem } from '../../syntax/problem.ts';
import { placeOf } from '../../syntax/source.ts';
import { fileProblems } from './block-problems.ts';
import { boardProblems, craftProblems } from './craft-problems.ts';
import { formerNameProblems } from './former-name.ts';
import { contradictions } from './implausible-value.ts';
import { logProblems } from './log-problems.ts';
import { missingInPart, missingInRail } from './missing-value.ts';
import { newerVersion } from './newer-version.ts';
import { flatten } from './problem-text.ts';
import { missingRows, rowsProblems } from './row-problems.ts';
import { shortlistProblems } from './shortlist-problems.ts';
import { syntaxProblems } from './syntax.ts';

/** `builds`: the document's builds, assembled. Names that refer to nothing are found elsewhere. */
export function textProblems(
  document: LangiumDocument<File>,
  builds: ReadonlyMap<PartNode, Assembled>,
  defects: Defect[],
): Problem[] {
  const newer = newerVersion(document);
  if (newer) return [newer];
  const { parts } = document.parseResult.value;
  const uri = document.uri.toString();
  const { syntax = [], file = [] } = guarded(defects, uri, () => ownProblems(document)) ?? {};
  const ofParts = parts.flatMap(
    (part) => guarded(defects, uri, () => partProblems(part, builds.get(part), syntax)) ?? [],
  );
  const found = [...syntax, ...file, ...ofParts];
  return found.sort((one, other) => one.place.start - other.place.start);
}

interface OwnProblems {
  readonly syntax: readonly Problem[];
  readonly file: readonly Problem[];
}

/** By syntax tree: an edit of another file does not change them. */
const own = new WeakMap<File, OwnProblems>();

function ownProblems(document: LangiumDocument<File>): OwnProblems {
  const tree = document.parseResult.value;
  let problems = own.get(tree);
  if (!problems) {
    problems = { syntax: syntaxProblems(document), file: [...fileProblems(tree), ...formerNameProblems(tree)] };
    own.set(tree, problems);
  }
  return problems;
}

/** What depends on the parts and files that names refer to. */
function partProblems(part: PartNode, assembled: Assembled | undefined, syntax: readonly Problem[]): Problem[] {
  // Where the text could not be read, what seems to be missing may only have been lost.
  const isWhole = !syntax.some((problem) => isWithin(problem.place, placeOf(part)));
  return flatten([
    isWhole && part.block ? missingInPart(part) : undefined,
    ...part.lines.filter(isRail).map((rail) => (isWhole ? missingInRail(rail, part) : undefined)),
    part.kind === 'bench' ? benchProblems(part, isWhole) : undefined,
    ...part.lines.filter(isObserved).flatMap(({ lines }) => lines.filter(isLog).map(logProblems)),
    contradictions(part),
    part.kind === 'esc' ? boardProblems(part) : undefined,
    assembled ? craftProblems(part, assembled) : undefined,
    ...(part.kind === 'shortlist' ? shortlistProblems(part) : []),
  ]);
}

function benchProblems(bench: PartNode, isWhole: boolean): Problem[] {
  return flatten([isWhole ? missingRows(bench) : undefined, ...bench.lines.filter(isRows).map(rowsProblems)]);
}
