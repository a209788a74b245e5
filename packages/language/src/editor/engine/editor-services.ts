import type { CodeActionProvider, CodeLensProvider, LangiumServices, LangiumSharedServices } from 'langium/lsp';
import type { CancellationToken } from 'vscode-languageserver';
import type { CodeAction, CodeLens } from 'vscode-languageserver-types';
import type { FettleAddedServices, FettleAddedSharedServices } from '../../workspace/workspace-module.ts';
import type { ClientCommands } from '../client-commands.ts';
import type { Committed } from '../committed/committed.ts';
import type { FettleCompletion } from '../completion/completion-provider.ts';
import type { ClientForm } from '../diagnostics/client-form.ts';
import type { FindingsValidator } from '../diagnostics/validator.ts';
import type { Writing } from '../diagnostics/writing.ts';
import type { Choices } from '../requests/known-choices.ts';
import type { ClientConfiguration } from './configuration.ts';
import type { OpenTexts } from './open-texts.ts';
import type { PositionUnits } from './position-units.ts';
import type { WorkspaceStartup } from './workspace-startup.ts';

/** What the editor adds to the services that all languages of a server share. */
export interface EditorAddedSharedServices {
  readonly lsp: {
    /** Nobody calls it: it sends by itself. */
    readonly DiagnosticsPublisher: object;
    readonly ClientForm: ClientForm;
    readonly Writing: Writing;
    readonly ClientCommands: ClientCommands;
    readonly Committed: Committed;
    readonly Choices: Choices;
    readonly PositionUnits: PositionUnits;
  };
  readonly workspace: {
    readonly TextDocuments: OpenTexts;
    readonly WorkspaceManager: WorkspaceStartup;
    readonly ConfigurationProvider: ClientConfiguration;
  };
}

export type EngineServices = LangiumSharedServices & FettleAddedSharedServices & EditorAddedSharedServices;

export interface EditorAddedServices {
  readonly validation: { readonly DocumentValidator: FindingsValidator };
  readonly lsp: {
    readonly CodeActionProvider: CodeActionProvider & {
      /** The edits of a refactoring, when it is taken. */
      resolve(action: CodeAction, cancellation?: CancellationToken): Promise<CodeAction>;
    };
    readonly CodeLensProvider: CodeLensProvider & {
      /** How many builds use a part. */
      resolve(lens: CodeLens): CodeLens;
    };
    readonly CompletionProvider: FettleCompletion;
  };
}

export type EditorServices = LangiumServices &
  FettleAddedServices &
  EditorAddedServices & { readonly shared: EngineServices };
