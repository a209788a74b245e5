import { DocumentState } from 'langium';
import { allFindings, type Checked } from '../report/checked.ts';
import { type Detail, type Recorded, recorded } from '../report/formats/record.ts';
import { Sources } from '../report/present/sources.ts';
import type { Severity } from '../vocabulary/severities.ts';
import { eachOnce, type Listed, listFiles, loadListed } from '../workspace/load-paths.ts';
import { NodeFileSystem } from '../workspace/node-files.ts';
import { createFettleServices, type Services } from '../workspace/services.ts';
import { checkInThreads, type LotChecked, threadsForFiles } from './check-threads.ts';
import { checkLoaded, colorsFor, exitCode, pathOf } from './checked-files.ts';
import { CHECK_PRINTERS, type CheckFormat } from './formats.ts';
import { Refusal } from './refuse.ts';
import { progressOn } from './terminal-progress.ts';

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
    await CHECK_PRINTERS[options.format].print(checked, { failOn: options.failOn, colors: colorsFor(process.stdout) }),
  );
  return exitCode(checked, options.failOn);
}

function detailOf({ format, explain }: CheckOptions): Detail {
  const { prints } = CHECK_PRINTERS[format];
  return prints === 'results' && explain ? 'derivations' : prints;
}

/**
 * With everything that was computed.
 * @param names of the builds to judge; otherwise all of them
 */
export function checkPaths(
  paths: readonly string[],
  services = createFettleServices(NodeFileSystem),
  names?: readonly string[],
): Promise<Checked> {
  return checkListed(services, listFiles(services, paths), names);
}

async function checkListed(services: Services, listed: Listed, names?: readonly string[]): Promise<Checked> {
  const progress = progressOn(process.stderr);
  services.shared.workspace.DocumentBuilder.onBuildPhase(DocumentState.ComputedScopes, async (documents) =>
    progress.step(`reading ${documents.length} files`),
  );
  try {
    return checkLoaded(services, await loadListed(services, listed), progress, names);
  } finally {
    progress.end();
  }
}

/** What formats print. Many files are shared out among threads. */
async function recordPaths(paths: readonly string[], detail: Detail): Promise<Recorded> {
  const services = createFettleServices(NodeFileSystem);
  const listed = listFiles(services, paths);
  const threads = threadsForFiles(listed.files.length);
  if (threads === 1) return recorded(await checkListed(services, listed), detail);
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
