import type { Finding } from '../../packages/language/src/checks/finding.ts';
import { type CheckedDocument, checkDocument } from '../../packages/language/src/checks/run.ts';
import { readDocument } from '../../packages/language/src/checks/text/read-document.ts';
import { Workspace } from '../references/workspace.ts';

/** One after the other in one workspace: to make one, with the library in it, takes as long as to check a craft. */
let workspace = new Workspace();
let before: Promise<unknown> = Promise.resolve();

/** Files in memory, checked: what the command would state of each text, by path; tables may be next to them. A check that throws fails the test. */
export function checkedIn(texts: Readonly<Record<string, string>>): Promise<Record<string, CheckedDocument>> {
  const result = before.then(() => checkedAlone(texts));
  before = result.catch(() => {
    workspace = new Workspace();
  });
  return result;
}

async function checkedAlone(texts: Readonly<Record<string, string>>): Promise<Record<string, CheckedDocument>> {
  await workspace.replace(texts);
  const entries = Object.keys(texts)
    .filter((path) => path.endsWith('.fettle'))
    .map((path): [string, CheckedDocument] => {
      const checked = checkDocument(readDocument(workspace.document(path)));
      const [defect] = checked.defects;
      if (defect) throw defect.error;
      return [path, checked];
    });
  return Object.fromEntries(entries);
}

export async function findingsIn(texts: Readonly<Record<string, string>>): Promise<Record<string, readonly Finding[]>> {
  const checked = await checkedIn(texts);
  return Object.fromEntries(Object.entries(checked).map(([path, { findings }]) => [path, findings]));
}
