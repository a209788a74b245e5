import { relative } from 'node:path';
import pc from 'picocolors';
import { URI } from 'vscode-uri';
import type { Severity } from '../checks/finding.ts';
import { atLeast } from '../checks/grade.ts';
import { checkDocument } from '../checks/run.ts';
import { readDocument } from '../model/read.ts';
import { NodeFileSystem } from '../model/references/node-files.ts';
import { createFettleServices } from '../model/services.ts';
import { loadPaths } from '../model/workspace.ts';
import { type Checked, openFindings } from '../report/checked.ts';
import { toJson } from '../report/json.ts';
import { Sources } from '../report/source.ts';
import { toText } from '../report/text.ts';
import { COULD_NOT_RUN } from './refuse.ts';
import { version } from './version.ts';

export type CheckFormat = 'text' | 'json' | 'sarif' | 'github' | 'markdown' | 'junit';

export interface CheckOptions {
  readonly format: CheckFormat;
  readonly failOn: Severity;
  /** With JSON: how each result came about. */
  readonly explain?: boolean;
}

/** Checks files and folders and prints what was found; returns the exit code. */
export async function check(paths: readonly string[], options: CheckOptions): Promise<number> {
  const { checked, defects } = await checkPaths(paths);
  process.stdout.write(await printed(checked, options));
  for (const defect of defects) process.stderr.write(`fettle: internal error in a check: ${defect.message}\n`);
  // A path that leads to no file at all would be green for ever.
  if (checked.files === 0 || checked.failures.length > 0 || defects.length > 0) return COULD_NOT_RUN;
  return openFindings(checked).some(({ severity }) => atLeast(severity, options.failOn)) ? 1 : 0;
}

/** Formats that not every run needs are loaded when asked for. */
async function printed(checked: Checked, { format, explain, failOn }: CheckOptions): Promise<string> {
  switch (format) {
    case 'text':
      return toText(checked, pc.createColors(pc.isColorSupported && process.stdout.isTTY));
    case 'json':
      return toJson(checked, explain);
    case 'sarif':
      return (await import('../report/sarif.ts')).toSarif(checked, version);
    case 'github':
      return (await import('../report/annotations.ts')).toAnnotations(checked);
    case 'markdown':
      return (await import('../report/markdown.ts')).toMarkdown(checked);
    case 'junit':
      return (await import('../report/junit.ts')).toJunit(checked, failOn);
  }
}

export async function checkPaths(paths: readonly string[]): Promise<{ checked: Checked; defects: readonly Error[] }> {
  const services = createFettleServices(NodeFileSystem);
  const { documents, failures } = await loadPaths(services, paths);
  const sources = new Sources();
  for (const document of services.shared.workspace.LangiumDocuments.all)
    sources.add(document.uri.toString(), document.textDocument.getText());
  const results = documents.map((document) => checkDocument(readDocument(document)));
  const checked: Checked = {
    files: documents.length,
    builds: results.flatMap(({ builds }) => builds),
    findings: results.flatMap(({ findings }) => findings),
    failures,
    sources,
    pathOf,
  };
  return { checked, defects: results.flatMap(({ defects }) => defects) };
}

/** As a person would type it from where the command runs. */
export function pathOf(uri: string): string {
  const parsed = URI.parse(uri);
  return parsed.scheme === 'file' ? relative(process.cwd(), parsed.fsPath) : uri;
}
