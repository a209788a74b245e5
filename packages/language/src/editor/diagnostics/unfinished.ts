/** What may still become right with the next keys: a word on the way to a longer one, a number without its unit, a line that goes on. */
import type { LangiumDocument } from 'langium';
import type { Diagnostic } from 'vscode-languageserver-types';
import { UNITS } from '../../units/table.ts';
import type { TextId } from '../../vocabulary/findings.ts';
import { lineAround } from './writing-place.ts';

/** Whether something longer than what is before the cursor could be written there: what completion knows. */
export type Prefixes = (document: LangiumDocument, offset: number) => boolean;

/** Findings that a line loses by going on. */
const TO_COME: ReadonlySet<string> = new Set<TextId>(['missing-value', 'missing-unit']);

/** Signs behind which something follows. */
const OPEN_END = /(?:[-+./,:=<>(*]|\s(?:step|at|against|with|like|in|from|to|of|on|for|after|below|duty))\s*$/;

const UNIT_NAMES: readonly string[] = UNITS.flatMap(({ name, aliases }) => [name, ...(aliases ?? [])]);

/**
 * Whether a finding on the line that is being written may go by itself when the line goes on at `cursor`. What is before the word under
 * the cursor does not change any more: findings there are reported.
 */
export function isUnfinished(
  document: LangiumDocument,
  cursor: number,
  { code, range }: Diagnostic,
  prefixes: Prefixes,
): boolean {
  const text = document.textDocument.getText();
  const [start, end] = [document.textDocument.offsetAt(range.start), document.textDocument.offsetAt(range.end)];
  const line = lineAround(text, cursor);
  const before = line.text.slice(0, cursor - line.start);
  const isAtEnd = /^[\s"})]*$/.test(line.text.slice(cursor - line.start));
  // Where a number is deleted, what followed it is under the cursor.
  const blanks = /^[ \t]*/.exec(text.slice(cursor))?.[0].length ?? 0;
  const isTouched = start <= cursor + blanks && end >= line.start + before.trimEnd().length;
  if (isAtEnd && TO_COME.has(String(code))) return true;
  if (isAtEnd && code === 'syntax' && (isTouched || isOpened(text.slice(start, end)))) return true;
  // The unit behind the last of several numbers is that of all.
  const isOfWhole = code === 'implausible-value' && !/[:"]/.test(text.slice(end, cursor));
  if (!isTouched && !(isOfWhole && start >= line.start && end <= cursor)) return false;
  if (TO_COME.has(String(code)) || isInString(before) || OPEN_END.test(before)) return true;
  // Behind a number and a blank its unit may follow.
  if (/\d\s+$/.test(before)) return true;
  const word = /[\p{L}\p{M}\p{Nd}_%°./*-]+$/u.exec(before)?.[0] ?? '';
  return /^[\d.-]+$/.test(word) || isNaming(before) || isUnitOnTheWay(word) || prefixes(document, cursor);
}

/** A bracket, a quote or a header whose rest is still to come. */
const isOpened = (text: string): boolean => /^(?:[("{]|[a-z]+$)/.test(text);

const isInString = (before: string): boolean => (before.match(/"/g) ?? []).length % 2 === 1;

/** `motor Na`, `esc: Board as To`: a name that is being given is right at its end only. */
export const isNaming = (before: string): boolean => /^\s*[a-z]+\s+\w+$|\sas\s+\w*$/.test(before);

/** `rp` on the way to `rpm/V`, `V/ce` on the way to `V/cell`. */
function isUnitOnTheWay(word: string): boolean {
  const last = /[/*]?([^/*\d]+)$/.exec(word)?.[1] ?? '';
  return /[/*]/.test(word) && UNIT_NAMES.some((name) => name.length > last.length && name.startsWith(last));
}
