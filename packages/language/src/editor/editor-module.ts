import { type FileSystemProvider, inject, type Module } from 'langium';
import {
  createDefaultModule,
  createDefaultSharedModule,
  type PartialLangiumServices,
  type PartialLangiumSharedServices,
} from 'langium/lsp';
import type { Connection } from 'vscode-languageserver';
import { FettleGeneratedModule, FettleGeneratedSharedModule } from '../grammar/generated/module.ts';
import { FettleGrammarModule } from '../grammar/grammar-module.ts';
import { FettleReferencesModule, FettleWorkspaceModule } from '../workspace/workspace-module.ts';
import { ClientCommands } from './client-commands.ts';
import { Committed } from './committed/committed.ts';
import type { Reviewer } from './committed/review-thread.ts';
import { ClientForm } from './diagnostics/client-form.ts';
import { DiagnosticsPublisher } from './diagnostics/publisher.ts';
import { FindingsValidator } from './diagnostics/validator.ts';
import { Writing } from './diagnostics/writing.ts';
import { BuiltDocuments } from './engine/built-documents.ts';
import { ClientConfiguration } from './engine/configuration.ts';
import { EditorDocumentBuilder } from './engine/editor-builder.ts';
import type {
  EditorAddedServices,
  EditorAddedSharedServices,
  EditorServices,
  EngineServices,
} from './engine/editor-services.ts';
import { OpenTexts } from './engine/open-texts.ts';
import { PositionUnits } from './engine/position-units.ts';
import { SnapshotDocumentFactory } from './engine/text-snapshots.ts';
import { WorkspaceStartup } from './engine/workspace-startup.ts';
import { languageFeatures, workspaceFeatures } from './langium-features.ts';
import { FettleLanguageServer } from './language-server.ts';
import { Choices } from './requests/known-choices.ts';
import { FettleNodeKinds } from './symbols.ts';

const sharedModule = (
  reviewer: Reviewer | undefined,
): Module<EngineServices, PartialLangiumSharedServices & EditorAddedSharedServices> => ({
  lsp: {
    Choices: (services) => new Choices(services),
    Committed: (services) => new Committed(services, reviewer),
    LanguageServer: (services) => new FettleLanguageServer(services),
    ClientCommands: (services) => new ClientCommands(services),
    NodeKindProvider: () => new FettleNodeKinds(),
    DiagnosticsPublisher: (services) => new DiagnosticsPublisher(services),
    ClientForm: (services) => new ClientForm(services),
    Writing: (services) => new Writing(services),
    PositionUnits: () => new PositionUnits(),
    ...workspaceFeatures,
  },
  workspace: {
    ConfigurationProvider: (services) => new ClientConfiguration(services),
    TextDocuments: () => new OpenTexts(),
    DocumentBuilder: (services) => new EditorDocumentBuilder(services),
    LangiumDocuments: (services) => new BuiltDocuments(services),
    LangiumDocumentFactory: (services) => new SnapshotDocumentFactory(services),
    WorkspaceManager: (services) => new WorkspaceStartup(services),
  },
});

const languageModule: Module<EditorServices, PartialLangiumServices & EditorAddedServices> = {
  // The framework makes a second parser for its own completion, which is not ours, whenever a server starts.
  // biome-ignore lint/plugin: the framework has no type for a service that is left out.
  parser: { CompletionParser: () => undefined as never },
  validation: {
    DocumentValidator: ({ shared: { workspace, lsp } }) =>
      new FindingsValidator(workspace.LangiumDocuments, workspace.TextDocuments, lsp.ClientForm),
  },
  lsp: languageFeatures,
};

/** The language with everything an editor requests, on one connection. */
export function createEditorServices(context: {
  connection: Connection;
  files: FileSystemProvider;
  reviewer: Reviewer | undefined;
}): {
  shared: EngineServices;
  fettle: EditorServices;
} {
  const shared = inject(
    createDefaultSharedModule({ connection: context.connection, fileSystemProvider: () => context.files }),
    FettleGeneratedSharedModule,
    FettleWorkspaceModule,
    sharedModule(context.reviewer),
  );
  const fettle = inject(
    createDefaultModule({ shared }),
    FettleGeneratedModule,
    FettleGrammarModule,
    FettleReferencesModule,
    languageModule,
  );
  shared.ServiceRegistry.register(fettle);
  return { shared, fettle };
}
