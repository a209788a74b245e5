import type { IRecognitionException } from 'chevrotain';
import { type AstNode, type CstNode, GrammarUtils } from 'langium';
import {
  type ExpressionNode,
  type File,
  isObservedNode,
  isPartNode,
  isPropertyNode,
  isRailNode,
  isRequire,
  isRows,
  isUnknownNode,
  isUseNode,
  type Line,
  type ObservedNode,
  type PartNode,
  type RailNode,
  type Rows,
  type UnknownNode,
} from './generated/ast.ts';
import { syntaxError } from './syntax-error.ts';

type Block = PartNode | RailNode | ObservedNode | Rows | UnknownNode;

/**
 * What is wrong with braces and brackets. The grammar accepts all of it, so that one missing sign does not cost the rest of the file.
 * One cause gives one error: behind a line outside any block, what depends on it stays silent.
 */
export function structureErrors(file: File): IRecognitionException[] {
  const errors: IRecognitionException[] = [];
  let reported = false;
  const items = topLevel(file);
  for (const [index, item] of items.entries()) {
    if ('brace' in item) {
      if (!reported) errors.push(syntaxError('this } closes nothing', item.brace));
      reported = true;
    } else if (isPartNode(item.node) || isUnknownNode(item.node) || isUseNode(item.node)) {
      const isStray: boolean = reported && isUnknownNode(item.node) && item.node.words.length === 0;
      const colon = colonInHeader(item.node, items[index + 1]);
      if (colon) errors.push(colon);
      else if (!isStray && !isUseNode(item.node)) errors.push(...blockErrors(item.node));
      reported = isStray || (isPartNode(item.node) && !item.node.block);
    } else {
      if (!reported) errors.push(outsideError(item.node));
      reported = true;
    }
  }
  return errors;
}

type TopLevel = { node: AstNode; offset: number } | { brace: CstNode; offset: number };

/** Everything at the top of a file, in the order of the text. */
function topLevel(file: File): TopLevel[] {
  const nodes = [...file.uses, ...file.parts, ...file.unknowns, ...file.strays];
  const braces = GrammarUtils.findNodesForProperty(file.$cstNode, 'braces');
  return [
    ...nodes.map((node) => ({ node, offset: node.$cstNode?.offset ?? 0 })),
    ...braces.map((brace) => ({ brace, offset: brace.offset })),
  ].sort((a, b) => a.offset - b.offset);
}

/** `motor M1: {` reads as a header without its name, and a property. */
function colonInHeader(node: AstNode, next: TopLevel | undefined): IRecognitionException | undefined {
  if (!isPartNode(node) || node.block || !next || !('node' in next) || !isPropertyNode(next.node)) return undefined;
  const [start, key] = [firstLeaf(node), firstLeaf(next.node)];
  if (start.range.end.line !== key.range.start.line) return undefined;
  return syntaxError(`no colon in a header: ${node.kind} ${next.node.key} { … }`, key);
}

function outsideError(line: AstNode): IRecognitionException {
  const start = firstLeaf(line);
  return syntaxError(`${start.text} is outside any block: does a } come too early, or is a header missing?`, start);
}

function blockErrors(block: Block): IRecognitionException[] {
  if (isUnknownNode(block) && block.words.length === 0) {
    return [syntaxError('this { belongs to nothing: a kind and a name come before it', firstLeaf(block))];
  }
  if (!block.block) return isUnknownNode(block) || isComplete(block) ? [] : [missingBlock(block)];
  const inner = linesOf(block).flatMap(lineErrors);
  if (block.closed || inner.some(isUnclosed)) return inner;
  return [...inner, unclosed(likelyUnclosed(block))];
}

function lineErrors(line: Line): IRecognitionException[] {
  if (isRailNode(line) || isObservedNode(line) || isRows(line) || isUnknownNode(line)) return blockErrors(line);
  if (isRequire(line) && line.condition) return bracketErrors(line.condition);
  return [];
}

function linesOf(block: Block): Line[] {
  return isRows(block) ? [] : block.lines;
}

/** A table may take its rows from a file instead of a block. */
function isComplete(block: Block): boolean {
  return isRows(block) && GrammarUtils.findNodeForKeyword(block.$cstNode, 'from') !== undefined;
}

function missingBlock(block: Block): IRecognitionException {
  return syntaxError(`a block { … } is missing after ${nameOf(block)}`, firstLeaf(block));
}

const UNCLOSED = 'UnclosedBlock';

function unclosed(block: Block): IRecognitionException {
  return syntaxError(`a closing } is missing for ${nameOf(block)} opened here`, firstLeaf(block), UNCLOSED);
}

function isUnclosed(error: IRecognitionException): boolean {
  return error.name === UNCLOSED;
}

/** Where a `}` is further left than the line that it closes, it was meant for the block around: then the inner one lacks its own. */
function likelyUnclosed(block: Block): Block {
  for (const line of linesOf(block)) {
    if (!(isRailNode(line) || isObservedNode(line) || isRows(line) || isUnknownNode(line)) || !line.closed) continue;
    const brace = GrammarUtils.findNodeForProperty(line.$cstNode, 'closed');
    if (brace && startsLine(brace) && brace.range.start.character < indent(line)) return line;
  }
  return block;
}

function startsLine(node: CstNode): boolean {
  return indentAt(node) === node.range.start.character;
}

function indent(block: Block): number {
  return indentAt(firstLeaf(block));
}

function indentAt(node: CstNode): number {
  const lineStart = node.offset - node.range.start.character;
  return /^\s*/.exec(node.root.fullText.slice(lineStart, node.end))?.[0].length ?? 0;
}

/** `motor M1606`, `rail video`, `observed`. */
function nameOf(block: Block): string {
  if (isPartNode(block)) return [block.kind, block.name].filter(Boolean).join(' ');
  if (isRailNode(block)) return ['rail', block.name].filter(Boolean).join(' ');
  if (isUnknownNode(block)) return block.words.slice(0, 2).join(' ');
  return isRows(block) ? 'rows' : 'observed';
}

function bracketErrors(expression: ExpressionNode): IRecognitionException[] {
  return expression.operands.flatMap((operand) => {
    if (operand.$type === 'Quantity') return [];
    if (operand.$type === 'GroupNode' && !operand.open) {
      return [syntaxError('not needs brackets: not ( … )', firstLeaf(operand))];
    }
    const opened = operand.$type === 'GroupNode' ? operand.open : operand.call;
    const parts = operand.$type === 'GroupNode' ? (operand.inner ? [operand.inner] : []) : operand.arguments;
    const inner = parts.flatMap(bracketErrors);
    const bracket = GrammarUtils.findNodeForKeyword(operand.$cstNode, '(');
    if (!opened || operand.closed || inner.length > 0 || !bracket) return inner;
    return [syntaxError('a closing ) is missing for the ( opened here', bracket)];
  });
}

function firstLeaf(node: AstNode): CstNode {
  let leaf = node.$cstNode as CstNode;
  while ('content' in leaf) {
    const next = (leaf.content as CstNode[]).find((child) => !('hidden' in child && child.hidden));
    if (!next) break;
    leaf = next;
  }
  return leaf;
}
