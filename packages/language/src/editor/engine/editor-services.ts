import type { LangiumServices, LangiumSharedServices } from 'langium/lsp';
import type { FettleAddedServices, FettleAddedSharedServices } from '../../workspace/workspace-module.ts';
import type { ClientCommands } from '../client-commands.ts';
import type { FettleCodeActions } from '../code-actions.ts';
import type { Committed } from '../committed/committed.ts';
import type { FettleCompletion } from '../completion/completion-provider.ts';
import type { ClientForm } from '../diagnostics/client-form.ts';
import type { DiagnosticsPublisher } from '../diagnostics/publisher.ts';
import type { FindingsValidator } from '../diagnostics/validator.ts';
import type { Writing } from '../diagnostics/writing.ts';
import type { FettleLenses } from '../lenses.ts';
import type { Choices } from '../requests/choices.ts';
import type { ClientConfiguration } from './configuration.ts';
import type { OpenTexts } from './open-texts.ts';
import type { PositionUnits } from './position-units.ts';
import type { WorkspaceStartup } from './workspace-startup.ts';

/** What the editor adds to the services that all languages of a server share. */
export interface EditorAddedSharedServices {
  readonly lsp: {
    readonly DiagnosticsPublisher: DiagnosticsPublisher;
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
    readonly CodeActionProvider: FettleCodeActions;
    readonly CodeLensProvider: FettleLenses;
    readonly CompletionProvider: FettleCompletion;
  };
}

export type EditorServices = LangiumServices &
  FettleAddedServices &
  EditorAddedServices & { readonly shared: EngineServices };
