/** What the name at the pointer declares or represents. */
import { CstUtils, GrammarUtils, type LangiumDocument, type LeafCstNode } from 'langium';
import {
  isAlias,
  isNamedNode,
  isPartNode,
  isRailNode,
  isResultNode,
  isUseNode,
  type PartNode,
} from '../grammar/generated/ast.ts';
import type { DeclaringNode } from '../resolve/occurrences.ts';
import { partOfTarget } from '../syntax/source.ts';

/** The name under the pointer; at its end counts as well. */
export function nameLeafAt(document: LangiumDocument, offset: number): LeafCstNode | undefined {
  const root = document.parseResult.value.$cstNode;
  const isName = (leaf: LeafCstNode | undefined): leaf is LeafCstNode =>
    leaf !== undefined && !leaf.hidden && /^[\p{L}_]/u.test(leaf.text) && leaf.end >= offset;
  const candidates =
    root === undefined
      ? []
      : [CstUtils.findLeafNodeAtOffset(root, offset), CstUtils.findLeafNodeAtOffset(root, offset - 1)];
  return candidates.find(isName);
}

/** The part that the name at the pointer declares or represents; of a second name, the part that it was given to. */
export function partAt(document: LangiumDocument, offset: number): PartNode | undefined {
  const leaf = nameLeafAt(document, offset);
  return partOfTarget(leaf && declarationAt(leaf));
}

export function declarationAt(leaf: LeafCstNode): DeclaringNode | undefined {
  const node = leaf.astNode;
  if (isNamedNode(node) || isResultNode(node)) {
    const target = [node.head, ...node.tail].find((reference) => reference?.$refNode?.offset === leaf.offset)?.ref;
    return isDeclaration(target) ? target : undefined;
  }
  const name = isDeclaration(node) ? GrammarUtils.findNodeForProperty(node.$cstNode, 'name') : undefined;
  return isDeclaration(node) && name?.offset === leaf.offset ? node : undefined;
}

function isDeclaration(node: unknown): node is DeclaringNode {
  return isPartNode(node) || isRailNode(node) || isAlias(node) || isUseNode(node);
}
