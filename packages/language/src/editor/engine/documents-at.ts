import { type LangiumDocument, type LangiumDocuments, type URI, UriUtils } from 'langium';

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
