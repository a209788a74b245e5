/** The features for which Langium has no provider; those for which it has one are in `langium-features.ts`. */
import type { ServerCapabilities } from 'vscode-languageserver-protocol';
import { changingFolders } from './changing-folders.ts';
import { pulledFindings } from './diagnostics/pull.ts';
import type { OwnFeature } from './feature.ts';
import type { LanguageFeature, WorkspaceFeature } from './langium-features.ts';
import { selectionRanges } from './selection-ranges.ts';

/** What a client is offered of a feature where the protocol names it otherwise than Langium. */
interface NamedOtherwise {
  /** Changes of it are reported, nothing is offered. */
  ConfigurationProvider: never;
  DocumentUpdateHandler: 'textDocumentSync';
  ExecuteCommandHandler: 'executeCommandProvider';
  /** With the folders below, which are ours. */
  FileOperationHandler: never;
  Formatter: 'documentFormattingProvider' | 'documentRangeFormattingProvider' | 'documentOnTypeFormattingProvider';
  SemanticTokenProvider: 'semanticTokensProvider';
  SignatureHelp: 'signatureHelpProvider';
  TypeProvider: 'typeDefinitionProvider';
}

type Feature = LanguageFeature | WorkspaceFeature;

type OfLangium = {
  [Name in Feature]: Name extends keyof NamedOtherwise ? NamedOtherwise[Name] : Uncapitalize<Name>;
}[Feature];

/** The language has nothing for them. */
type NotOffered =
  | 'colorProvider'
  | 'experimental'
  | 'inlineCompletionProvider'
  | 'inlineValueProvider'
  | 'linkedEditingRangeProvider'
  | 'monikerProvider'
  | 'notebookDocumentSync';

/** `positionEncoding` is no feature: how positions are counted. */
type Own = Exclude<keyof ServerCapabilities, OfLangium | NotOffered | 'positionEncoding'>;

/** By what a client is offered: of all that the protocol has, nothing is left out by mistake. */
export const OWN_FEATURES: { readonly [Capability in Own]: OwnFeature<Capability> } = {
  diagnosticProvider: pulledFindings,
  selectionRangeProvider: selectionRanges,
  workspace: changingFolders,
};
