import type { Finding } from '../checks/finding.ts';
import { byPlace, type CheckedBuild, type CheckedDocument } from '../checks/run.ts';
import { soundFixes } from '../checks/sound-fixes.ts';
import type { Build } from '../model/build.ts';
import { isSlipOf } from '../model/resting.ts';
import { type Defect, defectMessage } from '../syntax/defects.ts';
import { SEVERITIES, type Severity } from '../vocabulary/severities.ts';
import type { Sources } from './present/sources.ts';

/** A path that could not be read, or not judged in full, and why. */
export interface Failure {
  readonly path: string;
  readonly message: string;
}

/** What one run of the command found out; formats of a whole run print it from records of its builds (`record.ts`). */
export interface Checked<B = CheckedBuild> {
  readonly files: number;
  readonly builds: readonly B[];
  /** Names of the builds that are there and were not requested: of them the text alone is judged. */
  readonly otherBuilds?: readonly string[];
  /** Sorted by file, position, id. */
  readonly findings: readonly Finding[];
  readonly failures: readonly Failure[];
  readonly sources: Sources;
  /** How a file is named in the output: relative to where the command runs. */
  readonly pathOf: (uri: string) => string;
}

/** What is offered to people has been computed through. */
export const withSoundFixes = ({ findings, builds }: Pick<CheckedDocument, 'findings' | 'builds'>): Finding[] =>
  findings.map((finding) => {
    const build = builds.find((one) => one.build.name === finding.build)?.build;
    const fixes = soundFixes(finding, build);
    return fixes === finding.fixes ? finding : { ...finding, fixes };
  });

/** What documents reported, as that of one run. */
export const gathered = (
  results: readonly CheckedDocument[],
  pathOf: Checked['pathOf'],
): Pick<Checked, 'files' | 'builds' | 'findings' | 'failures'> => ({
  files: results.length,
  builds: results.flatMap(({ builds }) => builds),
  findings: allFindings(results.map((result) => ({ ...result, findings: withSoundFixes(result) }))),
  failures: failuresOf(
    results.flatMap(({ defects }) => defects),
    pathOf,
  ),
});

/** Why a build could not be judged in full. */
export const unjudgedOf = ({ uri }: Build, { failures, pathOf }: Pick<Checked, 'failures' | 'pathOf'>) =>
  failures.find(({ path }) => path === pathOf(uri))?.message;

/** Reported once per file, however often the same went wrong in it. */
export function failuresOf(defects: readonly Defect[], pathOf: Checked['pathOf']): Failure[] {
  const reported = new Map<string, Failure>();
  for (const { uri, error } of defects) {
    const failure = { path: pathOf(uri), message: defectMessage(error) };
    reported.set(`${failure.path} ${failure.message}`, failure);
  }
  return [...reported.values()];
}

/** Those of the files, and those in other files that their builds are made of: each once, however many builds share them. */
export function allFindings(results: readonly Pick<CheckedDocument, 'findings' | 'elsewhere'>[]): Finding[] {
  const own = results.flatMap(({ findings }) => findings);
  const keyOf = ({ id, place, message }: Finding) => `${place.uri} ${place.start} ${id} ${message}`;
  const others = new Map(results.flatMap(({ elsewhere }) => elsewhere.map((one) => [keyOf(one), one])));
  if (others.size === 0) return own;
  for (const one of own) others.delete(keyOf(one));
  return [...own, ...others.values()].sort(byPlace);
}

/** Findings that count: accepted ones are shown and never fail a run. */
export const openFindings = ({ findings }: Pick<Checked, 'findings'>): Finding[] =>
  findings.filter((finding) => finding.accepted === undefined);

export const countBySeverity = (findings: readonly Finding[]): ReadonlyMap<Severity, number> =>
  new Map(SEVERITIES.map((severity) => [severity, findings.filter((finding) => finding.severity === severity).length]));

/** What was found about a build, and about the text it is made of: a line that cannot be read is no line that is right. */
export const findingsAbout = (build: Build, { findings }: Pick<Checked, 'findings'>): Finding[] =>
  findings.filter((finding) =>
    finding.build === undefined
      ? isSlipOf(build, finding)
      : finding.build === build.name && finding.place.uri === build.uri,
  );
