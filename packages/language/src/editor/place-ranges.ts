import { type LangiumDocument, type LangiumDocuments, URI } from 'langium';
import type { Range, TextEdit } from 'vscode-languageserver-types';
import type { Place } from '../syntax/place.ts';

/** The range of a stretch of text, whatever the offsets: inside the text, never through the middle of a character. */
export function rangeOf(document: LangiumDocument, start: number, end: number): Range {
  const text = document.textDocument.getText();
  const from = clip(text, Math.min(start, end), 'back');
  const to = clip(text, Math.max(start, end), 'on');
  return { start: document.textDocument.positionAt(from), end: document.textDocument.positionAt(to) };
}

/** A squiggle needs something to be under: an empty stretch takes one character of its line with it. */
export function visibleRangeOf(document: LangiumDocument, start: number, end: number): Range {
  if (end > start) return rangeOf(document, start, end);
  const text = document.textDocument.getText();
  const next = text[start];
  if (next === undefined || next === '\n' || next === '\r') return rangeOf(document, start - 1, start);
  return rangeOf(document, start, start + 1);
}

/** Edits of one document. */
export function toTextEdits(
  edits: readonly { readonly place: Place; readonly newText: string }[],
  document: LangiumDocument,
): TextEdit[] {
  return edits.map(({ place, newText }) => ({ range: rangeOf(document, place.start, place.end), newText }));
}

export function documentOfPlace(place: Place, documents: LangiumDocuments): LangiumDocument | undefined {
  return documents.getDocument(URI.parse(place.uri));
}

function clip(text: string, offset: number, towards: 'back' | 'on'): number {
  const inside = Math.max(0, Math.min(Number.isFinite(offset) ? Math.trunc(offset) : 0, text.length));
  return splitsCharacter(text, inside) ? inside + (towards === 'back' ? -1 : 1) : inside;
}

function splitsCharacter(text: string, offset: number): boolean {
  const before = text.charCodeAt(offset - 1);
  const after = text.charCodeAt(offset);
  const splitsPair = before >= 0xd800 && before <= 0xdbff && after >= 0xdc00 && after <= 0xdfff;
  const splitsLineEnd = before === 0x0d && after === 0x0a;
  return splitsPair || splitsLineEnd;
}
