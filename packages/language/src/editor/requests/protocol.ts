/** Requests beyond the protocol, for an editor's own views. `reference/protocol.md` describes them; a test holds the two together. */
import { NotificationType, RequestType } from 'vscode-languageserver-protocol';
import type { Location, Range } from 'vscode-languageserver-types';

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

/** What the checks say of a build on one of its packs, beside what it requires. */
export interface ChecksOnPack {
  /** `holds`: no error that is not accepted. It cannot be judged while the text has errors, or says too little to compute with. */
  readonly verdict: 'holds' | 'fails' | 'cannot be judged';
  /** In a few words: which, how many, or why not. */
  readonly message: string;
  /** A sentence for each error. */
  readonly errors: readonly string[];
}

/** A pack that a build flies on. */
export interface PackLine {
  readonly pack: string;
  /** Where its `pack:` line is written: an inherited one may stand in another file. */
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
  /** False while the file, or one that it draws on, has errors in its text: what is missing here may be back with the next letter. */
  readonly isComplete: boolean;
}

/** Whose sheet. */
export interface SheetParams {
  readonly uri: string;
  readonly build: string;
  /** Shows “…” for the grams left, which are searched for: while somebody types. */
  readonly quick?: boolean;
}

/** How a result came about: as `fettle.explain` tells. */
export interface DerivationTarget {
  readonly pack: string;
  readonly result: string;
}

export type SheetTarget = Location | DerivationTarget;

/** One question and its answer. */
export interface SheetSection {
  /** The same for the same question in every sheet. */
  readonly id: string;
  /** Without script and style; what a file says is escaped in it. What has `data-go="2"` leads to the third target. */
  readonly html: string;
  readonly targets: readonly SheetTarget[];
}

export interface BuildSheet {
  readonly build: string;
  readonly title?: string;
  /** Of the build's name. */
  readonly range: Range;
  /** False while a line that cannot be read yet keeps figures out that will be there again: better show the last complete sheet. */
  readonly isComplete: boolean;
  readonly sections: readonly SheetSection[];
}

export interface SheetAnswer {
  /** Absent where the file has no such build. */
  readonly sheet?: BuildSheet;
  /** The file's builds: tells what a build was renamed to. */
  readonly builds: readonly string[];
}

/** Every build of the workspace, by file, then line. */
export const buildsRequest = new RequestType<Record<string, never>, { builds: BuildSummary[] }, void>('fettle/builds');

/** The requirements of a file's builds on each of their packs. */
export const requirementsRequest = new RequestType<{ uri: string }, RequirementsAnswer, void>('fettle/requirements');

/** What `fettle sheet` shows of a build, section by section. */
export const sheetRequest = new RequestType<SheetParams, SheetAnswer, void>('fettle/sheet');

/** Files that were checked anew or are gone: what was asked about them may have changed. */
export const checkedNotification = new NotificationType<{ uris: string[] }>('fettle/checked');

export interface NewBuildQuestion {
  /** Under this name it is answered: `name`, `kv`, `dryMass` … */
  readonly id: string;
  /** What is asked for, in a few words, and where to find it, in a sentence. */
  readonly asks: string;
  readonly says: string;
  readonly example: string;
  /** Taken when nothing is answered. */
  readonly usual?: string;
  /** What stands against the answer, or that there is none. */
  readonly problem?: string;
}

export interface NewBuildFile {
  readonly fileName: string;
  readonly text: string;
  /** Of the build's name in it: where to look first. */
  readonly range: Range;
}

/** Judges the answers given so far; the file, once nothing stands against them. Names that the folder has already are not taken again. */
export const newBuildRequest = new RequestType<
  { folder?: string; answers: Record<string, string> },
  { questions: NewBuildQuestion[]; file?: NewBuildFile },
  void
>('fettle/newBuild');

export interface ReviewParams {
  /** A file or folder: the builds of its workspace folder are compared. The first workspace folder when absent. */
  readonly uri?: string;
  /** A revision; `HEAD` when absent. Of a branch that went on meanwhile, the commit where this work parted from it. */
  readonly base?: string;
}

export interface BuildChange {
  readonly uri: string;
  readonly build: string;
  /** `all-up weight 96.0 → 98.8 g; 1 new warning` */
  readonly line: string;
}

export interface ReviewAnswer {
  readonly base: { readonly name: string; readonly commit: string };
  /** As `fettle review --format markdown` prints it. */
  readonly markdown: string;
  /** Builds with something to tell that are still there. */
  readonly builds: readonly BuildChange[];
}

/** What the saved files make of each build, beside a committed version. */
export const reviewRequest = new RequestType<ReviewParams, ReviewAnswer, void>('fettle/review');
