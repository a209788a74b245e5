import { URI } from 'langium';
import type { Connection } from 'vscode-languageserver';
import type { EngineServices } from './engine/editor-services.ts';
import type { OwnFeature } from './feature.ts';

/** Folders added to or taken from the workspace while we run. */
export const changingFolders: OwnFeature<'workspace'> = {
  offered: () => ({ workspaceFolders: { supported: true, changeNotifications: true } }),
  answer: followFolders,
};

function followFolders(connection: Connection, shared: EngineServices): void {
  shared.lsp.LanguageServer.onInitialize((params) => {
    if (params.capabilities.workspace?.workspaceFolders !== true) return;
    shared.lsp.LanguageServer.onInitialized(() => {
      connection.workspace.onDidChangeWorkspaceFolders(({ added, removed }) => {
        shared.workspace.ConfigurationProvider.changeFolders(
          added.map(({ uri }) => uri),
          removed.map(({ uri }) => uri),
        ).catch((error) => console.warn('The settings could not be read:', error));
        const asUris = (folders: readonly { uri: string }[]): URI[] => folders.map((folder) => URI.parse(folder.uri));
        shared.workspace.WorkspaceLock.write((cancellation) =>
          shared.workspace.DocumentBuilder.update(asUris(added), asUris(removed), cancellation),
        ).catch((error) => console.error('Internal error while following folders:', error));
      });
    });
  });
}
