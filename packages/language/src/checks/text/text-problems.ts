/** What is wrong with a document's text, in the order of the text: one cause, one problem. */
import { type File, isLog, isObservedNode, isRows, type PartNode } from '../../grammar/generated/ast.ts';
import type { Assembled } from '../../model/assembled.ts';
import { type Defect, guarded } from '../../syntax/defects.ts';
import type { FileDocument } from '../../syntax/nodes.ts';
import { isWithin } from '../../syntax/place.ts';
import type { Problem } from '../../syntax/problem.ts';
import { placeOf } from '../../syntax/source.ts';
import type { Severity } from '../../vocabulary/severities.ts';
import { fileProblems } from './block-problems.ts';
import { boardProblems, craftProblems } from './craft-problems.ts';
import { TEXT_CHECKS } from './generated/text-checks.ts';
import { logProblems } from './log-problems.ts';
import { flatten } from './problem-words.ts';
import { missingRows, rowsProblems } from './row-problems.ts';
import { shortlistProblems } from './shortlist-problems.ts';

/** Its own, or that of its check. */
export const severityOfProblem = ({ id, severity }: Problem): Severity => severity ?? TEXT_CHECKS[id].severity;

/** `builds`: the document's builds, assembled. Names that refer to nothing are found elsewhere. */
export function textProblems(
  document: FileDocument,
  builds: ReadonlyMap<PartNode, Assembled>,
  defects: Defect[],
): Problem[] {
  const { parts } = document.parseResult.value;
  const uri = document.uri.toString();
  const { found = [], read = [] } = guarded(defects, uri, () => ownProblems(document)) ?? {};
  const newer = found.filter(({ id }) => id === 'newer-version');
  if (newer.length > 0) return newer;
  const unreadable = found.filter(({ id }) => id === 'syntax');
  const ofParts = parts.flatMap(
    (part) => guarded(defects, uri, () => partProblems(part, builds.get(part), unreadable)) ?? [],
  );
  return [...found, ...read, ...ofParts].sort((one, other) => one.place.start - other.place.start);
}

interface OwnProblems {
  readonly found: readonly Problem[];
  /** By what reads the lines. */
  readonly read: readonly Problem[];
}

/** By syntax tree: an edit of another file does not change them. */
const own = new WeakMap<File, OwnProblems>();

function ownProblems(document: FileDocument): OwnProblems {
  const tree = document.parseResult.value;
  let problems = own.get(tree);
  if (!problems) {
    const checks = Object.values(TEXT_CHECKS);
    problems = {
      found: checks.flatMap((check) => ('findInText' in check ? check.findInText(document) : [])),
      read: fileProblems(tree),
    };
    own.set(tree, problems);
  }
  return problems;
}

/** What depends on the parts and files that names refer to. */
function partProblems(part: PartNode, assembled: Assembled | undefined, unreadable: readonly Problem[]): Problem[] {
  const isWhole = !unreadable.some((problem) => isWithin(problem.place, placeOf(part)));
  return flatten([
    ...Object.values(TEXT_CHECKS).map((check) => ('findInPart' in check ? check.findInPart(part, isWhole) : [])),
    part.kind === 'bench' ? benchProblems(part, isWhole) : undefined,
    ...part.lines.filter(isObservedNode).flatMap(({ lines }) => lines.filter(isLog).map(logProblems)),
    part.kind === 'esc' ? boardProblems(part) : undefined,
    assembled ? craftProblems(part, assembled) : undefined,
    ...(part.kind === 'shortlist' ? shortlistProblems(part) : []),
  ]);
}

function benchProblems(bench: PartNode, isWhole: boolean): Problem[] {
  return flatten([isWhole ? missingRows(bench) : undefined, ...bench.lines.filter(isRows).map(rowsProblems)]);
}
