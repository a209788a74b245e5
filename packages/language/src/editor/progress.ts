import { DocumentState } from 'langium';
import type { Connection, WorkDoneProgressServerReporter } from 'vscode-languageserver';
import type { EngineServices } from './engine/editor-services.ts';

/** Below this a workspace is read before anyone could read a message about it. */
const FEW_FILES = 100;
/** Percent between two messages. */
const STEP = 5;

/** Shows in the client how far the first look at a large workspace is. */
export function showProgress(connection: Connection, services: EngineServices): void {
  let isSupported = false;
  services.lsp.LanguageServer.onInitialize((params) => {
    isSupported = params.capabilities.window?.workDoneProgress === true;
  });
  services.lsp.LanguageServer.onInitialized(async () => {
    const { WorkspaceManager, DocumentBuilder } = services.workspace;
    await WorkspaceManager.ready;
    const total = WorkspaceManager.remaining;
    if (!isSupported || total < FEW_FILES) return;
    let progress: WorkDoneProgressServerReporter | undefined;
    let checked = 0;
    let shown = 0;
    const percent = () => Math.min(100, Math.floor((100 * checked) / total));
    // Before the client has agreed to be shown anything: files are checked meanwhile.
    const listener = DocumentBuilder.onDocumentPhase(DocumentState.Validated, () => {
      checked += 1;
      if (progress === undefined || percent() < shown + STEP) return;
      shown = percent();
      progress.report(shown);
    });
    progress = await connection.window.createWorkDoneProgress();
    shown = percent();
    progress.begin('Fettle: reading the workspace', shown);
    await WorkspaceManager.complete;
    listener.dispose();
    progress.done();
  });
}
