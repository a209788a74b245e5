/** Small queries of the syntax tree that every file of this folder needs. */
import { type AstNode, GrammarUtils, type LangiumDocument } from 'langium';
import {
  type File,
  isFile,
  isPart,
  isRail,
  type Line,
  type Named,
  type Part,
  type Rail,
} from '../grammar/generated/ast.ts';
import { chainOf } from './chain.ts';
import type { Place } from './place.ts';
import { partOfTarget, placeOf, placeOfFeature, targetOf } from './source.ts';

/** The root of a document's tree: there is one language, and what it parses is always a file. */
export function fileOf(document: LangiumDocument): File {
  const root = document.parseResult.value;
  if (isFile(root)) return root;
  throw new TypeError(`${document.uri.toString()} has the root ${root.$type}, expected a file`);
}

/** Undefined for a built-in word and for a node that was just parsed. */
export function documentOf(node: AstNode): LangiumDocument<File> | undefined {
  let root = node;
  while (root.$container) root = root.$container;
  return isFile(root) ? (root.$document as LangiumDocument<File> | undefined) : undefined;
}

export function partAround(node: AstNode): Part | undefined {
  let current: AstNode | undefined = node;
  while (current && !isPart(current)) current = current.$container;
  return current;
}

export function isOnSameRow(before: Line, line: Line): boolean {
  return before.$cstNode?.range.end.line === line.$cstNode?.range.start.line;
}

/** The line of the same block that follows on the same row: words that could not be read as part of the one before, as a rule. */
export function nextOnRow(line: Line): Line | undefined {
  const siblings: readonly Line[] = 'lines' in line.$container ? line.$container.lines : [];
  const next = siblings[siblings.indexOf(line) + 1];
  return next && isOnSameRow(line, next) ? next : undefined;
}

/** The part that a whole dotted name refers to. */
export function partNamed(named: Named | undefined): Part | undefined {
  return partOfTarget(targetOf(named));
}

/** Rails of a board by name, its own before inherited ones. */
export function railsOf(board: Part): Map<string, Rail> {
  const rails = new Map<string, Rail>();
  for (const part of chainOf(board).parts) {
    for (const line of part.lines) {
      if (isRail(line) && line.name && !rails.has(line.name)) rails.set(line.name, line);
    }
  }
  return rails;
}

/** Where something is given its name; where it begins when it has none. */
export function namePlace(node: AstNode): Place {
  const hasName = GrammarUtils.findNodeForProperty(node.$cstNode, 'name') !== undefined;
  return hasName ? placeOfFeature(node, 'name') : placeOf(node);
}
