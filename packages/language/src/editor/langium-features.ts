/** The features for which Langium has a provider, each with ours; those for which it has none are in `own-features.ts`. */
import type { Module } from 'langium';
import type { PartialLangiumServices, PartialLangiumSharedServices } from 'langium/lsp';
import { FettleCallHierarchy } from './call-hierarchy.ts';
import { FettleCodeActions } from './code-actions.ts';
import { FettleCompletion } from './completion/completion-provider.ts';
import { FettleLinks } from './document-links.ts';
import type { EditorServices, EngineServices } from './engine/editor-services.ts';
import { UpdateHandler } from './engine/update-handler.ts';
import { reporting } from './error-reporting.ts';
import { FileMoves } from './file-moves.ts';
import { FettleFolding } from './folding.ts';
import { FettleFormatter } from './formatting.ts';
import { FettleImplementation, FettleTypeHierarchy } from './heirs.ts';
import { FettleHover } from './hover/hover-provider.ts';
import { FettleInlayHints } from './inlay-hints.ts';
import { FettleLenses } from './lenses.ts';
import {
  FettleDeclaration,
  FettleDefinition,
  FettleHighlights,
  FettleReferences,
  FettleTypeDefinition,
} from './navigation.ts';
import { FettleRename } from './rename.ts';
import { FettleCommands } from './requests/commands.ts';
import { FettleSemanticTokens } from './semantic-tokens.ts';
import { FettleSignatureHelp } from './signature-help.ts';
import { FettleSymbols } from './symbols.ts';
import { FettleWorkspaceSymbols } from './workspace-symbols.ts';

/** What an editor requests of all files, or reports of them. Each has what answers the client in `WORKSPACE_HANDLERS`. */
export const workspaceFeatures = {
  DocumentUpdateHandler: (services: EngineServices) => new UpdateHandler(services),
  ExecuteCommandHandler: (services: EngineServices) => reporting(new FettleCommands(services)),
  FileOperationHandler: (services: EngineServices) => reporting(new FileMoves(services)),
  WorkspaceSymbolProvider: (services: EngineServices) => reporting(new FettleWorkspaceSymbols(services)),
} satisfies Module<EngineServices, PartialLangiumSharedServices['lsp']>;

/** Of the configuration the client reports changes as well. */
export type WorkspaceFeature = keyof typeof workspaceFeatures | 'ConfigurationProvider';

/** What an editor requests of a document. Each has what answers the client in `FEATURE_HANDLERS`: one that is forgotten does not compile. */
export const languageFeatures = {
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

/** Those whose lists leave out what takes time, until a person chooses an item. */
export type ResolvedFeature = {
  [Feature in LanguageFeature]: ReturnType<(typeof languageFeatures)[Feature]> extends {
    resolve: (...item: never[]) => unknown;
  }
    ? Feature
    : never;
}[LanguageFeature];
