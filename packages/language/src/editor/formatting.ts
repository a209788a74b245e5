import type { LangiumDocument, TextDocument } from 'langium';
import type { Formatter } from 'langium/lsp';
import type {
  DocumentFormattingParams,
  DocumentOnTypeFormattingParams,
  DocumentRangeFormattingParams,
  Range,
  TextEdit,
} from 'vscode-languageserver-protocol';
import { format } from '../grammar/layout.ts';
import { requestedText } from './engine/requested-text.ts';

/** Lays a file out as the command `fettle format` does, in the fewest edits, so that the cursor and breakpoints stay. */
export class FettleFormatter implements Formatter {
  readonly formatOnTypeOptions = { firstTriggerCharacter: '\n', moreTriggerCharacter: ['}'] };

  formatDocument(document: LangiumDocument, params: DocumentFormattingParams): TextEdit[] {
    const text = requestedText(document, params).getText();
    return editsBetween(text, format(text));
  }

  formatDocumentRange(document: LangiumDocument, params: DocumentRangeFormattingParams): TextEdit[] {
    const { start, end } = params.range;
    return editsWithin(
      requestedText(document, params),
      start.line,
      end.character === 0 && end.line > start.line ? end.line - 1 : end.line,
    );
  }

  /** After a line break the line above is laid out, after a brace its own line. */
  formatDocumentOnType(document: LangiumDocument, params: DocumentOnTypeFormattingParams): TextEdit[] {
    const line = params.ch === '\n' ? params.position.line - 1 : params.position.line;
    return editsWithin(requestedText(document, params), line, line);
  }
}

function editsWithin(document: TextDocument, firstLine: number, lastLine: number): TextEdit[] {
  const text = document.getText();
  const laidOut = format(text);
  const edits = editsOfLines(text, laidOut) ?? editsBetween(text, laidOut);
  return edits.filter(({ range }) => range.start.line >= firstLine && range.end.line <= lastLine);
}

/** It ends a line for the client and is none for the language: lines would be counted differently. */
const LONE_RETURN = /\r(?!\n)/;

/** Of each line with content, where only empty lines come or go; undefined where lines are joined or parted. */
function editsOfLines(before: string, after: string): TextEdit[] | undefined {
  if (LONE_RETURN.test(before)) return undefined;
  const description = (line: string) => line.replace(/\s+/g, '');
  const newLines = after.split('\n').filter((line) => description(line) !== '');
  const oldLines = before.split('\n');
  const edits: TextEdit[] = [];
  let next = 0;
  for (const [line, oldLine] of oldLines.entries()) {
    if (description(oldLine) === '') continue;
    const newLine = newLines[next++] ?? '';
    if (description(newLine) !== description(oldLine)) return undefined;
    if (newLine !== oldLine) edits.push(editWithinLine(line, oldLine, newLine));
  }
  return next === newLines.length ? edits : undefined;
}

/** Line by line when the lines correspond, otherwise one edit over all that differs. */
export function editsBetween(before: string, after: string): TextEdit[] {
  if (before === after) return [];
  if (LONE_RETURN.test(before)) return [wholeEdit(before, after)];
  const oldLines = before.split('\n');
  const newLines = after.split('\n');
  if (oldLines.length === newLines.length) {
    return oldLines.flatMap((oldLine, line) => {
      const newLine = newLines[line] ?? '';
      return oldLine === newLine ? [] : [editWithinLine(line, oldLine, newLine)];
    });
  }
  let same = 0;
  while (same < oldLines.length && same < newLines.length && oldLines[same] === newLines[same]) {
    same++;
  }
  let sameAtEnd = 0;
  while (
    sameAtEnd < oldLines.length - same &&
    sameAtEnd < newLines.length - same &&
    oldLines.at(-1 - sameAtEnd) === newLines.at(-1 - sameAtEnd)
  ) {
    sameAtEnd++;
  }
  return [replaceLines(oldLines, newLines, same, sameAtEnd)];
}

function wholeEdit(before: string, after: string): TextEdit {
  const lines = before.split(/\r\n|\r|\n/);
  const end = { line: lines.length - 1, character: lines.at(-1)?.length ?? 0 };
  return { range: { start: { line: 0, character: 0 }, end }, newText: after };
}

function replaceLines(
  oldLines: readonly string[],
  newLines: readonly string[],
  same: number,
  sameAtEnd: number,
): TextEdit {
  const replacement = newLines.slice(same, newLines.length - sameAtEnd).join('\n');
  const lastChanged = oldLines.length - sameAtEnd;
  if (sameAtEnd > 0) {
    const range: Range = { start: { line: same, character: 0 }, end: { line: lastChanged, character: 0 } };
    return { range, newText: newLines.length - sameAtEnd > same ? `${replacement}\n` : '' };
  }
  const end = { line: oldLines.length - 1, character: oldLines.at(-1)?.length ?? 0 };
  if (same === oldLines.length) return { range: { start: end, end }, newText: `\n${replacement}` };
  if (same === newLines.length) {
    return { range: { start: { line: same - 1, character: oldLines[same - 1]?.length ?? 0 }, end }, newText: '' };
  }
  return { range: { start: { line: same, character: 0 }, end }, newText: replacement };
}

function editWithinLine(line: number, oldLine: string, newLine: string): TextEdit {
  const shorter = Math.min(oldLine.length, newLine.length);
  let start = 0;
  while (start < shorter && oldLine[start] === newLine[start]) {
    start++;
  }
  let end = 0;
  while (end < shorter - start && oldLine.at(-1 - end) === newLine.at(-1 - end)) {
    end++;
  }
  return {
    range: { start: { line, character: start }, end: { line, character: oldLine.length - end } },
    newText: newLine.slice(start, newLine.length - end),
  };
}
