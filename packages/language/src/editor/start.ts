import { DocumentState, type FileSystemProvider, URI } from 'langium';
import { createServerRequestHandler, startLanguageServer } from 'langium/lsp';
import type { Connection } from 'vscode-languageserver';
import type { SelectionRange, SelectionRangeParams } from 'vscode-languageserver-protocol';
import { answerPulls } from './diagnostics/pull.ts';
import type { EngineServices } from './engine/services.ts';
import { createEditorServices } from './module.ts';
import { selectionRangesAt } from './selection-ranges.ts';

/** Serves one client over this connection until it says `exit`. */
export function startServer(connection: Connection, files: FileSystemProvider): void {
  const { shared } = createEditorServices({ connection, files });
  answerPulls(connection, shared);
  answerSelectionRanges(connection, shared);
  followFolders(connection, shared);
  startLanguageServer(shared);
}

function answerSelectionRanges(connection: Connection, shared: EngineServices): void {
  connection.onSelectionRanges(
    createServerRequestHandler<SelectionRangeParams, SelectionRange[], never>(
      (_services, document, params) => selectionRangesAt(document, params.positions),
      shared,
      DocumentState.Parsed,
    ),
  );
}

/** Folders added to or taken from the workspace while we run. */
function followFolders(connection: Connection, shared: EngineServices): void {
  shared.lsp.LanguageServer.onInitialize((params) => {
    if (params.capabilities.workspace?.workspaceFolders !== true) {
      return;
    }
    shared.lsp.LanguageServer.onInitialized(() => {
      connection.workspace.onDidChangeWorkspaceFolders(({ added, removed }) => {
        const asUris = (folders: readonly { uri: string }[]): URI[] => folders.map((folder) => URI.parse(folder.uri));
        shared.workspace.WorkspaceLock.write((cancellation) =>
          shared.workspace.DocumentBuilder.update(asUris(added), asUris(removed), cancellation),
        );
      });
    });
  });
}
