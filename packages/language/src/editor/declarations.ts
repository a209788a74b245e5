/** What the name at the pointer declares or stands for, and everywhere it is written. */
import { AstUtils, type CstNode, CstUtils, GrammarUtils, type LangiumDocument, type LeafCstNode } from 'langium';
import {
  type Alias,
  isAlias,
  isNamed,
  isPart,
  isRail,
  isResult,
  isUse,
  type Part,
  type Rail,
  type Use,
} from '../grammar/generated/ast.ts';
import { chainOf } from '../model/chain.ts';
import type { FettleIndex } from '../model/references/index.ts';
import { partAround } from '../model/references/syntax.ts';

export type Declaration = Part | Rail | Alias | Use;

export interface Occurrence {
  readonly uri: string;
  readonly node: CstNode;
  readonly isDeclaration: boolean;
}

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

export function declarationAt(leaf: LeafCstNode): Declaration | undefined {
  const node = leaf.astNode;
  if (isNamed(node) || isResult(node)) {
    const target = [node.head, ...node.tail].find((reference) => reference?.$refNode?.offset === leaf.offset)?.ref;
    return isDeclaration(target) ? target : undefined;
  }
  const name = isDeclaration(node) ? GrammarUtils.findNodeForProperty(node.$cstNode, 'name') : undefined;
  return isDeclaration(node) && name?.offset === leaf.offset ? node : undefined;
}

function isDeclaration(node: unknown): node is Declaration {
  return isPart(node) || isRail(node) || isAlias(node) || isUse(node);
}

/** Every place where the declared name is written. A rail's name is that of its overrides in variants of its board as well. */
export function occurrencesOf(declaration: Declaration, index: FettleIndex): Occurrence[] {
  const declarations = isRail(declaration) ? railFamily(declaration, index) : [declaration];
  return declarations.flatMap((one) => {
    const uri = AstUtils.getDocument(one).uri.toString();
    const name = GrammarUtils.findNodeForProperty(one.$cstNode, 'name');
    const own: Occurrence[] = name === undefined ? [] : [{ uri, node: name, isDeclaration: true }];
    const references = index.referencesTo(one, uri).flatMap(({ $refNode, container }): Occurrence[] => {
      const source = AstUtils.getDocument(container).uri.toString();
      return $refNode === undefined ? [] : [{ uri: source, node: $refNode, isDeclaration: false }];
    });
    return [...own, ...references];
  });
}

/** The rail where it is first declared, and what boards that are like that one say of it. */
function railFamily(rail: Rail, index: FettleIndex): Rail[] {
  const board = partAround(rail);
  if (board === undefined) {
    return [rail];
  }
  const first = chainOf(board).parts.findLast((ancestor) => railsNamed(ancestor, rail.name).length > 0) ?? board;
  const boards = new Set([first]);
  const queue = [first];
  for (let next = queue.pop(); next !== undefined; next = queue.pop()) {
    for (const { container } of index.referencesTo(next, AstUtils.getDocument(next).uri.toString())) {
      const variant = container.$container;
      if (isPart(variant) && variant.base === container && !boards.has(variant)) {
        boards.add(variant);
        queue.push(variant);
      }
    }
  }
  return [...boards].flatMap((one) => railsNamed(one, rail.name));
}

function railsNamed(board: Part, name: string | undefined): Rail[] {
  return board.lines.filter(isRail).filter((rail) => rail.name === name);
}
