/** What client and server send each other beyond the protocol, for an editor's own views. `reference/protocol.md` describes it; a test compares the two. */
import { NotificationType, type ProgressToken, RequestType } from 'vscode-languageserver-protocol';
import type { Location, Range } from 'vscode-languageserver-types';

export interface BuildSummary {
  readonly uri: string;
  readonly name: string;
  readonly title?: string;
  /** Of the name. */
  readonly range: Range;
  readonly packs: readonly string[];
}

export interface ShortlistSummary {
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
  /** Both sides in numbers, or why there are none. */
  readonly message: string;
  /** The same without the result that both this and the requirement begin with. */
  readonly shortMessage?: string;
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

/** What the checks report for a build on one of its packs, in addition to its requirements. */
export interface ChecksOnPack {
  /** `holds`: no error that is not accepted. It cannot be judged while the text has errors, or states too little to compute with. */
  readonly verdict: 'holds' | 'fails' | 'cannot be judged';
  /** In a few words: which, how many, or why not. */
  readonly message: string;
  /** One sentence per error. */
  readonly errors: readonly string[];
}

/** A pack that a build flies on. */
export interface PackLine {
  readonly pack: string;
  /** Where its `pack:` line is written: an inherited one may be in another file. */
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
  /** False while the file, or one that it depends on, has errors in its text: what is missing here may reappear with the next keystroke. */
  readonly isComplete: boolean;
}

/** Of which file. */
export interface StatusParams {
  readonly uri: string;
}

/** A build at a glance, for a line of status. */
export interface BuildStatus {
  readonly build: string;
  /** Of its name. */
  readonly range: Range;
  readonly worry: 'error' | 'warning' | 'unjudged' | 'none';
  /** `2 errors, 1 warning`, or `fit to fly on 3 packs · 6.8 to 9.9 min`: minutes in hover. */
  readonly text: string;
  /** One line per pack. */
  readonly details: readonly string[];
}

export interface StatusAnswer {
  /** True while somebody types what cannot be judged yet: no status is shown. */
  readonly isBeingWritten: boolean;
  readonly builds: readonly BuildStatus[];
}

/** Which sheet. */
export interface SheetParams {
  readonly uri: string;
  readonly build: string;
  /** Shows “…” for the grams left, which are searched for: while somebody types. */
  readonly quick?: boolean;
}

/** The derivation of a result, as `fettle.explain` returns it. */
export interface DerivationTarget {
  readonly pack: string;
  readonly result: string;
}

/** A candidate of a shortlist, which `fettle.take` writes into its build. */
export interface TakeTarget {
  readonly row: string;
}

export type SheetTarget = Location | DerivationTarget | TakeTarget;

/** One question and its answer. */
export interface SheetSection {
  /** The same for the same question in every sheet. */
  readonly id: string;
  /** Without script and style; text from files is escaped. An element with `data-go="2"` links to the third target. */
  readonly html: string;
  readonly targets: readonly SheetTarget[];
}

export interface BuildSheet {
  readonly build: string;
  readonly title?: string;
  /** Of the build's name. */
  readonly range: Range;
  /** False while a line that cannot be read yet hides figures that will reappear: then show the last complete sheet. */
  readonly isComplete: boolean;
  readonly sections: readonly SheetSection[];
}

export interface SheetAnswer {
  /** Absent where the file has no such build. */
  readonly sheet?: BuildSheet;
  /** The file's builds: shows what a build was renamed to. */
  readonly builds: readonly string[];
}

/** Which shortlist. */
export interface ChoiceParams {
  readonly uri: string;
  readonly shortlist: string;
  /** How many candidates are judged is reported here, where it takes longer than an instant. */
  readonly workDoneToken?: ProgressToken;
  /** The best candidates so far are sent here meanwhile, as `ChoiceSections`. */
  readonly partialResultToken?: ProgressToken;
}

export interface ChoiceSections {
  readonly sections: readonly SheetSection[];
}

/** The candidates of a shortlist, as sections like those of a sheet. */
export interface ShortlistChoice extends ChoiceSections {
  readonly shortlist: string;
  readonly title?: string;
}

export interface ChoiceAnswer {
  /** Absent where the file has no such shortlist. */
  readonly choice?: ShortlistChoice;
  /** The file's shortlists: shows what a shortlist was renamed to. */
  readonly shortlists: readonly string[];
}

/** Every build and shortlist of the workspace, by file, then line. */
export const buildsRequest = new RequestType<
  Record<string, never>,
  { builds: BuildSummary[]; shortlists: ShortlistSummary[] },
  void
>('fettle/builds');

/** The requirements of a file's builds on each of their packs. */
export const requirementsRequest = new RequestType<{ uri: string }, RequirementsAnswer, void>('fettle/requirements');

/** The state of a file's builds at a glance. */
export const statusRequest = new RequestType<StatusParams, StatusAnswer, void>('fettle/status');

/** What `fettle sheet` shows of a build, section by section. */
export const sheetRequest = new RequestType<SheetParams, SheetAnswer, void>('fettle/sheet');

/** What `fettle choose` shows of a shortlist, section by section. It reads a copy of the text: edits do not wait for it. */
export const choiceRequest = new RequestType<ChoiceParams, ChoiceAnswer, void>('fettle/choice');

/** Files that were checked anew or are gone: answers about them may be out of date. */
export const checkedNotification = new NotificationType<{ uris: string[] }>('fettle/checked');

export interface NewBuildQuestion {
  /** The name of its answer: `name`, `kv`, `dryMass` … */
  readonly id: string;
  /** The question in a few words, and in a sentence where to find the answer. */
  readonly asks: string;
  readonly description: string;
  readonly example: string;
  /** The default, taken when nothing is answered: no need to prompt for it. */
  readonly usual?: string;
  /** What is wrong with the answer, or that there is none. */
  readonly problem?: string;
}

export interface NewBuildFile {
  readonly fileName: string;
  readonly text: string;
  /** Of the build's name in it: where to look first. */
  readonly range: Range;
}

/** Judges the answers given so far; the file, once nothing is against them. Names that the folder has already are not taken again. */
export const newBuildRequest = new RequestType<
  { folder?: string; answers: Record<string, string> },
  { questions: NewBuildQuestion[]; file?: NewBuildFile },
  void
>('fettle/newBuild');

/** Which build. */
export interface MeasuredParams {
  readonly uri: string;
  readonly build: string;
}

export interface MeasuredBlock {
  /** Where it is inserted. */
  readonly range: Range;
  /** An `observed` block with tab stops, in the protocol's snippet syntax. */
  readonly snippet: string;
}

/** A block for what was measured on a build, with the readings that are expected. */
export const measuredRequest = new RequestType<MeasuredParams, MeasuredBlock, void>('fettle/measured');

export interface ReviewParams {
  /** A file or folder: the builds of its workspace folder are compared. The first workspace folder when absent. */
  readonly uri?: string;
  /** A revision; `HEAD` when absent. For a branch that has moved on, the commit at which this work left it. */
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
  /** Existing builds with something to report. */
  readonly builds: readonly BuildChange[];
}

/** Each build of the saved files, compared with a committed version. */
export const reviewRequest = new RequestType<ReviewParams, ReviewAnswer, void>('fettle/review');

/** All files below a folder that builds are read from (`.fettle`, `.csv`, `.tsv`); URIs as text. Answered by the client. */
export const listFilesRequest = new RequestType<{ folder: string }, { uris: string[] }, void>('fettle/listFiles');

/** The text of one file. Answered by the client. */
export const readFileRequest = new RequestType<{ uri: string }, { text: string }, void>('fettle/readFile');

// Commands that a client may offer: it names them in `initializationOptions.commands`.

/** Shows what `fettle.explain` answers. */
export const SHOW_EXPLANATION = 'fettle.showExplanation';
/** Shows who uses the part at a position. */
export const SHOW_USES = 'fettle.showUses';
/** Opens the sheet of a build. */
export const OPEN_SHEET = 'fettle.openSheet';
/** Inserts what `fettle/measured` answers into a build. */
export const ADD_MEASURED = 'fettle.addMeasured';
/** Shows what `fettle.compare` answers. */
export const COMPARE_PACKS = 'fettle.comparePacks';
/** Shows what `fettle.choose` answers. */
export const SHOW_CHOICE = 'fettle.showChoice';
/** Prompts for lines, and shows what `fettle.try` returns. */
export const TRY_LINES = 'fettle.tryLines';
/** Shows what `fettle.sensitivity` answers. */
export const SHOW_STEPS = 'fettle.showSteps';
/** Shows what changed since a committed version (`fettle/review`). */
export const COMPARE_COMMITTED = 'fettle.compareCommitted';
/** Prompts for a better name for what is at a position. */
export const RENAME_AT = 'fettle.renameAt';
