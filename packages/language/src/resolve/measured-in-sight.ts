/** What was measured, as far as a file may read of it. */
import type { LangiumDocument } from 'langium';
import { isPartNode, type PartNode } from '../grammar/generated/ast.ts';
import { byEntryPlace } from './folder-names.ts';
import { lookupOf } from './linker.ts';
import { folderOf } from './lookup.ts';
import { isObservedBuild } from './part-signature.ts';

/** Test stands in a file's folder, and in what it opens. */
export function* benchesInSight(document: LangiumDocument): Iterable<PartNode> {
  for (const { node } of lookupOf(document)?.partsInScope(document, ['bench']) ?? [])
    if (node && isPartNode(node)) yield node;
}

/** The same for builds on which something was observed; those of the file itself first. */
export function observedInSight(document: LangiumDocument): PartNode[] {
  const lookup = lookupOf(document);
  if (!lookup) return [];
  const { index, openings } = lookup;
  const file = document.uri.toString();
  const inFolder = [...index.observedInFolder(folderOf(document))].sort(byEntryPlace);
  const opened = [...openings.unqualified(document)].flatMap((opening) =>
    [...openings.allEntries(opening, ['build'])].filter(({ part }) => isObservedBuild(part)).sort(byEntryPlace),
  );
  const entries = [
    ...inFolder.filter((one) => one.file === file),
    ...inFolder.filter((one) => one.file !== file),
    ...opened,
  ];
  return [...new Set(entries.map(({ part }) => part))];
}
