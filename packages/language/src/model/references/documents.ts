/** Reads a changed document again. A file that went away meanwhile is empty until its going is reported; it never stops the others. */
import { DefaultLangiumDocumentFactory, type LangiumDocument, type TextDocument } from 'langium';
import type { Loader } from './loader.ts';
import type { FettleSharedServices } from './module.ts';

export class FettleDocumentFactory extends DefaultLangiumDocumentFactory {
  private readonly loader: () => Loader;

  constructor(services: FettleSharedServices) {
    super(services);
    this.loader = () => services.workspace.Loader;
  }

  protected override async getUpdatedText(
    document: LangiumDocument,
    textDocument: TextDocument | undefined,
  ): Promise<string> {
    if (textDocument) return textDocument.getText();
    const before = document.parseResult.value.$cstNode?.root.fullText;
    // Documents of the library and of tests stand in no file.
    if (before !== undefined && !this.fileSystemProvider.existsSync(document.uri)) return before;
    return this.loader().read(document.uri) ?? '';
  }
}
