import type { LangiumDocument, URI } from 'langium';
import type { CodeActionProvider, CodeLensProvider, LangiumServices, LangiumSharedServices } from 'langium/lsp';
import type { CancellationToken } from 'vscode-languageserver';
import type { CodeAction, CodeLens, Diagnostic, Position } from 'vscode-languageserver-types';
import type { Chosen, Watching } from '../../report/decide/choice.ts';
import type { FettleAddedServices, FettleAddedSharedServices } from '../../workspace/workspace-module.ts';
import type { ClientCommands } from '../client-commands.ts';
import type { FettleCompletion } from '../completion/completion-provider.ts';
import type { ClientForm } from '../diagnostics/client-form.ts';
import type { Clock } from '../diagnostics/rhythm.ts';
import type { FindingsValidator } from '../diagnostics/validator.ts';
import type { ReviewAnswer, ReviewParams } from '../requests/protocol.ts';
import type { ClientConfiguration } from './configuration.ts';
import type { OpenTexts } from './open-texts.ts';
import type { PositionUnits } from './position-units.ts';
import type { WorkspaceStartup } from './workspace-startup.ts';

// What needs these services is named by what others call of it, not by its class: else the table and its classes would import each other.

/** What is reported to a person who is writing, and when. */
export interface WritingService {
  /** By another clock. */
  keepTimeBy(clock: Clock): void;
  /** Called when more, or less, is shown than before without a new check. */
  onChange(listener: () => void): void;
  /** The cursor was seen somewhere. */
  seenAt(uri: string, position: Position): void;
  /** Everything is reported. */
  rest(): void;
  /** Of the findings of a file those that are reported now. */
  shown(document: LangiumDocument): Diagnostic[];
  isBeingWritten(document: LangiumDocument): boolean;
}

/** Saved files compared with a committed version. */
export interface CommittedService {
  /** How a build differs from it, as last found; undefined where nothing does. */
  lineOf(document: LangiumDocument, build: string): string | undefined;
  saved(uri: URI): void;
  review(params: ReviewParams | undefined, cancellation: CancellationToken): Promise<ReviewAnswer>;
}

/** What was found of shortlists. */
export interface ChoicesService {
  /** There is something new to show at a shortlist. */
  onFound(listener: () => void): void;
  /** Undefined where nothing was found, or where a file that it rests on has changed since. */
  last(uri: string, name: string): Chosen | undefined;
  of(
    shortlist: { readonly uri: string; readonly shortlist: string },
    cancellation: CancellationToken,
    watching?: Omit<Watching, 'isCancelled'>,
  ): Promise<Chosen>;
}

/** What the editor adds to the services that all languages of a server share. */
export interface EditorAddedSharedServices {
  readonly lsp: {
    /** Nobody calls it: it sends by itself. */
    readonly DiagnosticsPublisher: object;
    readonly ClientForm: ClientForm;
    readonly Writing: WritingService;
    readonly ClientCommands: ClientCommands;
    readonly Committed: CommittedService;
    readonly Choices: ChoicesService;
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
