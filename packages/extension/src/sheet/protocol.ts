import { type Location, type Range, RequestType } from 'vscode-languageclient';

/** What the server tells beyond the protocol; the language's reference page "Beyond the protocol" describes it. */
export interface BuildSummary {
  readonly uri: string;
  readonly name: string;
  readonly title?: string;
  /** Of the name. */
  readonly range: Range;
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

export const buildsRequest = new RequestType<Record<string, never>, { builds: BuildSummary[] }, void>('fettle/builds');

export const sheetRequest = new RequestType<{ uri: string; build: string; quick?: boolean }, SheetAnswer, void>(
  'fettle/sheet',
);
