/** Builds and packs by the names that a person types. */
import { URI } from 'langium';
import type { Assessment } from '../analysis/assessment.ts';
import type { CheckedBuild } from '../checks/run.ts';
import type { Checked } from '../report/checked.ts';
import { type FileDocument, fileDocument } from '../syntax/nodes.ts';
import { NodeFileSystem } from '../workspace/node-files.ts';
import { createFettleServices, type Services } from '../workspace/services.ts';
import { checkPaths } from './check-command.ts';
import { complain, notThere, Refusal } from './refuse.ts';

/** Checks builds in the paths by their names; what could not be read is reported, and one of the `failures`. The rest is used. */
export async function checkedAt(
  paths: readonly string[],
  names: readonly string[],
  services?: Services,
): Promise<Checked> {
  const checked = await checkPaths(paths, services, names);
  for (const { path, message } of checked.failures) complain(`${path}: ${message}`);
  return checked;
}

/** So many are enough to see what is meant. */
const MOST_FILES = 4;

export function buildNamed(name: string, { builds, otherBuilds = [], pathOf }: Checked): CheckedBuild {
  const found = builds.filter(({ build }) => build.name === name);
  const [only] = found;
  if (!only) throw notThere('build', name, [...builds.map(({ build }) => build.name), ...otherBuilds]);
  if (found.length > 1) {
    const files = [...new Set(found.map(({ build }) => pathOf(build.uri)))];
    const more = files.length > MOST_FILES ? ` and ${files.length - MOST_FILES} more files` : '';
    const shown = files.slice(0, MOST_FILES).join(', ');
    throw new Refusal(`there are ${found.length} builds ${name}: in ${shown}${more}; state the file`);
  }
  return only;
}

/** Of all packs, or of the ones requested, in the build's order. */
export function assessmentsOn(
  packs: readonly string[] | undefined,
  { build, assessments }: CheckedBuild,
): Assessment[] {
  const known = assessments.map(({ option }) => option.name);
  for (const pack of packs ?? []) if (!known.includes(pack)) throw notThere('pack', pack, known);
  if (assessments.length === 0)
    throw new Refusal(`nothing can be computed for ${build.name} yet: fettle check reports why`);
  return assessments.filter(({ option }) => packs === undefined || packs.includes(option.name));
}

/** A build, its document and the services that read it: for commands that read it again with other lines. */
export interface OpenedBuild {
  readonly checked: Checked;
  readonly found: CheckedBuild;
  readonly document: FileDocument;
  readonly services: Services;
}

export async function openedBuild(name: string, paths: readonly string[]): Promise<OpenedBuild> {
  const services = createFettleServices(NodeFileSystem);
  const checked = await checkedAt(paths, [name], services);
  const found = buildNamed(name, checked);
  const document = services.shared.workspace.LangiumDocuments.getDocument(URI.parse(found.build.uri));
  if (!document) throw new Error(`${found.build.uri} is not loaded`);
  if (found.build.holes.has('}')) throw new Refusal(`${name} has no closing } yet: fettle check reports where`);
  return { checked, found, document: fileDocument(document), services };
}
