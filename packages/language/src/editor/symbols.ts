import { type AstNode, type AstNodeDescription, type CstNode, GrammarUtils, type LangiumDocument } from 'langium';
import type { DocumentSymbolProvider, NodeKindProvider } from 'langium/lsp';
import { CompletionItemKind, type DocumentSymbol, SymbolKind } from 'vscode-languageserver-types';
import {
  isAlias,
  isObservedNode,
  isPartNode,
  isPropertyNode,
  isRailNode,
  isUseNode,
  type Line,
  type PartNode,
  type RailNode,
} from '../grammar/generated/ast.ts';
import { fileOf } from '../syntax/nodes.ts';
import { terminalSafe } from '../syntax/terminal-safe.ts';

/** Outline: the parts and builds of a file, with their rails, pack options and observations. */
export class FettleSymbols implements DocumentSymbolProvider {
  getSymbols(document: LangiumDocument): DocumentSymbol[] {
    return fileOf(document).parts.flatMap((part) => symbolOfPart(part));
  }
}

function symbolOfPart(part: PartNode): DocumentSymbol[] {
  const detail = part.title === undefined ? part.kind : `${part.kind} · ${terminalSafe(part.title)}`;
  const symbol = symbolOf(part, 'name', part.name || `(${part.kind} without a name)`, symbolKindOf(part), detail);
  return symbol.map((own) => ({ ...own, children: part.lines.flatMap(symbolOfLine) }));
}

function symbolOfLine(line: Line): DocumentSymbol[] {
  if (isRailNode(line)) return symbolOf(line, 'name', line.name || '(rail without a name)', SymbolKind.Field, 'rail');
  if (isObservedNode(line)) {
    return symbolOf(line, 'title', terminalSafe(line.title || '(observation)'), SymbolKind.Event, 'observed');
  }
  if (isPropertyNode(line) && line.key === 'pack') {
    const alias = line.clauses.find(isAlias);
    const text = GrammarUtils.findNodeForProperty(line.$cstNode, 'value')?.text;
    return symbolOf(line, 'value', terminalSafe(alias?.name ?? text ?? '(pack)'), SymbolKind.Field, 'pack');
  }
  return [];
}

function symbolOf(
  node: AstNode,
  nameProperty: string,
  name: string,
  kind: SymbolKind,
  detail: string,
): DocumentSymbol[] {
  const whole: CstNode | undefined = node.$cstNode;
  if (whole === undefined) return [];
  const selection = GrammarUtils.findNodeForProperty(whole, nameProperty) ?? whole;
  return [{ name, kind, detail, range: whole.range, selectionRange: selection.range }];
}

export function symbolKindOf(node: PartNode | RailNode): SymbolKind {
  if (isRailNode(node)) return SymbolKind.Field;
  switch (node.kind) {
    case 'build':
      return SymbolKind.Class;
    case 'rules':
      return SymbolKind.Interface;
    case 'bench':
      return SymbolKind.Event;
    default:
      return SymbolKind.Struct;
  }
}

/** Which of the protocol's symbols represents which of our nodes. */
export class FettleNodeKinds implements NodeKindProvider {
  getSymbolKind(node: AstNode | AstNodeDescription): SymbolKind {
    const target = '$type' in node ? node : node.node;
    return isPartNode(target) || isRailNode(target)
      ? symbolKindOf(target)
      : isUseNode(target)
        ? SymbolKind.Namespace
        : SymbolKind.Struct;
  }

  getCompletionItemKind(): CompletionItemKind {
    return CompletionItemKind.Reference;
  }
}
