/** What every command that checks files has in common: what was found in them, how their paths are printed, and the exit code. */
import { relative } from 'node:path';
import { URI } from 'langium';
import pc from 'picocolors';
import { type CheckedDocument, checkDocument } from '../checks/run.ts';
import { readDocument } from '../checks/text/read-document.ts';
import { type Checked, gathered, openFindings } from '../report/checked.ts';
import { Sources } from '../report/present/sources.ts';
import { atLeast, type Severity } from '../vocabulary/severities.ts';
import type { Loaded } from '../workspace/load-paths.ts';
import type { Services } from '../workspace/services.ts';
import { COULD_NOT_RUN } from './refuse.ts';
import type { Progress } from './terminal-progress.ts';

export function exitCode(checked: Pick<Checked, 'files' | 'failures' | 'findings'>, failOn: Severity): number {
  // A path that leads to no file at all would be green for ever; what could not be judged in full is not clean.
  if (checked.files === 0 || checked.failures.length > 0) return COULD_NOT_RUN;
  return openFindings(checked).some(({ severity }) => atLeast(severity, failOn)) ? 1 : 0;
}

/** Of a command that answers with what could be read: its own exit code, unless something could not be. The worst wins. */
export const worstOf = (failures: readonly unknown[], own = 0): number =>
  failures.length > 0 ? Math.max(own, COULD_NOT_RUN) : own;

export const colorsFor = ({ isTTY }: { readonly isTTY?: boolean }) =>
  pc.createColors(pc.isColorSupported && isTTY === true);

/**
 * What was checked before and is not touched since is not checked again.
 * @param names of the builds to judge; otherwise all of them
 */
export function checkLoaded(
  services: Services,
  { documents, failures }: Loaded,
  progress: Progress,
  names?: readonly string[],
): Checked {
  const sources = Sources.of(services.shared.workspace.LangiumDocuments.all);
  const otherBuilds: string[] = [];
  const results = documents.map((document, i): CheckedDocument => {
    progress.step('checking files', i, documents.length);
    const model = readDocument(document);
    const others = names ? model.builds.filter(({ name }) => !names.includes(name)) : [];
    if (others.length === 0) return checkDocument(model);
    otherBuilds.push(...others.map(({ name }) => name));
    return checkDocument({ ...model, builds: model.builds.filter((build) => !others.includes(build)) });
  });
  const found = gathered(results, pathOf);
  return { ...found, otherBuilds, failures: [...failures, ...found.failures], sources, pathOf };
}

/** As a person would type it from where the command runs. */
export function pathOf(uri: string): string {
  const parsed = URI.parse(uri);
  return parsed.scheme === 'file' ? relative(process.cwd(), parsed.fsPath) : uri;
}
