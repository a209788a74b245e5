import { AstUtils, type CstNode, CstUtils, type LangiumDocument } from 'langium';
import type { FoldingRangeProvider } from 'langium/lsp';
import { type FoldingRange, FoldingRangeKind } from 'vscode-languageserver-types';
import { type File, isObservedNode, isPartNode, isRailNode, isRows, isUnknownNode } from '../grammar/generated/ast.ts';
import { fileOf } from '../syntax/nodes.ts';

/** Blocks fold to their first line, so do runs of comment lines and of `use` lines. */
export class FettleFolding implements FoldingRangeProvider {
  getFoldingRanges(document: LangiumDocument): FoldingRange[] {
    const file = fileOf(document);
    return [
      ...blocksOf(file),
      ...runsOf(
        commentsAloneOnTheirLine(document).map((comment) => comment.range.start.line),
        FoldingRangeKind.Comment,
      ),
      ...runsOf(
        file.uses.flatMap((use) => use.$cstNode?.range.start.line ?? []),
        FoldingRangeKind.Imports,
      ),
    ];
  }
}

function blocksOf(file: File): FoldingRange[] {
  const ranges: FoldingRange[] = [];
  for (const node of AstUtils.streamAllContents(file)) {
    const isBlock = isPartNode(node) || isRailNode(node) || isObservedNode(node) || isRows(node) || isUnknownNode(node);
    const range = node.$cstNode?.range;
    if (isBlock && range !== undefined && range.end.line > range.start.line) {
      const closed = node.$cstNode?.text.endsWith('}') === true;
      const endLine = closed ? range.end.line - 1 : range.end.line;
      if (endLine > range.start.line) {
        ranges.push({ startLine: range.start.line, endLine, kind: FoldingRangeKind.Region });
      }
    }
  }
  return ranges;
}

function commentsAloneOnTheirLine(document: LangiumDocument): CstNode[] {
  const root = document.parseResult.value.$cstNode;
  if (root === undefined) return [];
  return CstUtils.flattenCst(root)
    .filter((leaf) => leaf.tokenType.name === 'COMMENT')
    .filter((leaf) => {
      const { start } = leaf.range;
      return document.textDocument.getText({ start: { line: start.line, character: 0 }, end: start }).trim() === '';
    })
    .toArray();
}

function runsOf(lines: readonly number[], kind: FoldingRangeKind): FoldingRange[] {
  const ranges: FoldingRange[] = [];
  let first = lines[0];
  lines.forEach((line, index) => {
    if (lines[index + 1] !== line + 1) {
      if (first !== undefined && line > first) ranges.push({ startLine: first, endLine: line, kind });
      first = lines[index + 1];
    }
  });
  return ranges;
}
