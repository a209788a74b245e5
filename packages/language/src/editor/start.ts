import { DocumentState, type FileSystemProvider } from 'langium';
import {
  addCallHierarchyHandler,
  addCodeActionHandler,
  addCodeLensHandler,
  addCompletionHandler,
  addConfigurationChangeHandler,
  addDocumentHighlightHandler,
  addDocumentLinkHandler,
  addDocumentSymbolHandler,
  addDocumentUpdateHandler,
  addExecuteCommandHandler,
  addFileOperationHandler,
  addFindReferencesHandler,
  addFoldingRangeHandler,
  addFormattingHandler,
  addGoToDeclarationHandler,
  addGoToImplementationHandler,
  addGoToTypeDefinitionHandler,
  addGotoDefinitionHandler,
  addHoverHandler,
  addInlayHintHandler,
  addRenameHandler,
  addSemanticTokenHandler,
  addSignatureHelpHandler,
  addTypeHierarchyHandler,
  addWorkspaceSymbolHandler,
} from 'langium/lsp';
import type { Connection } from 'vscode-languageserver';
import { type ClientCapabilities, FileChangeType } from 'vscode-languageserver-protocol';
import { logFilesOf } from '../model/log/log-files.ts';
import { asDeclared } from './answer-form.ts';
import type { Reviewer } from './committed/review-thread.ts';
import { createEditorServices } from './editor-module.ts';
import type { EditorServices, EngineServices } from './engine/editor-services.ts';
import { withRequestedText } from './engine/overtaken-answers.ts';
import { type Watch, watchWhereClientDoesNot } from './engine/own-watch.ts';
import { inOurUnits } from './engine/position-conversion.ts';
import type { LanguageFeature, ResolvedFeature, WorkspaceFeature } from './langium-features.ts';
import { OWN_FEATURES } from './own-features.ts';
import { showProgress } from './progress.ts';
import { notifyChecked, requestRefresh } from './refresh.ts';
import { OWN_ANSWERS } from './requests/answer.ts';

type Handler = (connection: Connection, shared: EngineServices) => void;

/** What answers the client, by its request. Numbers are shown when they are those of the text as it is. */
const FEATURE_HANDLERS: Readonly<Record<LanguageFeature, Handler>> = {
  CallHierarchyProvider: addCallHierarchyHandler,
  CodeActionProvider: addCodeActionHandler,
  CodeLensProvider: (connection, shared) => addCodeLensHandler(connection, shared, DocumentState.Validated),
  CompletionProvider: addCompletionHandler,
  DeclarationProvider: addGoToDeclarationHandler,
  DefinitionProvider: addGotoDefinitionHandler,
  DocumentHighlightProvider: addDocumentHighlightHandler,
  // What a path opens is known when names are: it may be a file that another one brings along.
  DocumentLinkProvider: (connection, shared) => addDocumentLinkHandler(connection, shared, DocumentState.Linked),
  DocumentSymbolProvider: addDocumentSymbolHandler,
  FoldingRangeProvider: addFoldingRangeHandler,
  Formatter: addFormattingHandler,
  HoverProvider: (connection, shared) => addHoverHandler(connection, shared, DocumentState.Validated),
  ImplementationProvider: addGoToImplementationHandler,
  InlayHintProvider: (connection, shared) => addInlayHintHandler(connection, shared, DocumentState.Validated),
  ReferencesProvider: addFindReferencesHandler,
  RenameProvider: addRenameHandler,
  SemanticTokenProvider: addSemanticTokenHandler,
  SignatureHelp: (connection, shared) => addSignatureHelpHandler(connection, shared, DocumentState.Parsed),
  TypeHierarchyProvider: addTypeHierarchyHandler,
  TypeProvider: addGoToTypeDefinitionHandler,
};

/** What answers the client about the workspace as a whole, and what the client reports of it. */
const WORKSPACE_HANDLERS: Readonly<Record<WorkspaceFeature, Handler>> = {
  ConfigurationProvider: addConfigurationChangeHandler,
  DocumentUpdateHandler: addDocumentUpdateHandler,
  ExecuteCommandHandler: addExecuteCommandHandler,
  FileOperationHandler: addFileOperationHandler,
  WorkspaceSymbolProvider: addWorkspaceSymbolHandler,
};

/** What completes an item of an answer when a person chooses it; a handler of Langium sends lists only. */
const RESOLVE_HANDLERS: Readonly<Record<ResolvedFeature, (connection: Connection, services: EditorServices) => void>> =
  {
    CodeActionProvider: (connection, { lsp }) =>
      connection.onCodeActionResolve((action, cancellation) => lsp.CodeActionProvider.resolve(action, cancellation)),
    CodeLensProvider: (connection, { lsp, shared }) =>
      connection.onCodeLensResolve((lens) =>
        shared.workspace.WorkspaceLock.read(() => lsp.CodeLensProvider.resolve(lens)),
      ),
    CompletionProvider: (connection, { lsp }) =>
      connection.onCompletionResolve((item) => lsp.CompletionProvider.resolve(item)),
  };

/** What is sent to a client that has not requested it. */
const SENDERS: Readonly<Record<'refresh' | 'checked' | 'progress', Handler>> = {
  refresh: requestRefresh,
  checked: notifyChecked,
  progress: showProgress,
};

/** What only a server with a disk has. */
export interface OnDisk {
  /** Compares with committed versions. */
  readonly reviewer: Reviewer;
  readonly watch: Watch;
  /** Address of the folder of reference pages, with a slash at its end. */
  readonly reference?: string;
}

/** Serves one client over this connection until it sends `exit`. */
export function startServer(remote: Connection, files: FileSystemProvider, disk?: OnDisk): EngineServices {
  const client: Connection = inOurUnits(remote, () => shared);
  const { shared, fettle } = createEditorServices({ connection: client, files, reviewer: disk?.reviewer });
  if (disk?.reference !== undefined) shared.lsp.ClientForm.shippedIn(disk.reference);
  if (disk !== undefined) watchWhereClientDoesNot(client, shared, disk.watch);
  // Long logs are read while others have their turn; then what rests on them is checked anew.
  logFilesOf(fettle.references.Lookup.openings).whenRead = (file) =>
    shared.lsp.DocumentUpdateHandler.didChangeWatchedFiles?.({
      changes: [{ uri: file.toString(), type: FileChangeType.Changed }],
    });
  let declared: ClientCapabilities = {};
  shared.lsp.LanguageServer.onInitialize(({ capabilities }) => {
    declared = capabilities;
  });
  const connection = seeingCursor(
    asDeclared(withRequestedText(client, shared), () => declared),
    shared,
  );
  // What `startLanguageServer` of the framework does, but for its way of sending diagnostics: ours are sent by DiagnosticsPublisher.
  for (const serve of Object.values({ ...WORKSPACE_HANDLERS, ...FEATURE_HANDLERS })) serve(connection, shared);
  for (const resolve of Object.values(RESOLVE_HANDLERS)) resolve(connection, fettle);
  for (const { answer } of Object.values(OWN_FEATURES)) answer(connection, shared);
  for (const serve of Object.values(OWN_ANSWERS)) serve(connection, shared);
  for (const send of Object.values(SENDERS)) send(connection, shared);
  connection.onInitialize((params) => shared.lsp.LanguageServer.initialize(params));
  connection.onInitialized((params) => shared.lsp.LanguageServer.initialized(params));
  shared.workspace.TextDocuments.listen(connection);
  connection.listen();
  return shared;
}

/** Clients request what is at the cursor as it moves: that shows where it is. */
function seeingCursor(connection: Connection, { lsp, workspace }: EngineServices): Connection {
  const onDocumentHighlight: Connection['onDocumentHighlight'] = (handler) =>
    connection.onDocumentHighlight((params, ...rest) => {
      lsp.Writing.seenAt(params.textDocument.uri, params.position);
      return handler(params, ...rest);
    });
  const onCodeAction: Connection['onCodeAction'] = (handler) =>
    connection.onCodeAction(async (params, ...rest) => {
      const { start, end } = params.range;
      if (start.line === end.line && start.character === end.character)
        lsp.Writing.seenAt(params.textDocument.uri, start);
      // Who names a part is known only when every file is. No lock is taken yet: loading needs it.
      if (params.context.only?.some((kind) => kind.startsWith('refactor'))) await workspace.WorkspaceManager.complete;
      return handler(params, ...rest);
    });
  return Object.create(connection, {
    onDocumentHighlight: { value: onDocumentHighlight },
    onCodeAction: { value: onCodeAction },
  });
}
