/** Requests beyond the protocol, for an editor's own views. `reference/protocol.md` describes them; a test holds the two together. */
import { RequestType } from 'vscode-languageserver-protocol';
import type { Range } from 'vscode-languageserver-types';

export interface BuildSummary {
  readonly uri: string;
  readonly name: string;
  readonly title?: string;
  /** Of the name. */
  readonly range: Range;
  readonly packs: readonly string[];
}

export type RequirementVerdict = 'holds' | 'likely holds' | 'likely fails' | 'fails' | 'cannot be judged';

export interface RequirementOnPack {
  readonly pack: string;
  readonly verdict: RequirementVerdict;
  /** Both sides in numbers, or why there are none. */
  readonly message: string;
}

export interface RequirementSummary {
  /** As written, white space folded. */
  readonly text: string;
  readonly because?: string;
  /** Where it is written: the build's own file, or that of its rules. */
  readonly uri: string;
  readonly range: Range;
  readonly packs: readonly RequirementOnPack[];
}

export interface BuildRequirements {
  readonly build: string;
  readonly title?: string;
  readonly range: Range;
  readonly requirements: readonly RequirementSummary[];
}

/** Every build of the workspace, by file, then line. */
export const buildsRequest = new RequestType<Record<string, never>, { builds: BuildSummary[] }, void>('fettle/builds');

/** The requirements of a file's builds on each of their packs. */
export const requirementsRequest = new RequestType<{ uri: string }, { builds: BuildRequirements[] }, void>(
  'fettle/requirements',
);
