import { type LangiumDocument, type LangiumDocuments, URI, UriUtils } from 'langium';
import type { UseNode } from '../../grammar/generated/ast.ts';
import { lookupOf } from '../../resolve/linker.ts';

/** The files that a `use` opens. */
export function documentsOpened(
  document: LangiumDocument,
  use: UseNode,
  documents: LangiumDocuments,
): LangiumDocument[] {
  const place = placeOpened(document, use);
  return place ? documentsAt(place, documents) : [];
}

/** The file or folder that a `use` opens: that in which its names are resolved, a package of parts included. */
export function placeOpened(document: LangiumDocument, use: UseNode): URI | undefined {
  const { file, folder } = lookupOf(document)?.openings.forUse(document, use) ?? {};
  const place = file ?? folder;
  return place === undefined ? undefined : URI.parse(place);
}

/** The file itself, or the files directly in the folder. */
function documentsAt(uri: URI, documents: LangiumDocuments): LangiumDocument[] {
  const file = documents.getDocument(uri);
  if (file !== undefined) return [file];
  return documents
    .getDocuments(uri)
    .filter((document) => UriUtils.equals(UriUtils.dirname(document.uri), UriUtils.normalize(uri)));
}
