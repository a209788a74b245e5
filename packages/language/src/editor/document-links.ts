import { AstUtils, GrammarUtils, type LangiumDocument, type LangiumDocuments } from 'langium';
import type { DocumentLinkProvider, LangiumServices } from 'langium/lsp';
import type { DocumentLink } from 'vscode-languageserver-types';
import { isLog, isRows } from '../grammar/generated/ast.ts';
import { placeOfPath } from '../resolve/keys.ts';
import { fileOf } from '../syntax/nodes.ts';
import { documentsOpened } from './engine/documents-opened.ts';

/** Links the path of a `use` to its file, or to the first file of its folder; the file of bench rows to itself. */
export class FettleLinks implements DocumentLinkProvider {
  readonly #documents: LangiumDocuments;

  constructor(services: LangiumServices) {
    this.#documents = services.shared.workspace.LangiumDocuments;
  }

  getDocumentLinks(document: LangiumDocument): DocumentLink[] {
    const file = fileOf(document);
    const links: DocumentLink[] = [];
    for (const use of file.uses) {
      const range = GrammarUtils.findNodeForProperty(use.$cstNode, 'path')?.range;
      const targets = documentsOpened(document, use, this.#documents);
      const [first] = targets.map((target) => target.uri.toString()).sort();
      if (range !== undefined && first !== undefined) {
        const tooltip = targets.length === 1 ? 'Open the file' : `Open the first of ${targets.length} files`;
        links.push({ range, target: first, tooltip });
      }
    }
    for (const rows of AstUtils.streamAllContents(file).filter((node) => isRows(node) || isLog(node))) {
      const range = GrammarUtils.findNodeForProperty(rows.$cstNode, 'file')?.range;
      if (range !== undefined && rows.file !== undefined) {
        links.push({
          range,
          target: placeOfPath(document.uri, rows.file).toString(),
          tooltip: isRows(rows) ? 'Open the rows' : 'Open the log',
        });
      }
    }
    return links;
  }
}
