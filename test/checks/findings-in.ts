import { assess } from '../../packages/language/src/analysis/assess.ts';
import type { Assessment } from '../../packages/language/src/analysis/assessment.ts';
import { EXAMPLE_CRAFT } from '../../packages/language/src/checks/example-craft.ts';
import type { Finding } from '../../packages/language/src/checks/finding.ts';
import { type CheckedBuild, type CheckedDocument, checkDocument } from '../../packages/language/src/checks/run.ts';
import { type DocumentModel, readDocument } from '../../packages/language/src/checks/text/read-document.ts';
import { Workspace } from '../references/memory-workspace.ts';

/** One after the other in one workspace: to make one, with the library in it, takes as long as to check a craft. */
let workspace = new Workspace();
let before: Promise<unknown> = Promise.resolve();

/**
 * Files in memory, checked: what the command would state of each text, by path; tables may be next to them. A check that throws fails the test.
 * @param of these files only: the others are there to be understood
 */
export const checkedIn = (
  texts: Readonly<Record<string, string>>,
  of: readonly string[] = Object.keys(texts),
): Promise<Record<string, CheckedDocument>> => judgedIn(texts, checked, of);

/** Files in memory, and what a test needs to know of each: less than all checks, perhaps. It has to be known when `judge` returns. */
export function judgedIn<T>(
  texts: Readonly<Record<string, string>>,
  judge: (model: DocumentModel) => T,
  of: readonly string[] = Object.keys(texts),
): Promise<Record<string, T>> {
  const result = before.then(() => judgedAlone(texts, judge, of));
  before = result.catch(() => {
    workspace = new Workspace();
  });
  return result;
}

const once = new Map<string, Promise<Record<string, CheckedDocument>>>();

/** The same for texts that many tests begin with, each read and checked once in a run. */
export function checkedOnce(texts: Readonly<Record<string, string>>): Promise<Record<string, CheckedDocument>> {
  const key = JSON.stringify(texts);
  const known = once.get(key) ?? checkedIn(texts);
  once.set(key, known);
  return known;
}

/** The only file of a workspace. */
export async function checkedAlone(text: string): Promise<CheckedDocument> {
  const document = (await checkedOnce({ 'craft.fettle': text }))['craft.fettle'];
  if (!document) throw new Error('not checked');
  return document;
}

/** An example of a page, next to the craft that all of them are about. */
export const EXAMPLE = 'example.fettle';
export const checkedExample = (text: string): Promise<Record<string, CheckedDocument>> =>
  checkedOnce({ 'craft.fettle': EXAMPLE_CRAFT, [EXAMPLE]: text });

async function judgedAlone<T>(
  texts: Readonly<Record<string, string>>,
  judge: (model: DocumentModel) => T,
  of: readonly string[],
): Promise<Record<string, T>> {
  await workspace.replace(texts);
  const paths = of.filter((path) => path.endsWith('.fettle'));
  return Object.fromEntries(paths.map((path) => [path, judge(readDocument(workspace.document(path)))]));
}

/** Files in memory, each build on each of its packs: for tests of numbers, since findings take as long again. */
export const assessedIn = (
  texts: Readonly<Record<string, string>>,
  of: readonly string[] = Object.keys(texts),
): Promise<Record<string, readonly CheckedBuild[]>> =>
  judgedIn(
    texts,
    ({ builds }) => builds.map((build) => ({ build, assessments: build.packs.map((option) => assess(build, option)) })),
    of,
  );

function checked(model: DocumentModel): CheckedDocument {
  const found = checkDocument(model);
  const [defect] = found.defects;
  if (defect) throw defect.error;
  return found;
}

export async function findingsIn(texts: Readonly<Record<string, string>>): Promise<Record<string, readonly Finding[]>> {
  const checked = await checkedIn(texts);
  return Object.fromEntries(Object.entries(checked).map(([path, { findings }]) => [path, findings]));
}

/** Every build on every pack of the only file of a workspace. */
export async function assessedAlone(text: string): Promise<Assessment[]> {
  const builds = (await assessedIn({ 'craft.fettle': text }))['craft.fettle'] ?? [];
  return builds.flatMap(({ assessments }) => assessments);
}
