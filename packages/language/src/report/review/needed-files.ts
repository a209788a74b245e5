/** Of a version's files, those that a review reads. */
import { kindAndName } from '../present/report-words.ts';
import type { ChangeReach, Outlines } from './change-reach.ts';
import { type Files, lastStep } from './file-tree.ts';
import type { Side } from './side.ts';

/** Fettle files that are needed, and the rows that they read. */
export function neededFiles(files: Files, { needed }: ChangeReach, outlines: Outlines): Files {
  const wanted = new Map<string, Uint8Array>();
  const chunks = [...needed].flatMap((path) => outlines.get(path)?.chunks ?? []);
  const rows = new Set(chunks.flatMap((chunk) => chunk.rows).map(lastStep));
  for (const [path, bytes] of files) if (needed.has(path) || rows.has(lastStep(path))) wanted.set(path, bytes);
  return wanted;
}

/** The old files with the parts that are new, so that single changes may name them. */
export function withNewParts(files: Files, before: Side, after: Side, pathOf: (uri: string) => string): Files {
  const texts = new Map<string, string>();
  const decoder = new TextDecoder();
  const known = new Set([...before.declarations.values()].map(kindAndName));
  for (const document of after.documents) {
    const path = pathOf(document.uri.toString());
    const text = document.textDocument.getText();
    const added = [...after.declarations.values()].filter(
      (one) =>
        one.place.uri === document.uri.toString() && !before.declarations.has(one.id) && !known.has(kindAndName(one)),
    );
    if (added.length === 0) continue;
    const old = files.get(path);
    const head = old ? decoder.decode(old) : `${[...text.matchAll(/^[ \t]*use [^\n]*/gm)].join('\n')}\n`;
    texts.set(path, `${head}\n${added.map(({ whole }) => text.slice(whole.start, whole.end)).join('\n\n')}\n`);
  }
  const encoder = new TextEncoder();
  return new Map([...files, ...[...texts].map(([path, text]) => [path, encoder.encode(text)] as const)]);
}
