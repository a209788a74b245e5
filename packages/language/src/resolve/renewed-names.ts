/** Names the language had before are read as those it has now; where they are is kept for a hint. */
import type { AstNode } from 'langium';
import {
  type File,
  isCondition,
  isFigureNode,
  isKeep,
  isNamedNode,
  isObservedNode,
  isPartNode,
  isPropertyNode,
  isRailNode,
  isResultNode,
  type PropertyNode,
} from '../grammar/generated/ast.ts';
import { nodesIn } from '../syntax/nodes.ts';
import { FORMER_MARGIN, formerProperty, formerWord, MAY_BE_FORMER } from '../vocabulary/former-names.ts';
import type { BlockKind } from '../vocabulary/schema.ts';
import { FettleReference } from './reference.ts';

export interface Renewed {
  readonly former: string;
  readonly now: string;
  readonly node: AstNode;
  readonly feature: 'key' | 'head';
  /** A number that changed with the name. */
  readonly number?: string;
}

const renewedIn = new WeakMap<File, readonly Renewed[]>();

/** Gives each former name of a freshly read text its present one. */
export function renewNames(file: File, text: string): void {
  if (!MAY_BE_FORMER.test(text)) return;
  const renewed: Renewed[] = [];
  for (const node of nodesIn(file)) {
    if (isPropertyNode(node)) renewed.push(...renewProperty(node));
    else if (isNamedNode(node) && isMarginWord(node)) {
      const reference: unknown = node.head;
      const { former, now } = FORMER_MARGIN;
      if (!(reference instanceof FettleReference) || reference.$refText !== former) continue;
      reference.respell(now);
      renewed.push({ former, now, node, feature: 'head' });
    } else if (isResultNode(node) || (isNamedNode(node) && isPropertyNode(node.$container))) {
      const reference: unknown = node.head;
      if (!(reference instanceof FettleReference)) continue;
      const former = reference.$refText;
      const now = formerWord(former);
      // `both` is a choice of one property; a part may bear the name.
      const isOfProperty = isNamedNode(node) && isPropertyNode(node.$container) && node.$container.key !== 'type';
      if (now === undefined || isOfProperty) continue;
      reference.respell(now);
      renewed.push({ former, now, node, feature: 'head' });
    }
  }
  if (renewed.length > 0) renewedIn.set(file, renewed);
}

/** The name behind `in` of `keep 20 % in reserve on …`. */
function isMarginWord({ $container: clause }: AstNode): boolean {
  return isCondition(clause) && clause.word === 'in' && isKeep(clause.$container);
}

function renewProperty(line: PropertyNode): Renewed[] {
  const kind = blockOf(line.$container);
  const former = line.key;
  const next = kind && formerProperty(kind, former);
  if (!next) return [];
  line.key = next.name;
  const { value } = line;
  if (next.times === undefined || !isFigureNode(value)) return [{ former, now: next.name, node: line, feature: 'key' }];
  const number = String(Number(value.number) * next.times);
  if (!Number.isFinite(Number(number))) return [{ former, now: next.name, node: line, feature: 'key' }];
  value.number = number;
  return [{ former, now: next.name, node: line, feature: 'key', number }];
}

function blockOf(node: AstNode): BlockKind | undefined {
  if (isPartNode(node)) return node.kind;
  if (isRailNode(node)) return 'rail';
  return isObservedNode(node) ? 'observed' : undefined;
}

export const renewedNames = (file: File): readonly Renewed[] => renewedIn.get(file) ?? [];
