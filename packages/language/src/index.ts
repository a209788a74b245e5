/**
 * Fettle for people who script their own: read builds, compute them, list what is wrong, review a change.
 *
 * Everything here takes and gives plain data. Numbers are in the stated unit; ± is expanded (k = 2, about 95 %). What is
 * exported here stays; everything else in this package may change any day.
 *
 * @packageDocumentation
 */
import { URI } from 'langium';
import { type CheckedDocument, checkDocument } from './checks/run.ts';
import { readDocument } from './checks/text/read-document.ts';
import { type Checked, gathered } from './report/checked.ts';
import { buildOf, findingOf } from './report/formats/json.ts';
import { recordOf } from './report/formats/record.ts';
import { Sources } from './report/present/sources.ts';
import { pathBelow, TreeFiles } from './report/review/file-tree.ts';
import { review as reviewTrees } from './report/review/review.ts';
import { reviewData } from './report/review/review-json.ts';
import { type Loaded, loadPaths } from './workspace/load-paths.ts';
import { NodeFileSystem } from './workspace/node-files.ts';
import { createFettleServices, type Services } from './workspace/services.ts';

/** Texts by path, with `/` between folders: `{ 'builds/spire.fettle': '…', 'parts/motors.fettle': '…' }`. */
export type Files = Readonly<Record<string, string>>;

/** How grave a finding is, gravest first. `error`: even the near end of the ± is past the limit. */
type Severity = 'error' | 'warning' | 'information' | 'hint';

/** 1-based; columns in UTF-16 units, as editors count. */
interface Position {
  readonly line: number;
  readonly column: number;
}

interface Range {
  readonly start: Position;
  readonly end: Position;
}

interface Location {
  /** A path as it was given. */
  readonly file: string;
  readonly range?: Range | undefined;
}

interface NumberWithUnit {
  readonly value: number;
  /** As the trade reads it: `g`, `min`, `rpm/V`; empty for a plain number. */
  readonly unit: string;
  /** Half-width, k = 2, in the same unit; absent where the number is exact. */
  readonly plusMinus?: number | undefined;
  /** Ends of the interval that holds in about 95 of a hundred: `value` less and plus `plusMinus`, or further up than down where it is known badly. */
  readonly low?: number | undefined;
  readonly high?: number | undefined;
}

/** What is computed of a build. */
interface ResultNumber extends NumberWithUnit {
  readonly low: number;
  readonly high: number;
}

/** A build on one pack. */
interface AssessedOption {
  readonly pack: string;
  /** A share; 1 when there is none. */
  readonly dutyLimit: number;
  /** By name, `hover_time`, `rail.video.voltage` …: the reference's page on results lists them. */
  readonly results: Readonly<Record<string, ResultNumber>>;
  /** Why a result does not exist, by name. */
  readonly missing: Readonly<Record<string, string>>;
}

export interface AssessedBuild {
  readonly name: string;
  readonly title?: string | undefined;
  readonly file: string;
  readonly options: readonly AssessedOption[];
}

interface Fix {
  readonly title: string;
  readonly edits: readonly (Location & { readonly newText: string })[];
}

export interface Finding extends Location {
  /** `motor-overvoltage` …: each has a page in the reference. */
  readonly id: string;
  readonly severity: Severity;
  readonly message: string;
  /** Absent for what is wrong with the text itself. */
  readonly build?: string | undefined;
  /** The pack it is worst on, and all that have it where there are several. */
  readonly pack?: string | undefined;
  readonly packs?: readonly string[] | undefined;
  readonly numbers: Readonly<Record<string, NumberWithUnit>>;
  readonly related: readonly (Location & { readonly message: string })[];
  readonly fixes: readonly Fix[];
  /** The reason, where the build accepts it: such a finding counts for nothing. */
  readonly accepted?: string | undefined;
}

/** A file or folder that could not be read, or not be judged in full, and why. */
interface Failure {
  readonly path: string;
  readonly message: string;
}

/** Builds that were read, with all that they need. Made by `parse` and `load`; opaque. */
export interface Workspace {
  /** Files that were requested, by path. */
  readonly files: readonly string[];
  readonly failures: readonly Failure[];
}

/**
 * Reads texts. Files of one folder see each other, and `use` opens another folder of the same texts. Half-typed files are
 * read as far as they go: `findings` states what is wrong with them.
 *
 * @throws TypeError when it is no plain object, a path is not relative, or a text is no string
 */
export async function parse(files: Files): Promise<Workspace> {
  const tree = new TreeFiles(ROOT, bytesOf(files));
  const services = createFettleServices({ fileSystemProvider: () => tree });
  const { Loader, DocumentBuilder } = services.shared.workspace;
  const paths = Object.keys(files).filter((path) => path.endsWith('.fettle'));
  const documents = paths.flatMap((path) => (Loader.file(tree.uriOf(path)) as Loaded['documents'][number]) ?? []);
  await DocumentBuilder.build(documents, { validation: false });
  const pathOf = (uri: string) => pathBelow(ROOT, uri);
  const failures = [...Loader.failures.values()].map(({ uri, message }) => ({ path: pathOf(uri.toString()), message }));
  return workspaceOf(services, { documents, failures }, pathOf);
}

/**
 * Reads files and folders of this machine, folders with all below them, and what they need from elsewhere. What cannot be
 * read is in `failures`; the rest is there nevertheless.
 */
export async function load(paths: string | readonly string[]): Promise<Workspace> {
  const services = createFettleServices(NodeFileSystem);
  const loaded = await loadPaths(services, typeof paths === 'string' ? [paths] : paths);
  const failures = loaded.failures.map(({ path, message }) => ({ path, message }));
  return workspaceOf(services, { ...loaded, failures }, (uri) =>
    uri.startsWith('file:') ? URI.parse(uri).fsPath : uri,
  );
}

/**
 * Computes builds on each of their packs: the same numbers that the command prints.
 *
 * @param only of these builds, or on these packs, by name
 * @throws RangeError when a name is requested that is not there
 */
export function assess(workspace: Workspace, only: { build?: string; pack?: string } = {}): readonly AssessedBuild[] {
  const { checked } = insideOf(workspace);
  const named = checked.builds.filter(({ build }) => only.build === undefined || build.name === only.build);
  if (only.build !== undefined && named.length === 0) throw new RangeError(`there is no build ${only.build}`);
  const found = named.map((build) => ({
    ...build,
    assessments: build.assessments.filter(({ option }) => only.pack === undefined || option.name === only.pack),
  }));
  if (only.pack !== undefined && found.every(({ assessments }) => assessments.length === 0))
    throw new RangeError(`no build has a pack ${only.pack}`);
  return found.map((build) => buildOf(checked, recordOf(build, 'results')));
}

/** What is wrong, by file and line; what a build accepts is among them, marked so. */
export function findings(workspace: Workspace): readonly Finding[] {
  const { checked } = insideOf(workspace);
  return checked.findings.map((finding) => findingOf(checked, finding));
}

/** A result of one version and the other. */
interface ResultChange {
  readonly unit: string;
  readonly before?: Omit<NumberWithUnit, 'unit'> | undefined;
  readonly after?: Omit<NumberWithUnit, 'unit'> | undefined;
  readonly difference?: Omit<NumberWithUnit, 'unit'> | undefined;
  /** More than the ± of the difference can explain, or there on one side only. */
  readonly beyond: boolean;
  /** Why there is none any more. */
  readonly reason?: string | undefined;
}

interface FindingChange extends Location {
  /** `hidden`: gone only because more is permitted. */
  readonly status: 'new' | 'worse' | 'eased' | 'open' | 'resolved' | 'hidden' | 'accepted' | 'still-accepted';
  readonly id: string;
  readonly severity: Severity;
  /** Its severity before, where that was another. */
  readonly was?: Severity | undefined;
  readonly message: string;
  readonly packs: readonly string[];
  readonly accepted?: string | undefined;
}

/** Where a build requires less, or forgives more, than before; the place is in the new version, in the old one without `after`. */
interface Relaxation extends Location {
  readonly what:
    | 'requirement'
    | 'rule'
    | 'flight'
    | 'limit'
    | 'figure'
    | 'measurement'
    | 'part'
    | 'facts'
    | 'acceptance'
    | 'severity';
  /**
   * `changed`: whether it requires less is open. `called measured`: with no rows and no observation behind it. `exchanged`: of a part, for one
   * that is allowed more. `restated`: facts of a part, other ones than before.
   */
  readonly how:
    | 'taken away'
    | 'loosened'
    | 'raised'
    | 'changed'
    | 'called measured'
    | 'rewritten'
    | 'exchanged'
    | 'restated'
    | 'narrowed'
    | 'widened'
    | 'added'
    | 'lowered'
    | 'no longer raised';
  /** The part whose limit or figure it is: `motor M1606`. */
  readonly of?: string | undefined;
  /** As written. */
  readonly before?: string | undefined;
  readonly after?: string | undefined;
  /** Packs on which the requirement failed before. */
  readonly failedOn?: readonly string[] | undefined;
  /** What the new craft would be found with, had this stayed as it was. */
  readonly hides?: readonly Hidden[] | undefined;
}

/** A finding that is gone, accepted or milder only because something else is permitted. */
interface Hidden {
  readonly id: string;
  /** Without the change. */
  readonly severity: Severity;
  /** With it, where it is milder. */
  readonly now?: Severity | undefined;
  readonly message: string;
  readonly pack?: string | undefined;
}

/** A line that was changed, and what it does by itself. */
interface Cause extends Location {
  readonly change: 'changed' | 'added' | 'removed';
  readonly part: { readonly kind: string; readonly name: string };
  /** `resistance`; absent for a whole part. */
  readonly what?: string | undefined;
  readonly before?: string | undefined;
  readonly after?: string | undefined;
  /** By pack, then result: this change's share of the difference. Where several changes have one. */
  readonly shares?:
    | Readonly<Record<string, Readonly<Record<string, { readonly value: number; readonly unit: string | undefined }>>>>
    | undefined;
  /** Findings that this change alone brings or cures. */
  readonly findings?: readonly string[] | undefined;
}

interface BuildReview {
  readonly name: string;
  readonly title?: string | undefined;
  readonly file: string;
  readonly movedFrom?: string | undefined;
  /** Its name before, where that was another. */
  readonly renamedFrom?: string | undefined;
  readonly status: 'changed' | 'added' | 'removed';
  readonly options: readonly {
    readonly pack: string;
    readonly status: 'changed' | 'added' | 'removed';
    readonly results: Readonly<Record<string, ResultChange>>;
  }[];
  readonly findings: readonly FindingChange[];
  readonly relaxations: readonly Relaxation[];
  /** What none of these hides alone, only several together. */
  readonly hiddenTogether?: readonly Hidden[] | undefined;
  readonly changes: readonly Cause[];
}

export interface Review {
  /** Whether to worry, in a word and in a sentence. */
  readonly verdict: { readonly worry: string; readonly sentence: string };
  /** Builds that rest on something that was changed, gravest first. */
  readonly builds: readonly BuildReview[];
  /** Findings about the text of files. */
  readonly text: readonly FindingChange[];
  /** Of the new version. */
  readonly failures: readonly Failure[];
}

/**
 * What a change does to every build that it touches: the same that `fettle review --format json` prints, without git.
 *
 * @throws TypeError as `parse` does
 */
export async function review(before: Files, after: Files): Promise<Review> {
  const treeOf = (files: Files) => ({ files: bytesOf(files), unread: new Map<string, string>(), submodules: [] });
  const found = await reviewTrees({
    root: ROOT,
    base: { name: 'before', tree: treeOf(before) },
    head: { name: 'after', tree: treeOf(after) },
    isAsked: () => true,
  });
  const { verdict, builds, text, failures } = reviewData(found);
  return { verdict, builds, text, failures };
}

/** Folder of texts that are on no disk. */
const ROOT = URI.parse('file:///texts');

function bytesOf(files: Files): ReadonlyMap<string, Uint8Array> {
  const isPlain =
    typeof files === 'object' && files !== null && [Object.prototype, null].includes(Object.getPrototypeOf(files));
  if (!isPlain)
    throw new TypeError('texts are a plain object of paths and texts: { "builds/spire.fettle": "build …" }');
  const encoder = new TextEncoder();
  return new Map(
    Object.entries(files).map(([path, text]) => {
      if (path === '' || path.split('/').some((step) => step === '' || step === '.' || step === '..'))
        throw new TypeError(`“${path}” is no relative path, such as builds/spire.fettle`);
      if (typeof text !== 'string') throw new TypeError(`the text of ${path} is no string`);
      return [path, encoder.encode(text)] as const;
    }),
  );
}

/** What a workspace contains in addition to what it shows. */
interface Inside {
  readonly checked: Checked;
}

const insides = new WeakMap<Workspace, Inside>();

function insideOf(workspace: Workspace): Inside {
  const inside = insides.get(workspace);
  if (!inside) throw new TypeError('this is no workspace: parse or load makes one');
  return inside;
}

function workspaceOf(
  services: Services,
  { documents, failures }: Pick<Loaded, 'documents'> & Pick<Workspace, 'failures'>,
  pathOf: (uri: string) => string,
): Workspace {
  const sources = Sources.of(services.shared.workspace.LangiumDocuments.all);
  const results = documents.map((document): CheckedDocument => checkDocument(readDocument(document)));
  const found = gathered(results, pathOf);
  const all = [...failures, ...found.failures];
  const workspace: Workspace = { files: documents.map(({ uri }) => pathOf(uri.toString())), failures: all };
  insides.set(workspace, { checked: { ...found, failures: all, sources, pathOf } });
  return workspace;
}
