/** Edits that the client applies on request of the server, in the form that it reads. */
import type { LangiumDocument } from 'langium';
import type { ClientCapabilities } from 'vscode-languageserver-protocol';
import type { TextEdit } from 'vscode-languageserver-types';
import type { EngineServices } from './engine/editor-services.ts';

export class ClientEdits {
  readonly #services: EngineServices;
  #capabilities: ClientCapabilities = {};

  constructor(services: EngineServices) {
    this.#services = services;
    services.lsp.LanguageServer.onInitialize(({ capabilities }) => {
      this.#capabilities = capabilities;
    });
  }

  get areApplied(): boolean {
    return this.#capabilities.workspace?.applyEdit === true;
  }

  /** With the version they were made for, where the client reads it. @returns why it was not applied */
  async apply(label: string, document: LangiumDocument, edits: readonly TextEdit[]): Promise<string | undefined> {
    const { lsp, workspace } = this.#services;
    const uri = document.uri.toString();
    const version = workspace.TextDocuments.versionOf(document);
    const edit = this.#capabilities.workspace?.workspaceEdit?.documentChanges
      ? { documentChanges: [{ textDocument: { uri, version }, edits: [...edits] }] }
      : { changes: { [uri]: [...edits] } };
    const answer = await lsp.Connection?.workspace.applyEdit({ label, edit });
    return answer?.applied ? undefined : (answer?.failureReason ?? 'it gives no reason');
  }
}
