import { DocumentState, type LangiumDocument } from 'langium';
import type { Connection } from 'vscode-languageserver';
import { type ClientCapabilities, CodeLensRefreshRequest } from 'vscode-languageserver-protocol';
import { wantsPull } from './diagnostics/publisher.ts';
import type { EngineServices } from './engine/services.ts';

/**
 * After an edit the client asks again about the edited file only. When the edit changed what other open files show (a part's mass the hints of
 * a build), it is told to ask about those as well.
 */
export function askToRefresh(connection: Connection, services: EngineServices): void {
  const builder = services.workspace.DocumentBuilder;
  let edited = new Set<string>();
  let capabilities: ClientCapabilities = {};
  let pulls = false;
  services.lsp.LanguageServer.onInitialize((params) => {
    capabilities = params.capabilities;
    pulls = wantsPull(params);
  });
  builder.onUpdate((changed) => {
    edited = new Set(changed.map((uri) => uri.toString()));
  });
  const isOpenAndNotEdited = ({ uri }: LangiumDocument): boolean =>
    services.workspace.TextDocuments.get(uri) !== undefined && !edited.has(uri.toString());

  builder.onBuildPhase(DocumentState.Validated, (documents) => {
    if (!documents.some(isOpenAndNotEdited) && !pulls) {
      return;
    }
    const { workspace } = capabilities;
    const requests = [
      workspace?.inlayHint?.refreshSupport === true && connection.languages.inlayHint.refresh(),
      workspace?.codeLens?.refreshSupport === true && connection.sendRequest(CodeLensRefreshRequest.type),
      workspace?.semanticTokens?.refreshSupport === true && connection.languages.semanticTokens.refresh(),
      pulls && workspace?.diagnostics?.refreshSupport === true && connection.languages.diagnostics.refresh(),
    ];
    Promise.all(requests).catch((error) => console.warn('The client did not refresh:', error));
  });
}
