/** What is wrong with a file taken by itself, whatever its names refer to: such problems outlast edits of other files. */
import { GrammarUtils } from 'langium';
import {
  type File,
  isAccept,
  isAlias,
  isChangeNode,
  isKeep,
  isNoteNode,
  isObservedNode,
  isPartNode,
  isPropertyNode,
  isRailNode,
  isRequire,
  isUnknownNode,
  isUseNode,
  type Line,
  type UseNode,
} from '../../grammar/generated/ast.ts';
import { referencesIn } from '../../resolve/linker.ts';
import { nodesIn } from '../../syntax/nodes.ts';
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
import { type AnyProblems, flatten, problem } from './problem-words.ts';
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
  const dashed = nodesIn(file)
    .filter((node) => isPartNode(node) || isRailNode(node) || isAlias(node) || isUseNode(node))
    .filter(({ name }) => name?.includes('-') === true);
  // Hardly any file has one: no need to look where else it is written.
  if (dashed.length === 0) return [];
  const written = new Map<string, Place[]>();
  for (const { $refText: name, $refNode: node } of referencesIn(file)) {
    const place = node && { uri: uriOf(file), start: node.offset, end: node.end };
    if (place && name.includes('-')) written.set(name, [...(written.get(name) ?? []), place]);
  }
  return dashed.flatMap((node) => dashedName(node, written) ?? []);
}

/** What is opened, and as what: whether it is there is looked after where names are resolved. */
function useProblem(use: UseNode): Problem | undefined {
  if (use.path === undefined) return problem('missing-value', 'open what? use "../parts"', placeOf(use));
  const hasAs = GrammarUtils.findNodeForKeyword(use.$cstNode, 'as') !== undefined;
  if (use.name !== undefined || !hasAs) return undefined;
  return problem('missing-value', 'a name is missing after as', placeOfKeyword(use, 'as'));
}

function blockProblems(lines: readonly Line[], schema: BlockSchema): Problem[] {
  return flatten([
    ...lines.map((line, index) => lineProblems(line, schema, lines[index - 1], lines[index + 1])),
    duplicateProblems(lines, schema),
    schema.properties.flown ? flownProblem(lines) : undefined,
  ]);
}

function lineProblems(line: Line, schema: BlockSchema, before: Line | undefined, next: Line | undefined): AnyProblems {
  const misplaced = misplacedProblem(line, schema.kind);
  if (misplaced) return [misplaced];
  if (isUnknownNode(line)) return unknownLineProblem(line, schema, before);
  if (isPropertyNode(line)) {
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
  if (isRailNode(line)) return flatten([missingName(line), blockProblems(line.lines, schemaOf('rail'))]);
  if (isObservedNode(line)) return [...observedProblems(line), ...blockProblems(line.lines, schemaOf('observed'))];
  return sentenceProblems(line);
}

function sentenceProblems(line: Line): AnyProblems {
  if (isRequire(line)) return requireProblems(line);
  if (isKeep(line)) return keepProblems(line);
  if (isAccept(line)) return acceptProblems(line);
  if (isChangeNode(line)) return changeProblems(line);
  return isNoteNode(line) ? noteProblems(line) : undefined;
}
