/**
 * What was read from a document, kept until it is linked again. Whoever builds documents calls `forget` at each linking, which
 * also happens when anything a document refers to changes.
 */
import { type AstNode, AstUtils, type LangiumDocument } from 'langium';

const memory = new WeakMap<LangiumDocument, Map<unknown, unknown>>();

/** The value kept for a key (a syntax node, or the reading function itself), made at first use. */
export function remember<T>(node: AstNode | LangiumDocument, key: unknown, make: () => T): T {
  const document = '$type' in node ? AstUtils.getDocument(node) : node;
  let kept = memory.get(document);
  if (!kept) {
    kept = new Map();
    memory.set(document, kept);
  }
  if (!kept.has(key)) kept.set(key, make());
  return kept.get(key) as T;
}

export function forget(document: LangiumDocument): void {
  memory.delete(document);
}
