import { DefaultLanguageServer } from 'langium/lsp';
import type { InitializeParams, InitializeResult } from 'vscode-languageserver-protocol';
import { CODE_ACTION_KINDS } from './code-actions.ts';
import { wantsPull } from './diagnostics/publisher.ts';

/** What the server offers, as told in its answer to `initialize`. */
export class FettleLanguageServer extends DefaultLanguageServer {
  protected override buildInitializeResult(params: InitializeParams): InitializeResult {
    const { capabilities } = super.buildInitializeResult(params);
    return {
      serverInfo: { name: 'fettle' },
      capabilities: {
        ...capabilities,
        positionEncoding: 'utf-16',
        codeActionProvider: { codeActionKinds: CODE_ACTION_KINDS },
        selectionRangeProvider: true,
        codeLensProvider: { resolveProvider: true },
        completionProvider: { ...capabilities.completionProvider, resolveProvider: true },
        workspace: { ...capabilities.workspace, workspaceFolders: { supported: true, changeNotifications: true } },
        ...(wantsPull(params) && {
          diagnosticProvider: { identifier: 'fettle', interFileDependencies: true, workspaceDiagnostics: true },
        }),
      },
    };
  }
}
