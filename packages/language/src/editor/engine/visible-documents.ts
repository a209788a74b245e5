import { type LangiumDocument, type LangiumDocuments, type URI, UriUtils } from 'langium';
import type { File } from '../../grammar/generated/ast.ts';

/** Files whose names a file sees: its folder's, and those of every folder or file it opens with `use`. */
export function visibleDocuments(document: LangiumDocument, documents: LangiumDocuments): LangiumDocument[] {
  const folder = UriUtils.dirname(document.uri);
  const file = document.parseResult.value as Partial<File>;
  const opened = (file.uses ?? []).flatMap((use) =>
    use.path === undefined ? [] : documentsAt(UriUtils.resolvePath(folder, use.path), documents),
  );
  return [...documentsAt(folder, documents), ...opened];
}

/** The file itself, or the files directly in the folder. */
export function documentsAt(uri: URI, documents: LangiumDocuments): LangiumDocument[] {
  const file = documents.getDocument(uri);
  if (file !== undefined) {
    return [file];
  }
  return documents
    .getDocuments(uri)
    .filter((document) => UriUtils.equals(UriUtils.dirname(document.uri), UriUtils.normalize(uri)));
}
