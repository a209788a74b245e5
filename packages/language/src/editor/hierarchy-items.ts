/** Parts as entries of a hierarchy that a client walks step by step. */
import { AstUtils, type LangiumDocument, type LangiumDocuments, URI } from 'langium';
import type { CallHierarchyItem, Position, TypeHierarchyItem } from 'vscode-languageserver-types';
import type { PartNode } from '../grammar/generated/ast.ts';
import { LIBRARY_SCHEME } from '../resolve/keys.ts';
import { namePlace } from '../syntax/nodes.ts';
import { terminalSafe } from '../syntax/terminal-safe.ts';
import { partOfKindNamed } from '../trial/trial.ts';
import { partAt } from './declarations.ts';
import { rangeOf } from './place-ranges.ts';
import { symbolKindOf } from './symbols.ts';

export function itemOf(part: PartNode): CallHierarchyItem & TypeHierarchyItem {
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
    data: part.kind,
  };
}

/** The part at a place, where a hierarchy may begin. */
export function itemsAt(document: LangiumDocument, position: Position): ReturnType<typeof itemOf>[] | undefined {
  const part = partAt(document, document.textDocument.offsetAt(position));
  return part === undefined || isShipped(part) ? undefined : [itemOf(part)];
}

/** Found by its kind and name: the text may have moved on since the client was given the item. */
export function partOfItem(
  { uri, name, data: kind }: CallHierarchyItem,
  documents: LangiumDocuments,
): PartNode | undefined {
  const document = documents.getDocument(URI.parse(uri));
  return document && partOfKindNamed(document, kind, name);
}

/** The shipped parts are in no file that a client could open. */
export function isShipped(part: PartNode): boolean {
  return AstUtils.getDocument(part).uri.scheme === LIBRARY_SCHEME;
}
