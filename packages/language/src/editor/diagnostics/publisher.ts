import { DocumentState, type LangiumDocument, type URI } from 'langium';
import type { Connection } from 'vscode-languageserver';
import type { Diagnostic, InitializeParams } from 'vscode-languageserver-protocol';
import { LIBRARY_SCHEME } from '../../resolve/keys.ts';
import type { EngineServices } from '../engine/editor-services.ts';

/** Sends the findings of every file a build touched, open or not, with the version of the text they belong to. */
export class DiagnosticsPublisher {
  private readonly connection: Connection | undefined;
  private readonly services: EngineServices;
  /** What the client was last told about each file, as text. */
  private readonly told = new Map<string, string>();
  private active = true;

  constructor(services: EngineServices) {
    this.connection = services.lsp.Connection;
    this.services = services;
    services.lsp.LanguageServer.onInitialize((params) => {
      this.active = !wantsPull(params);
    });
    services.workspace.DocumentBuilder.onDocumentPhase(DocumentState.Validated, (document) => this.send(document));
    services.workspace.DocumentBuilder.onUpdate((_changed, deleted) => {
      for (const uri of deleted) {
        this.clear(uri);
      }
    });
  }

  private send(document: LangiumDocument): void {
    if (!this.active || document.diagnostics === undefined || document.uri.scheme === LIBRARY_SCHEME) {
      return;
    }
    const uri = document.uri.toString();
    const open = this.services.workspace.TextDocuments.get(document.uri) !== undefined;
    const content = JSON.stringify(document.diagnostics);
    if (open) {
      const spelling = this.services.workspace.TextDocuments.spellingOf(document.uri);
      this.tell(spelling, document.diagnostics, document.textDocument.version);
    } else if (content !== (this.told.get(uri) ?? '[]')) {
      this.tell(uri, document.diagnostics);
    }
    this.told.set(uri, content);
  }

  private clear(uri: URI): void {
    const key = uri.toString();
    if (this.active && this.told.delete(key)) {
      this.tell(this.services.workspace.TextDocuments.spellingOf(uri), []);
    }
  }

  private tell(uri: string, diagnostics: Diagnostic[], version?: number): void {
    this.connection?.sendDiagnostics({ uri, diagnostics, ...(version !== undefined && { version }) });
  }
}

/** A client that cannot be pushed to, or asks for it, pulls; telling it both ways would show every finding twice. */
export function wantsPull(params: InitializeParams): boolean {
  const client = params.capabilities.textDocument;
  const asked = (params.initializationOptions as { diagnostics?: unknown } | undefined)?.diagnostics === 'pull';
  return client?.diagnostic !== undefined && (asked || client.publishDiagnostics === undefined);
}
