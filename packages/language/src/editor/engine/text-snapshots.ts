import { type AstNode, DocumentState, type LangiumDocument, type Mutable, TextDocument } from 'langium';
import type { CancellationToken } from 'vscode-languageserver-protocol';
import { FettleDocumentFactory } from '../../workspace/document-factory.ts';

/**
 * Gives every document a frozen copy of the text it was parsed from. The client's own text object changes in place while we
 * compute; positions taken from it would belong to another text than the syntax tree.
 */
export class SnapshotDocumentFactory extends FettleDocumentFactory {
  override async update<T extends AstNode>(
    document: Mutable<LangiumDocument<T>>,
    cancellation: CancellationToken,
  ): Promise<LangiumDocument<T>> {
    const live = this.textDocuments?.get(document.uri.toString());
    const text = await this.getUpdatedText(document, live);
    if (document.parseResult.value.$cstNode?.root.fullText !== text) {
      document.parseResult = await this.parseAsync<T>(document.uri, text, cancellation);
      (document.parseResult.value as Mutable<AstNode>).$document = document;
    }
    Object.defineProperty(document, 'textDocument', {
      value: TextDocument.create(document.uri.toString(), 'fettle', live?.version ?? 0, text),
      configurable: true,
    });
    document.state = DocumentState.Parsed;
    return document;
  }
}
