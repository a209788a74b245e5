import { relative } from 'node:path';
import { DocumentState } from 'langium';
import pc from 'picocolors';
import { URI } from 'vscode-uri';
import type { Severity } from '../checks/finding.ts';
import { atLeast } from '../checks/grade.ts';
import { type CheckedDocument, checkDocument } from '../checks/run.ts';
import { readDocument } from '../checks/text/read-document.ts';
import { allFindings, type Checked, gathered, openFindings } from '../report/checked.ts';
import { type Detail, type Recorded, recorded } from '../report/formats/record.ts';
import { Sources } from '../report/present/sources.ts';
import { eachOnce, type Listed, type Loaded, listFiles, loadListed } from '../workspace/load-paths.ts';
import { NodeFileSystem } from '../workspace/node-files.ts';
import { createFettleServices, type Services } from '../workspace/services.ts';
import { checkInThreads, type LotChecked, threadsFor } from './check-threads.ts';
import { CHECK_PRINTERS, type CheckFormat } from './formats.ts';
import { COULD_NOT_RUN, Refusal } from './refuse.ts';
import { type Progress, progressOn } from './terminal-progress.ts';

export interface CheckOptions {
  readonly format: CheckFormat;
  readonly failOn: Severity;
  /** With JSON: how each result came about. */
  readonly explain?: boolean;
  /** Stay, and check again what changes. */
  readonly watch?: boolean;
}

/** Checks files and folders and prints what was found; returns the exit code. */
export async function check(paths: readonly string[], options: CheckOptions): Promise<number> {
  if (options.watch) {
    if (options.format !== 'text') throw new Refusal('--watch prints text only: leave out --format');
    return (await import('./watch-command.ts')).watch(paths, options.failOn);
  }
  const checked = await recordPaths(paths, detailOf(options));
  process.stdout.write(
    await CHECK_PRINTERS[options.format](checked, { failOn: options.failOn, colors: colorsFor(process.stdout) }),
  );
  return exitCode(checked, options.failOn);
}

function detailOf({ format, explain }: CheckOptions): Detail {
  if (format !== 'json') return 'headlines';
  return explain ? 'derivations' : 'results';
}

export function exitCode(checked: Pick<Checked, 'files' | 'failures' | 'findings'>, failOn: Severity): number {
  // A path that leads to no file at all would be green for ever; what could not be judged in full is not clean.
  if (checked.files === 0 || checked.failures.length > 0) return COULD_NOT_RUN;
  return openFindings(checked).some(({ severity }) => atLeast(severity, failOn)) ? 1 : 0;
}

export const colorsFor = ({ isTTY }: { readonly isTTY?: boolean }) =>
  pc.createColors(pc.isColorSupported && isTTY === true);

/** With everything that was computed. */
export function checkPaths(
  paths: readonly string[],
  services = createFettleServices(NodeFileSystem),
): Promise<Checked> {
  return checkListed(services, listFiles(services, paths));
}

async function checkListed(services: Services, listed: Listed): Promise<Checked> {
  const progress = progressOn(process.stderr);
  services.shared.workspace.DocumentBuilder.onBuildPhase(DocumentState.ComputedScopes, async (documents) =>
    progress.step(`reading ${documents.length} files`),
  );
  try {
    return checkLoaded(services, await loadListed(services, listed), progress);
  } finally {
    progress.end();
  }
}

/** What formats print. Many files are shared out among threads. */
async function recordPaths(paths: readonly string[], detail: Detail): Promise<Recorded> {
  const services = createFettleServices(NodeFileSystem);
  const listed = listFiles(services, paths);
  const threads = threadsFor(listed.files.length);
  if (threads === 1) {
    return recorded(await checkListed(services, listed), detail);
  }
  const progress = progressOn(process.stderr);
  try {
    const task = { all: listed.files.map(String), detail };
    return together(listed, await checkInThreads(task, threads, progress));
  } finally {
    progress.end();
  }
}

/** @param parts in the order of the files */
function together(listed: Listed, parts: readonly LotChecked[]): Recorded {
  const sources = new Sources();
  for (const { texts } of parts) for (const [uri, text] of texts) sources.add(uri, text);
  return {
    files: parts.reduce((sum, { files }) => sum + files, 0),
    builds: parts.flatMap(({ builds }) => builds),
    findings: allFindings(parts),
    failures: [
      ...eachOnce([...listed.failures, ...parts.flatMap(({ failures }) => failures)]),
      ...parts.flatMap(({ defects }) => defects),
    ],
    sources,
    pathOf,
  };
}

/** What was checked before and is not touched since is not checked again. */
export function checkLoaded(services: Services, { documents, failures }: Loaded, progress: Progress): Checked {
  const sources = Sources.of(services.shared.workspace.LangiumDocuments.all);
  const results = documents.map((document, i): CheckedDocument => {
    progress.step('checking files', i, documents.length);
    return checkDocument(readDocument(document));
  });
  const found = gathered(results, pathOf);
  return { ...found, failures: [...failures, ...found.failures], sources, pathOf };
}

/** As a person would type it from where the command runs. */
export function pathOf(uri: string): string {
  const parsed = URI.parse(uri);
  return parsed.scheme === 'file' ? relative(process.cwd(), parsed.fsPath) : uri;
}
