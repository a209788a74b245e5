/** Parts as entries of a hierarchy that a client walks step by step. */
import { AstUtils, type LangiumDocuments, URI } from 'langium';
import type { CallHierarchyItem, TypeHierarchyItem } from 'vscode-languageserver-types';
import type { Part } from '../grammar/generated/ast.ts';
import { LIBRARY_SCHEME } from '../resolve/keys.ts';
import { fileOf, namePlace } from '../syntax/nodes.ts';
import { terminalSafe } from '../syntax/terminal-safe.ts';
import { rangeOf } from './places.ts';
import { symbolKindOf } from './symbols.ts';

export function itemOf(part: Part): CallHierarchyItem & TypeHierarchyItem {
  const document = AstUtils.getDocument(part);
  const name = namePlace(part);
  const selectionRange = rangeOf(document, name.start, name.end);
  return {
    name: part.name ?? '',
    kind: symbolKindOf(part),
    detail: part.title === undefined ? part.kind : `${part.kind} · ${terminalSafe(part.title)}`,
    uri: document.uri.toString(),
    range: part.$cstNode?.range ?? selectionRange,
    selectionRange,
  };
}

/** Found by its name: the text may have moved on since the client was given the item. */
export function partOfItem({ uri, name }: CallHierarchyItem, documents: LangiumDocuments): Part | undefined {
  const document = documents.getDocument(URI.parse(uri));
  const file = document && fileOf(document);
  return file?.parts.find((part) => part.name === name);
}

/** The shipped parts are in no file that a client could open. */
export function isShipped(part: Part): boolean {
  return AstUtils.getDocument(part).uri.scheme === LIBRARY_SCHEME;
}
