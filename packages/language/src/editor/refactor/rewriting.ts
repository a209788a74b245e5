/** What refactorings are made of: new texts of files, and where they come from. */
import { AstUtils, type LangiumDocument } from 'langium';
import type { PartNode } from '../../grammar/generated/ast.ts';
import { format } from '../../grammar/layout.ts';
import { lineBreakOf } from '../../grammar/value-texts.ts';
import type { FettleIndex } from '../../resolve/name-index.ts';
import { type FileDocument, fileDocument } from '../../syntax/nodes.ts';
import { isBuiltInWord } from '../../vocabulary/words.ts';
import { blockTextOf } from './block-text.ts';
import type { TextChange } from './text-change.ts';

export interface Rewriting {
  /** By file. */
  readonly texts: ReadonlyMap<string, string>;
  /** The same piece by piece, for files whose layout stays as it was. */
  readonly pieces?: ReadonlyMap<string, readonly TextChange[]>;
  /** Names that are declared anew or removed. */
  readonly names: readonly string[];
  /** A part whose name was made up here: editors that can rename prompt for a better one. */
  readonly named?: string;
  /** A file that does not exist yet. */
  readonly created?: string;
  /** Files that are judged for all: the others resolve the names in question as one of these does. All that depend on the texts where not stated. */
  readonly judged?: readonly string[];
  /** The builds are made of other parts with the same results: results are compared, not what they are computed from. */
  readonly isComputed?: true;
}

export interface Refactoring {
  readonly title: string;
  readonly kind: string;
  /** Undefined where it cannot be done after all. */
  readonly make: () => Rewriting | undefined;
  /** So many builds may depend on it that they are judged only when it is chosen. */
  readonly isJudgedWhenTaken?: true;
}

export interface RefactoringRequest {
  readonly document: FileDocument;
  readonly index: FettleIndex;
  /** Offsets of the selection. */
  readonly start: number;
  readonly end: number;
}

/** The texts after changes, laid out where they were before. */
export function changed(
  changes: ReadonlyMap<LangiumDocument, readonly TextChange[]>,
): Required<Pick<Rewriting, 'texts' | 'pieces'>> {
  const texts = new Map<string, string>();
  const pieces = new Map<string, readonly TextChange[]>();
  for (const [document, own] of changes) {
    const before = document.textDocument.getText();
    const after = own
      .toSorted((one, other) => other.from - one.from || other.to - one.to)
      .reduce((text, { from, to, text: piece }) => text.slice(0, from) + piece + text.slice(to), before);
    const laidOut = laidOutHead(document, own, after) ?? (format(before) === before ? format(after) : after);
    const file = document.uri.toString();
    texts.set(file, laidOut);
    if (laidOut === after) pieces.set(file, own);
  }
  return { texts, pieces };
}

/** Where only lines above the first part change, the layout of these alone. */
function laidOutHead(document: LangiumDocument, changes: readonly TextChange[], after: string): string | undefined {
  const [first] = fileDocument(document).parseResult.value.parts;
  const before = document.textDocument.getText();
  const cut = first && blockTextOf(fileDocument(document), first)?.from;
  if (cut === undefined || before.startsWith('\uFEFF') || changes.some(({ to }) => to > cut)) return undefined;
  const own = before.slice(0, cut);
  const head = after.slice(0, after.length - (before.length - cut));
  const gap = /\s*$/.exec(own)?.[0] ?? '';
  if (format(own).trimEnd() !== own.trimEnd()) return after;
  if (head.trim() === '') return before.slice(cut);
  return format(head).trimEnd() + (gap || newlineOf(document).repeat(2)) + before.slice(cut);
}

/** A name that no file of the workspace declares or mentions. */
export function freeName(index: FettleIndex, wanted: string): string {
  for (let number = 1; ; number++) {
    const name = number === 1 ? wanted : `${wanted}${/\d$/.test(wanted) ? '_' : ''}${number}`;
    if (index.everywhere(name).length === 0 && index.mentioning([name]).size === 0 && !isBuiltInWord(name)) return name;
  }
}

export const newlineOf = (document: LangiumDocument): string => lineBreakOf(document.textDocument.getText());

export const homeOf = (part: PartNode): FileDocument => fileDocument(AstUtils.getDocument(part));

/** The part whose block the selection is in. */
export function partAroundSelection({ document, start, end }: RefactoringRequest): PartNode | undefined {
  return document.parseResult.value.parts.find(
    ({ $cstNode: node }) => node !== undefined && node.offset <= start && node.end >= end,
  );
}

/** Whether the selection is in the header of a part, up to its `{`. */
export function isInHeader({ start }: RefactoringRequest, open: number): boolean {
  return start <= open;
}
