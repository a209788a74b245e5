/** Packs in order. */
import { CodeActionKind } from 'vscode-languageserver-types';
import { isPropertyNode, type PartNode, type PropertyNode } from '../../grammar/generated/ast.ts';
import type { Part as ReadPart } from '../../model/build.ts';
import { partOf } from '../../model/parts.ts';
import { namedPart } from '../../syntax/entries.ts';
import { type BlockText, blockTextOf } from './block-text.ts';
import { changed, isInHeader, partAroundSelection, type Refactoring, type RefactoringRequest } from './rewriting.ts';
import type { TextChange } from './text-change.ts';

export function packOrders(asked: RefactoringRequest): Refactoring[] {
  return [...packLines(asked), ...packParts(asked)];
}

/** Of a build, its `pack:` lines; at one of them or at its name. */
function packLines(asked: RefactoringRequest): Refactoring[] {
  const { document, start, end } = asked;
  const build = partAroundSelection(asked);
  const block = build && blockTextOf(document, build);
  if (build?.kind !== 'build' || !block || block.isOneRow) return [];
  const isPack = (node: unknown): node is PropertyNode => isPropertyNode(node) && node.key === 'pack';
  const lines = block.lines.filter(({ node }) => isPack(node));
  const isAtOne = lines.some(({ from, to }) => from <= start && to >= end);
  const parts = lines.flatMap(({ node }) => (isPack(node) ? (namedPart(node) ?? []) : []));
  if (!(isAtOne || isInHeader(asked, block.open)) || parts.length < lines.length) return [];
  return sorted(asked, `Sort the packs of ${build.name} by cells and capacity`, lines, parts);
}

/** Of a file, its packs; at one of them. */
function packParts(asked: RefactoringRequest): Refactoring[] {
  const { document } = asked;
  const part = partAroundSelection(asked);
  if (part?.kind !== 'pack') return [];
  const packs = document.parseResult.value.parts.filter(({ kind, name }) => kind === 'pack' && name !== undefined);
  const blocks = packs
    .map((pack) => blockTextOf(document, pack))
    .filter((block): block is BlockText => block !== undefined);
  if (blocks.length < packs.length) return [];
  return sorted(asked, 'Sort the packs of this file by cells and capacity', blocks, packs);
}

interface Stretch {
  readonly from: number;
  readonly to: number;
}

/** Each takes another's place, with its comments; what is between them stays. */
function sorted(
  { document }: RefactoringRequest,
  title: string,
  stretches: readonly Stretch[],
  packs: readonly PartNode[],
): Refactoring[] {
  const text = document.textDocument.getText();
  const own = stretches.flatMap((stretch, index) => {
    const pack = packs[index];
    return pack ? [{ stretch, pack: partOf(pack) }] : [];
  });
  const order = own.toSorted((one, other) => byCells(one.pack, other.pack));
  const isInOrder = order.every((one, index) => one === own[index]);
  if (isInOrder || own.some(({ pack }) => cellsOf(pack) === undefined)) return [];
  const make = () => {
    const changes = own.flatMap(({ stretch: { from, to } }, index): TextChange[] => {
      const source = order[index]?.stretch;
      if (!source) return [];
      const [place, piece] = [text.slice(from, to), text.slice(source.from, source.to)];
      const [before = ''] = /^\s*\n|^/.exec(place) ?? [];
      const [after = ''] = /(?:\r?\n)?$/.exec(place) ?? [];
      return [{ from, to, text: before + piece.replace(/^(?:[^\S\r\n]*\r?\n)+/, '').replace(/\r?\n$/, '') + after }];
    });
    return { ...changed(new Map([[document, changes]])), names: [] };
  };
  return [{ title, kind: CodeActionKind.RefactorRewrite, make }];
}

const cellsOf = (pack: ReadPart): number | undefined => pack.cells('cells')?.series;

const byCells = (one: ReadPart, other: ReadPart): number =>
  (cellsOf(one) ?? 0) - (cellsOf(other) ?? 0) ||
  (one.figure('capacity')?.value ?? 0) - (other.figure('capacity')?.value ?? 0);
