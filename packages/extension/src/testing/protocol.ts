import { type Range, RequestType } from 'vscode-languageclient';

/** What the server tells beyond the protocol; the language's reference page "Beyond the protocol" describes it. */
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

export interface PackLine {
  readonly pack: string;
  readonly uri: string;
  readonly range: Range;
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

export const buildsRequest = new RequestType<Record<string, never>, { builds: { uri: string }[] }, void>(
  'fettle/builds',
);

export const requirementsRequest = new RequestType<{ uri: string }, RequirementsAnswer, void>('fettle/requirements');
