/** Small queries of the syntax tree that every file of this folder needs. */
import { type AstNode, type GenericAstNode, GrammarUtils, isAstNode, type LangiumDocument } from 'langium';
import {
  type File,
  isFile,
  isPartNode,
  isRailNode,
  type Line,
  type NamedNode,
  type PartNode,
  type RailNode,
} from '../grammar/generated/ast.ts';
import { chainOf } from './chain.ts';
import type { Place } from './place.ts';
import { partOfTarget, placeOf, placeOfFeature, targetOf } from './source.ts';

export type FileDocument = LangiumDocument<File>;

const isFileDocument = (document: LangiumDocument): document is FileDocument => isFile(document.parseResult.value);

/** The framework knows documents of any language; there is one here, and what it parses is always a file. */
export function fileDocument(document: LangiumDocument): FileDocument {
  if (isFileDocument(document)) return document;
  throw new TypeError(`${document.uri.toString()} has the root ${document.parseResult.value.$type}, expected a file`);
}

/** The root of a document's tree. */
export const fileOf = (document: LangiumDocument): File => fileDocument(document).parseResult.value;

/** Undefined for a built-in word and for a node that was just parsed. */
export function documentOf(node: AstNode): FileDocument | undefined {
  let root = node;
  while (root.$container) root = root.$container;
  return isFile(root) && root.$document ? fileDocument(root.$document) : undefined;
}

/** A node and all below it, each after what it is in. Plain loops: whole documents are visited, and streams take several times as long. */
export function nodesIn(root: AstNode): AstNode[] {
  const found: AstNode[] = [];
  collect(root as GenericAstNode, found);
  return found;
}

function collect(node: GenericAstNode, found: AstNode[]): void {
  found.push(node);
  for (const key in node) {
    if (key.startsWith('$')) continue;
    const value = node[key];
    if (Array.isArray(value)) {
      for (const child of value) if (isAstNode(child)) collect(child as GenericAstNode, found);
    } else if (isAstNode(value)) collect(value as GenericAstNode, found);
  }
}

export function partAround(node: AstNode): PartNode | undefined {
  let current: AstNode | undefined = node;
  while (current && !isPartNode(current)) current = current.$container;
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
export function partNamed(named: NamedNode | undefined): PartNode | undefined {
  return partOfTarget(targetOf(named));
}

/** Rails of a board by name, its own before inherited ones. */
export function railsOf(board: PartNode): Map<string, RailNode> {
  const rails = new Map<string, RailNode>();
  for (const part of chainOf(board).parts) {
    for (const line of part.lines) {
      if (isRailNode(line) && line.name && !rails.has(line.name)) rails.set(line.name, line);
    }
  }
  return rails;
}

/** Where something is given its name; where it begins when it has none. */
export function namePlace(node: AstNode): Place {
  const hasName = GrammarUtils.findNodeForProperty(node.$cstNode, 'name') !== undefined;
  return hasName ? placeOfFeature(node, 'name') : placeOf(node);
}
