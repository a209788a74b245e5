import { DocumentState, type LangiumDocument, UriUtils } from 'langium';
import { createServerRequestHandler } from 'langium/lsp';
import type { Connection } from 'vscode-languageserver';
import {
  type DocumentDiagnosticParams,
  type DocumentDiagnosticReport,
  DocumentDiagnosticReportKind,
  type WorkspaceDiagnosticParams,
  type WorkspaceDiagnosticReport,
  type WorkspaceDocumentDiagnosticReport,
} from 'vscode-languageserver-protocol';
import { LIBRARY_SCHEME } from '../../resolve/keys.ts';
import type { EngineServices } from '../engine/editor-services.ts';
import type { OwnFeature } from '../feature.ts';
import { whenChecked } from '../requests/checked-documents.ts';
import { wantsPull } from './publisher.ts';
import { shownFindings } from './shown-findings.ts';

/** Findings on request, for clients that pull. Both answers come from what the last build found. */
export const pulledFindings: OwnFeature<'diagnosticProvider'> = {
  offered: (client) =>
    wantsPull(client) ? { identifier: 'fettle', interFileDependencies: true, workspaceDiagnostics: true } : undefined,
  answer: answerPulls,
};

function answerPulls(connection: Connection, services: EngineServices): void {
  connection.languages.diagnostics.on(
    createServerRequestHandler<DocumentDiagnosticParams, DocumentDiagnosticReport, never>(
      (_language, document, params) => reportOf(document, services, params.previousResultId),
      services,
      DocumentState.Validated,
    ) as Parameters<typeof connection.languages.diagnostics.on>[0],
  );
  connection.languages.diagnostics.onWorkspace((params, cancellation) =>
    whenChecked(services, cancellation, () => workspaceReport(params, services)),
  );
}

function workspaceReport(
  { previousResultIds }: WorkspaceDiagnosticParams,
  services: EngineServices,
): WorkspaceDiagnosticReport {
  const { workspace } = services;
  const previous = new Map(previousResultIds.map(({ uri, value }) => [uri, value]));
  const items = workspace.LangiumDocuments.all
    .filter(({ uri, diagnostics }) => diagnostics !== undefined && uri.scheme !== LIBRARY_SCHEME)
    .map((document): WorkspaceDocumentDiagnosticReport => {
      const uri = document.uri.toString();
      const open = workspace.TextDocuments.get(document.uri) !== undefined;
      const version = open ? document.textDocument.version : null;
      return { ...reportOf(document, services, previous.get(uri)), uri, version };
    })
    .toArray();
  const known = new Set(items.map((item) => UriUtils.normalize(item.uri)));
  const gone = [...previous.keys()].filter((uri) => !known.has(UriUtils.normalize(uri)));
  const cleared = gone.map(
    (uri): WorkspaceDocumentDiagnosticReport => ({
      kind: DocumentDiagnosticReportKind.Full,
      uri,
      version: null,
      items: [],
    }),
  );
  return { items: [...items, ...cleared] };
}

function reportOf(
  document: LangiumDocument,
  services: EngineServices,
  previous: string | undefined,
): DocumentDiagnosticReport {
  const items = shownFindings(document, services);
  const resultId = fingerprint(JSON.stringify(items));
  if (resultId === previous) return { kind: DocumentDiagnosticReportKind.Unchanged, resultId };
  return { kind: DocumentDiagnosticReportKind.Full, resultId, items };
}

/** FNV-1a over UTF-16 units, and the length: equal findings have equal names. */
function fingerprint(text: string): string {
  let hash = 0x811c9dc5;
  for (let index = 0; index < text.length; index++) {
    hash = Math.imul(hash ^ text.charCodeAt(index), 0x01000193) >>> 0;
  }
  return `${text.length.toString(36)}-${hash.toString(36)}`;
}
