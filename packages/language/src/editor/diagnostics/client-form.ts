import type { LangiumSharedServices } from 'langium/lsp';
import type { InitializeParams } from 'vscode-languageserver-protocol';
import type { Diagnostic } from 'vscode-languageserver-types';
import { membersOf } from '../../units/lookup-table.ts';

/**
 * Findings with what the client has declared to know, and where their pages are: behind an address that the client names in
 * `initializationOptions.reference`, or else in the files that the server is shipped with.
 */
export class ClientForm {
  #address: string | undefined;
  #links = false;
  #related = false;
  #tags: readonly number[] = [];

  constructor(services: LangiumSharedServices) {
    services.lsp.LanguageServer.onInitialize((params) => this.#read(params));
  }

  /** The folder of the pages, with a slash at its end. */
  shippedIn(folder: string): void {
    this.#address ??= folder;
  }

  #read({ capabilities, initializationOptions }: InitializeParams): void {
    const { reference } = membersOf(initializationOptions);
    if (typeof reference === 'string') this.#address = reference;
    const ways = [capabilities.textDocument?.publishDiagnostics, capabilities.textDocument?.diagnostic];
    this.#links = ways.some((way) => way?.codeDescriptionSupport === true);
    this.#related = ways.some((way) => way?.relatedInformation === true);
    this.#tags = ways.flatMap((way) => way?.tagSupport?.valueSet ?? []);
  }

  /** The page of a finding. */
  pageOf(id: string): string | undefined {
    return this.#address === undefined ? undefined : `${this.#address}findings/${id}.md`;
  }

  of({ relatedInformation, tags, ...diagnostic }: Diagnostic): Diagnostic {
    const href = this.#links ? this.pageOf(String(diagnostic.code)) : undefined;
    const known = tags?.filter((tag) => this.#tags.includes(tag)) ?? [];
    return {
      ...diagnostic,
      ...(href !== undefined && { codeDescription: { href } }),
      ...(known.length > 0 && { tags: known }),
      ...(this.#related && relatedInformation && { relatedInformation }),
    };
  }
}
