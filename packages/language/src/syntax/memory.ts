/**
 * What was read from a document, kept until it is linked again. Whoever builds documents calls `forget` at each linking, which
 * also happens when anything a document refers to changes.
 */
import { type AstNode, AstUtils, type LangiumDocument } from 'langium';

/** By document, by what was read (a node of it, or itself), by who read it. */
const memory = new WeakMap<LangiumDocument, Map<AstNode | LangiumDocument, Map<unknown, unknown>>>();

/** A reader of nodes or documents that makes its value at first use. */
export function remembered<Read extends AstNode | LangiumDocument, T>(make: (read: Read) => T): (read: Read) => T {
  return function reader(read) {
    const document = '$type' in read ? AstUtils.getDocument(read) : read;
    const kept = entry(entry(memory, document), read);
    if (!kept.has(reader)) kept.set(reader, make(read));
    return kept.get(reader) as T;
  };
}

export function forget(document: LangiumDocument): void {
  memory.delete(document);
}

interface Keyed<K, V> {
  get(key: K): V | undefined;
  set(key: K, value: V): unknown;
}

function entry<K, A, B>(map: Keyed<K, Map<A, B>>, key: K): Map<A, B> {
  let found = map.get(key);
  if (!found) {
    found = new Map();
    map.set(key, found);
  }
  return found;
}
