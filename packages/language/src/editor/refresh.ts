import { DocumentState, type LangiumDocument, type URI } from 'langium';
import type { Connection } from 'vscode-languageserver';
import { type ClientCapabilities, CodeLensRefreshRequest } from 'vscode-languageserver-protocol';
import { wantsPull } from './diagnostics/publisher.ts';
import type { EngineServices } from './engine/editor-services.ts';
import { checkedNotification } from './requests/protocol.ts';

/**
 * After an edit the client repeats its requests for the edited file only. When the edit changed what other open files show (a part's mass the hints of
 * a build), the server makes it repeat those as well.
 */
export function requestRefresh(connection: Connection, services: EngineServices): void {
  const builder = services.workspace.DocumentBuilder;
  let edited = new Set<string>();
  let capabilities: ClientCapabilities = {};
  let pulls = false;
  services.lsp.LanguageServer.onInitialize((params) => {
    capabilities = params.capabilities;
    pulls = wantsPull(params);
  });
  const uses = new UsedNames();
  builder.onUpdate((changed, deleted) => {
    edited = new Set(changed.map((uri) => uri.toString()));
    uses.forget(deleted);
  });
  const isOpenAndNotEdited = ({ uri }: LangiumDocument): boolean =>
    services.workspace.TextDocuments.get(uri) !== undefined && !edited.has(uri.toString());

  services.lsp.Writing.onChange(() => {
    if (!pulls || capabilities.workspace?.diagnostics?.refreshSupport !== true) return;
    connection.languages.diagnostics.refresh().catch((error) => console.warn('The client did not refresh:', error));
  });

  services.lsp.Choices.onFound(() => {
    if (capabilities.workspace?.codeLens?.refreshSupport !== true) return;
    connection
      .sendRequest(CodeLensRefreshRequest.type)
      .catch((error) => console.warn('The client did not refresh:', error));
  });

  services.workspace.ConfigurationProvider.onChange(() => {
    if (pulls && capabilities.workspace?.diagnostics?.refreshSupport === true)
      connection.languages.diagnostics.refresh().catch((error) => console.warn('The client did not refresh:', error));
    if (capabilities.workspace?.inlayHint?.refreshSupport !== true) return;
    connection.languages.inlayHint.refresh().catch((error) => console.warn('The client did not refresh:', error));
  });

  builder.onBuildPhase(DocumentState.Validated, (documents) => {
    const showsMore = documents.some(isOpenAndNotEdited);
    const countsChanged = uses.changedIn(documents);
    const { workspace } = capabilities;
    const requests = [
      showsMore && workspace?.inlayHint?.refreshSupport === true && connection.languages.inlayHint.refresh(),
      (showsMore || countsChanged) &&
        workspace?.codeLens?.refreshSupport === true &&
        connection.sendRequest(CodeLensRefreshRequest.type),
      showsMore && workspace?.semanticTokens?.refreshSupport === true && connection.languages.semanticTokens.refresh(),
      pulls && workspace?.diagnostics?.refreshSupport === true && connection.languages.diagnostics.refresh(),
    ];
    Promise.all(requests).catch((error) => console.warn('The client did not refresh:', error));
  });
}

/** A client that shows views of its own is notified what to request anew, where it supports that. */
export function notifyChecked(connection: Connection, services: EngineServices): void {
  const builder = services.workspace.DocumentBuilder;
  let isAsked = false;
  services.lsp.LanguageServer.onInitialize(({ initializationOptions }) => {
    isAsked = (initializationOptions as { checked?: unknown } | undefined)?.checked === true;
  });
  const notify = (uris: readonly URI[]): void => {
    if (isAsked && uris.length > 0) {
      const params = { uris: uris.map((uri) => uri.toString()) };
      connection
        .sendNotification(checkedNotification, params)
        .catch((error) => console.warn('The client was not notified of what was checked:', error));
    }
  };
  builder.onUpdate((_changed, deleted) => notify(deleted));
  builder.onBuildPhase(DocumentState.Validated, (documents) => notify(documents.map(({ uri }) => uri)));
}

/** The names in each file: when these change, parts in other files are used by more or fewer builds. */
class UsedNames {
  readonly #names = new Map<string, string>();
  #isChanged = false;

  forget(deleted: readonly URI[]): void {
    for (const uri of deleted) {
      this.#isChanged = this.#names.delete(uri.toString()) || this.#isChanged;
    }
  }

  /** True once for each change. */
  changedIn(documents: readonly LangiumDocument[]): boolean {
    for (const document of documents) {
      const uri = document.uri.toString();
      const names = document.references.map(({ $refText }) => $refText).join(' ');
      this.#isChanged = this.#isChanged || this.#names.get(uri) !== names;
      this.#names.set(uri, names);
    }
    const changed = this.#isChanged;
    this.#isChanged = false;
    return changed;
  }
}
