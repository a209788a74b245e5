import type { AstNode, LangiumDocument, Mutable } from 'langium';
import { DefaultLangiumDocumentFactory, DocumentState, TextDocument, type URI } from 'langium';
import type { CancellationToken } from 'vscode-languageserver-protocol';

/**
 * Gives every document a frozen copy of the text it was parsed from. The client's own text object changes in place while we
 * compute; positions taken from it would belong to another text than the syntax tree.
 */
export class SnapshotDocumentFactory extends DefaultLangiumDocumentFactory {
  override async update<T extends AstNode>(
    document: Mutable<LangiumDocument<T>>,
    cancellation: CancellationToken,
  ): Promise<LangiumDocument<T>> {
    const live = this.textDocuments?.get(document.uri);
    const text = live === undefined ? await this.readText(document.uri) : live.getText();
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

  protected override async getInitialText(uri: URI): Promise<string> {
    return this.textDocuments?.get(uri)?.getText() ?? this.readText(uri);
  }

  /** A file that vanished or cannot be read counts as empty: one bad file must not stop the others. */
  private async readText(uri: URI): Promise<string> {
    try {
      return await this.fileSystemProvider.readFile(uri);
    } catch (error) {
      console.warn(`Cannot read ${uri.toString(true)}: ${error instanceof Error ? error.message : String(error)}`);
      return '';
    }
  }
}
