/** Test stands that a file may read. */
import type { LangiumDocument } from 'langium';
import { isPart, type Part } from '../grammar/generated/ast.ts';
import { lookupOf } from './linker.ts';

/** Those in a file's folder, and in what it opens. */
export function* benchesInSight(document: LangiumDocument): Iterable<Part> {
  for (const { node } of lookupOf(document)?.partsInScope(document, ['bench']) ?? [])
    if (node && isPart(node)) yield node;
}
