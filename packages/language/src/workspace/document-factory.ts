/** Reads a changed document again. A file that went away meanwhile is empty until its going is reported; it never stops the others. */
import {
  type AstNode,
  type Cancellation,
  DefaultLangiumDocumentFactory,
  type LangiumDocument,
  type LangiumSharedCoreServices,
  type ParseResult,
  type ParserOptions,
  type TextDocument,
  type URI,
} from 'langium';
import { isFile } from '../grammar/generated/ast.ts';
import { LIBRARY_SCHEME } from '../resolve/keys.ts';
import { renewNames } from '../resolve/renewed-names.ts';
import type { Loader } from './loader.ts';
import { copyOfShipped } from './shipped-trees.ts';

type Needed = LangiumSharedCoreServices & { readonly workspace: { readonly Loader: Loader } };

export class FettleDocumentFactory extends DefaultLangiumDocumentFactory {
  readonly #loader: () => Loader;

  constructor(services: Needed) {
    super(services);
    this.#loader = () => services.workspace.Loader;
  }

  protected override parse<T extends AstNode>(uri: URI, text: string, options?: ParserOptions): ParseResult<T> {
    const { Linker } = this.serviceRegistry.getServices(uri).references;
    const shipped = uri.scheme === LIBRARY_SCHEME ? copyOfShipped(text, Linker) : undefined;
    return (shipped as ParseResult<T> | undefined) ?? renewed(super.parse<T>(uri, text, options), text);
  }

  protected override async parseAsync<T extends AstNode>(
    uri: URI,
    text: string,
    cancelToken: Cancellation.CancellationToken,
  ): Promise<ParseResult<T>> {
    return renewed(await super.parseAsync<T>(uri, text, cancelToken), text);
  }

  protected override async getUpdatedText(
    document: LangiumDocument,
    textDocument: TextDocument | undefined,
  ): Promise<string> {
    if (textDocument) return textDocument.getText();
    const before = document.parseResult.value.$cstNode?.root.fullText;
    // Documents of the library and of tests are in no file.
    if (before !== undefined && !this.fileSystemProvider.existsSync(document.uri)) return before;
    return this.#loader().read(document.uri) ?? '';
  }
}

function renewed<T extends AstNode>(result: ParseResult<T>, text: string): ParseResult<T> {
  if (isFile(result.value)) renewNames(result.value, text);
  return result;
}
