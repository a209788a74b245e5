/** What is wrong with a file taken by itself, whatever its names refer to: such problems outlast edits of other files. */
import { AstUtils, GrammarUtils, type Reference } from 'langium';
import {
  type File,
  isAccept,
  isAlias,
  isChange,
  isKeep,
  isNote,
  isObserved,
  isPart,
  isProperty,
  isRail,
  isRequire,
  isUnknown,
  isUse,
  type Line,
  type Use,
} from '../../grammar/generated/ast.ts';
import type { Place } from '../../syntax/place.ts';
import type { Problem } from '../../syntax/problem.ts';
import { placeOf, placeOfKeyword, uriOf } from '../../syntax/source.ts';
import { schemaOf } from '../../vocabulary/properties.ts';
import type { BlockSchema } from '../../vocabulary/schema.ts';
import { clauseProblems } from './clause-problems.ts';
import { commaProblem } from './comma-problems.ts';
import { isContinued } from './continued-lines.ts';
import { flownProblem } from './craft-problems.ts';
import { legProblem } from './leg-problems.ts';
import {
  dashedName,
  duplicateProblems,
  misplacedProblem,
  missingName,
  unknownLineProblem,
  unknownProperty,
} from './line-problems.ts';
import { MISSING_VALUE } from './missing-value.ts';
import { type Found, flatten, problem } from './problem-text.ts';
import { requireProblems } from './requirement-problems.ts';
import { acceptProblems, changeProblems, keepProblems, noteProblems, observedProblems } from './sentence-problems.ts';
import { lineInUnit, valueProblem } from './value-problems.ts';

export function fileProblems(file: File): Problem[] {
  return flatten([
    ...file.uses.map(useProblem),
    ...file.unknowns.map((line) => unknownLineProblem(line, undefined, undefined)),
    ...file.parts.map(missingName),
    dashedNames(file),
    ...file.parts.map((part) => blockProblems(part.lines, schemaOf(part.kind))),
  ]);
}

function dashedNames(file: File): Problem[] {
  const dashed = AstUtils.streamAst(file)
    .filter((node) => isPart(node) || isRail(node) || isAlias(node) || isUse(node))
    .filter(({ name }) => name?.includes('-') === true)
    .toArray();
  // Hardly any file has one: no need to look where else it is written.
  if (dashed.length === 0) return [];
  const written = new Map<string, Place[]>();
  for (const reference of AstUtils.streamAst(file).flatMap(AstUtils.streamReferences)) {
    const { $refText: name, $refNode: node } = reference.reference as Reference;
    const place = node && { uri: uriOf(file), start: node.offset, end: node.end };
    if (place && name.includes('-')) written.set(name, [...(written.get(name) ?? []), place]);
  }
  return dashed.flatMap((node) => dashedName(node, written) ?? []);
}

/** What is opened, and as what: whether it is there is looked after where names are resolved. */
function useProblem(use: Use): Problem | undefined {
  if (use.path === undefined) return problem(MISSING_VALUE, 'open what? use "../parts"', placeOf(use));
  const hasAs = GrammarUtils.findNodeForKeyword(use.$cstNode, 'as') !== undefined;
  if (use.name !== undefined || !hasAs) return undefined;
  return problem(MISSING_VALUE, 'a name is missing after as', placeOfKeyword(use, 'as'));
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
    // What it tries depends on other files.
    if (property.shape === 'vary') return commaProblem(line, undefined, { key: line.key });
    // Its value goes on in what looks like the next line: that line's problem names the cause.
    if (isContinued(line, next, schema)) return undefined;
    if (property.shape === 'leg') return flatten([legProblem(line, property)]);
    const value = lineInUnit(line, schema) ?? valueProblem(line, property);
    // Of something else than what belongs here the clauses are something else's, too.
    return value?.id === 'wrong-kind' ? value : flatten([value, clauseProblems(line, property)]);
  }
  if (isRail(line)) return flatten([missingName(line), blockProblems(line.lines, schemaOf('rail'))]);
  if (isObserved(line)) return [...observedProblems(line), ...blockProblems(line.lines, schemaOf('observed'))];
  return sentenceProblems(line);
}

function sentenceProblems(line: Line): Found {
  if (isRequire(line)) return requireProblems(line);
  if (isKeep(line)) return keepProblems(line);
  if (isAccept(line)) return acceptProblems(line);
  if (isChange(line)) return changeProblems(line);
  return isNote(line) ? noteProblems(line) : undefined;
}
