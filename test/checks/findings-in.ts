import type { Finding } from '../../packages/language/src/checks/finding.ts';
import { type CheckedDocument, checkDocument } from '../../packages/language/src/checks/run.ts';
import { readDocument } from '../../packages/language/src/checks/text/read-document.ts';
import { Workspace } from '../references/workspace.ts';

/** Files in memory, checked: what the command would state of each text, by path; tables may lie beside them. A check that throws fails the test. */
export async function checkedIn(texts: Readonly<Record<string, string>>): Promise<Record<string, CheckedDocument>> {
  const workspace = await Workspace.of(texts);
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
