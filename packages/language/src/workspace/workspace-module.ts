/** The services of this room, to be composed with the framework's: here for the command, in the editor together with those of the protocol. */
import type {
  DocumentValidator,
  LangiumCoreServices,
  LangiumSharedCoreServices,
  Module,
  PartialLangiumCoreServices,
  PartialLangiumSharedCoreServices,
} from 'langium';
import { parserFor } from '../grammar/parse-text.ts';
import { FettleLinker } from '../resolve/linker.ts';
import { Lookup } from '../resolve/lookup.ts';
import { FettleIndex } from '../resolve/name-index.ts';
import { Openings } from '../resolve/openings.ts';
import { FettleScopeComputation, FettleScopeProvider } from '../resolve/scope.ts';
import { FettleDocumentBuilder } from './document-builder.ts';
import { FettleDocumentFactory } from './document-factory.ts';
import { Loader } from './loader.ts';
import { FettleWorkspaceManager } from './workspace-manager.ts';

export interface FettleAddedSharedServices {
  readonly workspace: {
    readonly Loader: Loader;
    readonly IndexManager: FettleIndex;
    readonly DocumentBuilder: FettleDocumentBuilder;
    readonly WorkspaceManager: FettleWorkspaceManager;
  };
}

export type FettleSharedServices = LangiumSharedCoreServices & FettleAddedSharedServices;

export interface FettleAddedServices {
  readonly references: { readonly Lookup: Lookup };
}

export type FettleServices = LangiumCoreServices & FettleAddedServices & { readonly shared: FettleSharedServices };

/** Shared by all languages of a server (there is one): loading, indexing, building. */
export const FettleWorkspaceModule: Module<
  FettleSharedServices,
  PartialLangiumSharedCoreServices & FettleAddedSharedServices
> = {
  workspace: {
    Loader: (services) => new Loader(services),
    IndexManager: (services) => new FettleIndex(services),
    DocumentBuilder: (services) => new FettleDocumentBuilder(services),
    WorkspaceManager: (services) => new FettleWorkspaceManager(services),
    LangiumDocumentFactory: (services) => new FettleDocumentFactory(services),
  },
};

/** Names: what they may refer to, and what they refer to. */
export const FettleReferencesModule: Module<FettleServices, PartialLangiumCoreServices & FettleAddedServices> = {
  parser: {
    LangiumParser: (services) => parserFor(services.references.Linker),
  },
  references: {
    Lookup: ({ shared, workspace }) => {
      const index = shared.workspace.IndexManager;
      const openings = new Openings(
        index,
        shared.workspace.FileSystemProvider,
        () => shared.workspace.WorkspaceManager.workspaceFolders ?? [],
      );
      return new Lookup(index, openings, workspace.AstNodeDescriptionProvider);
    },
    Linker: (services) => new FettleLinker(services.references.Lookup),
    ScopeProvider: (services) => new FettleScopeProvider(services.references.Lookup),
    ScopeComputation: () => new FettleScopeComputation(),
  },
  validation: {
    DocumentValidator: () => new NoDiagnostics(),
  },
};

/** What is wrong with a file are findings, made from what is read of it; the framework's own diagnostics are never shown. */
class NoDiagnostics implements DocumentValidator {
  async validateDocument(): Promise<[]> {
    return [];
  }
}
