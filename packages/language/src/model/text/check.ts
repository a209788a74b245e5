/** What is wrong with a document's text, in the order of the text: one cause, one problem. */
import { GrammarUtils, type LangiumDocument } from 'langium';
import {
  type File,
  isAccept,
  isChange,
  isKeep,
  isNote,
  isObserved,
  isProperty,
  isRail,
  isRequire,
  isRows,
  isUnknown,
  type Line,
  type Part as PartNode,
  type Use,
} from '../../grammar/generated/ast.ts';
import { schemaOf } from '../../vocabulary/properties.ts';
import type { BlockKind, BlockSchema } from '../../vocabulary/schema.ts';
import type { Assembled } from '../builds.ts';
import type { Place } from '../place.ts';
import type { Problem } from '../problem.ts';
import { placeOf, placeOfKeyword } from '../source.ts';
import { clauseProblems } from './clauses.ts';
import { boardProblems, craftProblems, flownProblem } from './craft.ts';
import {
  duplicateProblems,
  isContinued,
  misplacedProblem,
  missingName,
  unknownLineProblem,
  unknownProperty,
} from './lines.ts';
import { problem } from './report.ts';
import { missingInPart, missingInRail } from './required.ts';
import { requireProblems } from './requirements.ts';
import { missingRows, rowsProblems } from './rows.ts';
import { acceptProblems, changeProblems, keepProblems, noteProblems, observedProblems } from './sentences.ts';
import { newerVersion, syntaxProblems } from './syntax.ts';
import { valueProblem } from './values.ts';

type Found = Problem | undefined | readonly Problem[];

/** `builds`: the document's builds, assembled. Names that stand for nothing are found elsewhere. */
export function textProblems(document: LangiumDocument<File>, builds: ReadonlyMap<PartNode, Assembled>): Problem[] {
  const newer = newerVersion(document);
  if (newer) return [newer];
  const file = document.parseResult.value;
  const syntax = syntaxProblems(document);
  const found: Found[] = [
    syntax,
    ...file.uses.map(useProblem),
    ...file.unknowns.map((line) => unknownLineProblem(line, undefined, undefined)),
    ...file.parts.map((part) => partProblems(part, builds.get(part), syntax)),
  ];
  return flatten(found).sort((one, other) => one.place.start - other.place.start);
}

/** What is opened, and as what: whether it is there is looked after where names are resolved. */
function useProblem(use: Use): Problem | undefined {
  if (use.path === undefined) return problem('missing-value', 'open what? use "../parts"', placeOf(use));
  const hasAs = GrammarUtils.findNodeForKeyword(use.$cstNode, 'as') !== undefined;
  if (use.name !== undefined || !hasAs) return undefined;
  return problem('missing-value', 'a name is missing behind as', placeOfKeyword(use, 'as'));
}

function flatten(found: readonly Found[]): Problem[] {
  return found.flatMap((one) => one ?? []);
}

function partProblems(part: PartNode, assembled: Assembled | undefined, syntax: readonly Problem[]): Problem[] {
  const schema = schemaOf(part.kind);
  // Where the text could not be read, what seems to be missing may only have been lost.
  const isWhole = !syntax.some((problem) => contains(placeOf(part), problem.place));
  return flatten([
    missingName(part),
    isWhole && part.block ? missingInPart(part) : undefined,
    blockProblems(part.lines, schema),
    ...part.lines.filter(isRail).map((rail) => (isWhole ? missingInRail(rail, part) : undefined)),
    part.kind === 'bench' && isWhole ? missingRows(part) : undefined,
    part.kind === 'esc' ? boardProblems(part) : undefined,
    assembled ? craftProblems(part, assembled) : undefined,
  ]);
}

function contains(outer: Place, inner: Place): boolean {
  return inner.start >= outer.start && inner.end <= outer.end;
}

function blockProblems(lines: readonly Line[], schema: BlockSchema): Problem[] {
  return flatten([
    ...lines.map((line, index) => lineProblems(line, schema, lines[index - 1], lines[index + 1])),
    duplicateProblems(lines, schema),
    schema.properties.flown ? flownProblem(lines) : undefined,
  ]);
}

function lineProblems(line: Line, schema: BlockSchema, before: Line | undefined, next: Line | undefined): Found {
  const misplaced = misplacedProblem(line, schema.kind);
  if (misplaced) return [misplaced];
  if (isUnknown(line)) return unknownLineProblem(line, schema, before);
  if (isProperty(line)) {
    const property = Object.hasOwn(schema.properties, line.key) ? schema.properties[line.key] : undefined;
    if (!property) return unknownProperty(line, schema);
    // Its value goes on in what looks like the next line: that line's problem names the cause.
    if (isContinued(line, next, schema)) return undefined;
    return flatten([valueProblem(line, property), clauseProblems(line, property)]);
  }
  if (isRail(line)) return flatten([missingName(line), blockProblems(line.lines, schemaOf('rail'))]);
  if (isObserved(line)) return [...observedProblems(line), ...blockProblems(line.lines, schemaOf('observed'))];
  return sentenceProblems(line, schema.kind);
}

function sentenceProblems(line: Line, kind: BlockKind): Found {
  if (isRequire(line)) return requireProblems(line);
  if (isKeep(line)) return keepProblems(line);
  if (isAccept(line)) return acceptProblems(line);
  if (isChange(line)) return changeProblems(line);
  if (isNote(line)) return noteProblems(line);
  return isRows(line) && kind === 'bench' ? rowsProblems(line) : undefined;
}
