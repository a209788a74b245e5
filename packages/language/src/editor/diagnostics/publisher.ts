import { DocumentState, type LangiumDocument, type URI } from 'langium';
import type { Connection } from 'vscode-languageserver';
import type { Diagnostic, InitializeParams } from 'vscode-languageserver-protocol';
import { LIBRARY_SCHEME } from '../../resolve/keys.ts';
import { membersOf } from '../../units/lookup-table.ts';
import type { EngineServices } from '../engine/editor-services.ts';
import { shownFindings } from './shown-findings.ts';

/** Sends the findings of every file a build touched, open or not, with the version of the text they belong to where the client reads it. */
export class DiagnosticsPublisher {
  readonly #connection: Connection | undefined;
  readonly #services: EngineServices;
  /** What was last sent to the client about each file, as text. */
  readonly #reported = new Map<string, string>();
  #active = true;
  #namesVersions = false;
  /** Checked before it is known how their folders show findings. */
  readonly #waiting = new Set<LangiumDocument>();

  constructor(services: EngineServices) {
    this.#connection = services.lsp.Connection;
    this.#services = services;
    services.lsp.LanguageServer.onInitialize((params) => {
      this.#active = !wantsPull(params);
      this.#namesVersions = params.capabilities.textDocument?.publishDiagnostics?.versionSupport === true;
    });
    services.workspace.DocumentBuilder.onDocumentPhase(DocumentState.Validated, (document) => this.#send(document));
    services.lsp.Writing.onChange(() => this.#sendChanged());
    services.workspace.ConfigurationProvider.onChange(() => {
      const waiting = [...this.#waiting];
      this.#waiting.clear();
      for (const document of waiting) if (document.state === DocumentState.Validated) this.#send(document);
      this.#sendChanged();
    });
    services.workspace.DocumentBuilder.onUpdate((_changed, deleted) => {
      for (const uri of deleted) {
        this.#clear(uri);
      }
    });
  }

  /** @param isKnown of its version was sent before: it is reported again only where that differs */
  #send(document: LangiumDocument, isKnown = false): void {
    if (!this.#active || document.diagnostics === undefined || document.uri.scheme === LIBRARY_SCHEME) return;
    if (!this.#services.workspace.ConfigurationProvider.isKnown) {
      this.#waiting.add(document);
      return;
    }
    const uri = document.uri.toString();
    const open = this.#services.workspace.TextDocuments.get(document.uri) !== undefined;
    const shown = shownFindings(document, this.#services);
    const content = JSON.stringify(shown);
    const isChanged = content !== (this.#reported.get(uri) ?? '[]');
    if (open && (isChanged || !isKnown)) {
      const spelling = this.#services.workspace.TextDocuments.spellingOf(document.uri);
      this.#publish(spelling, shown, document.textDocument.version);
    } else if (isChanged) {
      this.#publish(uri, shown);
    }
    this.#reported.set(uri, content);
  }

  /** What was delayed is reported, of all that is checked; the others are reported when they are. */
  #sendChanged(): void {
    for (const document of this.#services.workspace.LangiumDocuments.all) {
      if (document.state === DocumentState.Validated) this.#send(document, true);
    }
  }

  #clear(uri: URI): void {
    const key = uri.toString();
    if (this.#active && this.#reported.delete(key)) {
      this.#publish(this.#services.workspace.TextDocuments.spellingOf(uri), []);
    }
  }

  #publish(uri: string, diagnostics: Diagnostic[], version?: number): void {
    const isNamed = version !== undefined && this.#namesVersions;
    this.#connection?.sendDiagnostics({ uri, diagnostics, ...(isNamed && { version }) });
  }
}

/** A client that cannot be pushed to, or prefers it, pulls; reporting both ways would show every finding twice. */
export function wantsPull(params: InitializeParams): boolean {
  const client = params.capabilities.textDocument;
  const requested = membersOf(params.initializationOptions).diagnostics === 'pull';
  return client?.diagnostic !== undefined && (requested || client.publishDiagnostics === undefined);
}
