import { URI } from 'langium';
import { type Connection, FileChangeType } from 'vscode-languageserver';
import type { FolderChanges } from '../../workspace/folder-changes.ts';
import type { EngineServices } from './editor-services.ts';

/** Reports changes below some folders of the disk; false where it cannot. */
export type Watch = (folders: readonly string[], report: (changes: FolderChanges) => void) => boolean;

/** Where the client has not announced that it watches for us, the server looks itself. */
export function watchWhereClientDoesNot(connection: Connection, services: EngineServices, watch: Watch): void {
  let watches = false;
  services.lsp.LanguageServer.onInitialize(({ capabilities }) => {
    watches = capabilities.workspace?.didChangeWatchedFiles?.dynamicRegistration === true;
  });
  services.lsp.LanguageServer.onInitialized(async () => {
    if (watches) return;
    const { WorkspaceManager } = services.workspace;
    await WorkspaceManager.ready;
    const folders = (WorkspaceManager.workspaceFolders ?? []).map(({ uri }) => URI.parse(uri));
    const onDisk = folders.filter(({ scheme }) => scheme === 'file').map(({ fsPath }) => fsPath);
    const isWatched = watch(onDisk, ({ created, changed, gone }) => {
      const events = (paths: readonly string[], type: FileChangeType) =>
        paths.map((path) => ({ uri: URI.file(path).toString(), type }));
      services.lsp.DocumentUpdateHandler.didChangeWatchedFiles?.({
        changes: [
          ...events(created, FileChangeType.Created),
          ...events(changed, FileChangeType.Changed),
          ...events(gone, FileChangeType.Deleted),
        ],
      });
    });
    if (!isWatched) connection.console.warn('Too many folders to watch: changes of other programs are not followed.');
  });
}
