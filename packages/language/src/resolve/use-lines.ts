/** Paths as `use` lines write them, and edits to these lines. */
import { type LangiumDocument, type URI, UriUtils } from 'langium';
import type { File } from '../grammar/generated/ast.ts';
import { lineBreakOf } from '../grammar/value-texts.ts';
import { fileOf } from '../syntax/nodes.ts';
import type { Place } from '../syntax/place.ts';
import type { ProblemFix } from '../syntax/problem.ts';
import { placeOf } from '../syntax/source.ts';

/** A folder or file as seen from another file: `../parts`, `./motors.fettle`. */
export function pathTo(from: URI, target: URI): string {
  const path = UriUtils.relative(UriUtils.dirname(from), target);
  if (path === '') return '.';
  return path.startsWith('.') ? path.replace(/\/$/, '') : `./${path}`;
}

/** Opens a folder: behind the last `use`, else behind the version, else at the top. `from` is where the file will be. */
export function addUse(document: LangiumDocument, folder: URI, from: URI = document.uri): ProblemFix {
  const line = `use "${pathTo(from, folder)}"`;
  const text = document.textDocument.getText();
  const newline = lineBreakOf(text);
  const { uses, version } = fileOf(document);
  const last = uses.at(-1)?.$cstNode;
  const version1 = version === undefined ? undefined : /^[^\S\r\n]*fettle[^\r\n]*/m.exec(text);
  const end = last?.end ?? (version1 ? version1.index + version1[0].length : undefined);
  const place: Place = { uri: document.uri.toString(), start: end ?? 0, end: end ?? 0 };
  // A comment behind the last `use` stays on its line.
  if (end !== undefined) {
    const restOfLine = /^[^\r\n]*/.exec(text.slice(end))?.[0].length ?? 0;
    const offset = end + restOfLine;
    return {
      title: `add ${line}`,
      edits: [{ place: { ...place, start: offset, end: offset }, newText: `${newline}${line}` }],
    };
  }
  return { title: `add ${line}`, edits: [{ place, newText: `${line}${newline}${newline}` }] };
}

/** The whole of a `use` line with its line break, to be taken out. */
export function removeUse(document: LangiumDocument, use: File['uses'][number]): ProblemFix {
  const text = document.textDocument.getText();
  const place = placeOf(use);
  const lineBreak = /^[^\S\r\n]*(\r?\n)?/.exec(text.slice(place.end))?.[0].length ?? 0;
  return {
    title: `take out use "${use.path ?? ''}"`,
    edits: [{ place: { ...place, end: place.end + lineBreak }, newText: '' }],
  };
}
