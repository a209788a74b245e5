import { CstUtils, DocumentState, type LangiumDocument } from 'langium';
import { createServerRequestHandler } from 'langium/lsp';
import type { SelectionRangeParams } from 'vscode-languageserver-protocol';
import type { Position, SelectionRange } from 'vscode-languageserver-types';
import type { OwnFeature } from './feature.ts';

/** Growing selections: the word, what it is part of, the line, the block, the file. */
export const selectionRanges: OwnFeature<'selectionRangeProvider'> = {
  offered: () => true,
  answer: (connection, shared) =>
    connection.onSelectionRanges(
      createServerRequestHandler<SelectionRangeParams, SelectionRange[], never>(
        (_services, document, { positions }) => positions.map((position) => selectionRangeAt(document, position)),
        shared,
        DocumentState.Parsed,
      ),
    ),
};

function selectionRangeAt(document: LangiumDocument, position: Position): SelectionRange {
  const root = document.parseResult.value.$cstNode;
  const offset = document.textDocument.offsetAt(position);
  const leaf = root && (CstUtils.findLeafNodeAtOffset(root, offset) ?? CstUtils.findLeafNodeBeforeOffset(root, offset));
  const text = document.textDocument;
  const stretches: { start: number; end: number }[] = [];
  if (leaf !== undefined && leaf.offset <= offset && leaf.end >= offset) {
    stretches.push({ start: leaf.offset, end: leaf.end });
    for (let node = leaf.astNode; node.$container !== undefined; node = node.$container) {
      if (node.$cstNode !== undefined) stretches.push({ start: node.$cstNode.offset, end: node.$cstNode.end });
    }
  }
  stretches.push({ start: 0, end: text.getText().length });
  return nest(document, growing(stretches, offset), position);
}

/** Each stretch strictly larger than the one before and around it. */
function growing(
  stretches: readonly { start: number; end: number }[],
  offset: number,
): { start: number; end: number }[] {
  const result: { start: number; end: number }[] = [];
  for (const next of stretches) {
    const last = result.at(-1);
    const holds = next.start <= offset && next.end >= offset;
    const grows =
      last === undefined ||
      (next.start <= last.start && next.end >= last.end && next.end - next.start > last.end - last.start);
    if (holds && grows) result.push(next);
  }
  return result;
}

function nest(
  document: LangiumDocument,
  stretches: readonly { start: number; end: number }[],
  position: Position,
): SelectionRange {
  const text = document.textDocument;
  let selection: SelectionRange | undefined;
  for (const { start, end } of stretches.toReversed()) {
    const range = { start: text.positionAt(start), end: text.positionAt(end) };
    selection = selection === undefined ? { range } : { range, parent: selection };
  }
  return selection ?? { range: { start: position, end: position } };
}
