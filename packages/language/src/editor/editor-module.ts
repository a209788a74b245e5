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
import { FettleCallHierarchy } from './call-hierarchy.ts';
import { ClientCommands } from './client-commands.ts';
import { FettleCodeActions } from './code-actions.ts';
import { Committed } from './committed/committed.ts';
import type { Reviewer } from './committed/thread.ts';
import { FettleCompletion } from './completion/completion-provider.ts';
import { ClientForm } from './diagnostics/client-form.ts';
import { DiagnosticsPublisher } from './diagnostics/publisher.ts';
import { FindingsValidator } from './diagnostics/validator.ts';
import { Writing } from './diagnostics/writing.ts';
import { FettleLinks } from './document-links.ts';
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
import { UpdateHandler } from './engine/update-handler.ts';
import { WorkspaceStartup } from './engine/workspace-startup.ts';
import { FileMoves } from './file-moves.ts';
import { FettleFolding } from './folding.ts';
import { FettleFormatter } from './formatting.ts';
import { FettleImplementation, FettleTypeHierarchy } from './heirs.ts';
import { FettleHover } from './hover/hover-provider.ts';
import { FettleInlayHints } from './inlay-hints.ts';
import { FettleLanguageServer } from './language-server.ts';
import { FettleLenses } from './lenses.ts';
import {
  FettleDeclaration,
  FettleDefinition,
  FettleHighlights,
  FettleReferences,
  FettleTypeDefinition,
} from './navigation.ts';
import { FettleRename } from './rename.ts';
import { reporting } from './reporting.ts';
import { Choices } from './requests/choices.ts';
import { FettleCommands } from './requests/commands.ts';
import { FettleSemanticTokens } from './semantic-tokens.ts';
import { FettleSignatureHelp } from './signature-help.ts';
import { FettleNodeKinds, FettleSymbols } from './symbols.ts';
import { FettleWorkspaceSymbols } from './workspace-symbols.ts';

const sharedModule = (
  reviewer: Reviewer | undefined,
): Module<EngineServices, PartialLangiumSharedServices & EditorAddedSharedServices> => ({
  lsp: {
    Choices: (services) => new Choices(services),
    Committed: (services) => new Committed(services, reviewer),
    LanguageServer: (services) => new FettleLanguageServer(services),
    DocumentUpdateHandler: (services) => new UpdateHandler(services),
    ClientCommands: (services) => new ClientCommands(services),
    ExecuteCommandHandler: (services) => reporting(new FettleCommands(services)),
    FileOperationHandler: (services) => reporting(new FileMoves(services)),
    NodeKindProvider: () => new FettleNodeKinds(),
    WorkspaceSymbolProvider: (services) => reporting(new FettleWorkspaceSymbols(services)),
    DiagnosticsPublisher: (services) => new DiagnosticsPublisher(services),
    ClientForm: (services) => new ClientForm(services),
    Writing: (services) => new Writing(services),
    PositionUnits: () => new PositionUnits(),
  },
  workspace: {
    ConfigurationProvider: (services) => new ClientConfiguration(services),
    TextDocuments: () => new OpenTexts(),
    DocumentBuilder: (services) => new EditorDocumentBuilder(services),
    LangiumDocumentFactory: (services) => new SnapshotDocumentFactory(services),
    WorkspaceManager: (services) => new WorkspaceStartup(services),
  },
});

/** What an editor requests of a document. Each has what answers the client in `FEATURE_HANDLERS`: one that is forgotten does not compile. */
const languageFeatures = {
  CallHierarchyProvider: (services: EditorServices) => reporting(new FettleCallHierarchy(services)),
  CodeActionProvider: (services: EditorServices) => reporting(new FettleCodeActions(services)),
  CodeLensProvider: (services: EditorServices) => reporting(new FettleLenses(services)),
  CompletionProvider: (services: EditorServices) => reporting(new FettleCompletion(services)),
  DeclarationProvider: (services: EditorServices) => reporting(new FettleDeclaration(services)),
  DefinitionProvider: (services: EditorServices) => reporting(new FettleDefinition(services)),
  DocumentHighlightProvider: (services: EditorServices) => reporting(new FettleHighlights(services)),
  DocumentLinkProvider: (services: EditorServices) => reporting(new FettleLinks(services)),
  DocumentSymbolProvider: () => reporting(new FettleSymbols()),
  FoldingRangeProvider: () => reporting(new FettleFolding()),
  HoverProvider: (services: EditorServices) => reporting(new FettleHover(services)),
  Formatter: () => reporting(new FettleFormatter()),
  ImplementationProvider: (services: EditorServices) => reporting(new FettleImplementation(services)),
  InlayHintProvider: (services: EditorServices) => reporting(new FettleInlayHints(services)),
  ReferencesProvider: (services: EditorServices) => reporting(new FettleReferences(services)),
  RenameProvider: (services: EditorServices) => reporting(new FettleRename(services)),
  SemanticTokenProvider: (services: EditorServices) => reporting(new FettleSemanticTokens(services)),
  SignatureHelp: (services: EditorServices) => reporting(new FettleSignatureHelp(services)),
  TypeHierarchyProvider: (services: EditorServices) => reporting(new FettleTypeHierarchy(services)),
  TypeProvider: () => reporting(new FettleTypeDefinition()),
} satisfies Module<EditorServices, PartialLangiumServices['lsp']>;

export type LanguageFeature = keyof typeof languageFeatures;

const languageModule: Module<EditorServices, PartialLangiumServices & EditorAddedServices> = {
  validation: {
    DocumentValidator: (services) => new FindingsValidator(services),
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
  ) as EngineServices;
  const fettle = inject(
    createDefaultModule({ shared }),
    FettleGeneratedModule,
    FettleGrammarModule,
    FettleReferencesModule,
    languageModule,
  ) as EditorServices;
  shared.ServiceRegistry.register(fettle);
  return { shared, fettle };
}
