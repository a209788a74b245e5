/**
 * What the server reports beyond the protocol, as far as it is shown here; the language's reference page "Beyond the protocol" describes it.
 * The client imports nothing of the server: a test compares these types with those of the server.
 */
import { type Location, NotificationType, type Range, RequestType } from 'vscode-languageserver-protocol';

export interface BuildSummary {
  readonly uri: string;
  readonly name: string;
  readonly title?: string;
  /** Of the name. */
  readonly range: Range;
}

export type RequirementVerdict = 'holds' | 'likely holds' | 'likely fails' | 'fails' | 'cannot be judged';

export interface RequirementOnPack {
  readonly pack: string;
  readonly verdict: RequirementVerdict;
  readonly message: string;
}

export interface RequirementSummary {
  readonly text: string;
  readonly because?: string;
  readonly uri: string;
  readonly range: Range;
  readonly packs: readonly RequirementOnPack[];
}

export interface ChecksOnPack {
  readonly verdict: 'holds' | 'fails' | 'cannot be judged';
  readonly message: string;
  readonly errors: readonly string[];
}

export interface PackLine {
  readonly pack: string;
  readonly uri: string;
  readonly range: Range;
  readonly checks: ChecksOnPack;
}

export interface BuildRequirements {
  readonly build: string;
  readonly title?: string;
  readonly range: Range;
  readonly packs: readonly PackLine[];
  readonly requirements: readonly RequirementSummary[];
}

export interface RequirementsAnswer {
  readonly builds: readonly BuildRequirements[];
  readonly isComplete: boolean;
}

export interface BuildStatus {
  readonly build: string;
  readonly range: Range;
  readonly worry: 'error' | 'warning' | 'unjudged' | 'none';
  readonly text: string;
  readonly details: readonly string[];
}

export interface StatusAnswer {
  readonly isBeingWritten: boolean;
  readonly builds: readonly BuildStatus[];
}

export interface SheetParams {
  readonly uri: string;
  readonly build: string;
  readonly quick?: boolean;
}

export interface DerivationTarget {
  readonly pack: string;
  readonly result: string;
}

export type SheetTarget = Location | DerivationTarget;

export interface SheetSection {
  readonly id: string;
  readonly html: string;
  readonly targets: readonly SheetTarget[];
}

export interface BuildSheet {
  readonly build: string;
  readonly title?: string;
  readonly isComplete: boolean;
  readonly sections: readonly SheetSection[];
}

export interface SheetAnswer {
  readonly sheet?: BuildSheet;
  readonly builds: readonly string[];
}

export interface NewBuildQuestion {
  readonly id: string;
  readonly asks: string;
  readonly description: string;
  readonly example: string;
  readonly usual?: string;
  readonly problem?: string;
}

export interface NewBuildFile {
  readonly fileName: string;
  readonly text: string;
  readonly range: Range;
}

export interface NewBuildAnswer {
  readonly questions: readonly NewBuildQuestion[];
  readonly file?: NewBuildFile;
}

export interface ReviewAnswer {
  readonly markdown: string;
}

export const buildsRequest = new RequestType<Record<string, never>, { builds: BuildSummary[] }, void>('fettle/builds');

export const requirementsRequest = new RequestType<{ uri: string }, RequirementsAnswer, void>('fettle/requirements');

export const statusRequest = new RequestType<{ uri: string }, StatusAnswer, void>('fettle/status');

export const sheetRequest = new RequestType<SheetParams, SheetAnswer, void>('fettle/sheet');

export const newBuildRequest = new RequestType<
  { folder?: string; answers: Record<string, string> },
  NewBuildAnswer,
  void
>('fettle/newBuild');

export interface MeasuredBlock {
  readonly range: Range;
  readonly snippet: string;
}

export const measuredRequest = new RequestType<{ uri: string; build: string }, MeasuredBlock, void>('fettle/measured');

export const reviewRequest = new RequestType<{ uri?: string }, ReviewAnswer, void>('fettle/review');

export const checkedNotification = new NotificationType<{ uris: string[] }>('fettle/checked');
