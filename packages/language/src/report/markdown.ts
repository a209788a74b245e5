/** A run as Markdown, to be read in a pull request or a job's summary: the verdict first, a table a build, details folded. */
import type { Assessment } from '../analysis/assessment.ts';
import type { Finding } from '../checks/finding.ts';
import type { CheckedBuild } from '../checks/run.ts';
import { say } from '../checks/say.ts';
import { type Checked, countBySeverity, openFindings } from './checked.ts';
import { HEADLINES } from './headlines.ts';
import { cellCode, code, prose } from './review/markdown-safe.ts';
import { CAUTION, nameOf, plural } from './words.ts';

export function toMarkdown(checked: Checked): string {
  const [pressing, minor, accepted] = [isPressing, isMinor, isAccepted].map((one) => checked.findings.filter(one));
  const blocks = [
    `## ${verdictOf(checked)}`,
    `${plural(checked.files, 'file')}, ${plural(checked.builds.length, 'build')}`,
    ...listed(checked.failures.map(({ path, message }) => `- not read: ${code(path)}: ${prose(message)}`)),
    ...listed((pressing ?? []).map((finding) => findingLine(checked, finding))),
    ...checked.builds.map((build) => buildBlock(checked, build)),
    ...folded('note', checked, minor ?? []),
    ...folded('accepted finding', checked, accepted ?? []),
    ...(checked.builds.length > 0 ? [`<sub>${CAUTION}</sub>`] : []),
  ];
  return `${blocks.join('\n\n')}\n`;
}

const isAccepted = ({ accepted }: Finding): boolean => accepted !== undefined;
const isPressing = (finding: Finding): boolean =>
  !isAccepted(finding) && (finding.severity === 'error' || finding.severity === 'warning');
const isMinor = (finding: Finding): boolean => !isAccepted(finding) && !isPressing(finding);

function verdictOf(checked: Checked): string {
  const counts = countBySeverity(openFindings(checked));
  const [errors, warnings] = [counts.get('error') ?? 0, counts.get('warning') ?? 0];
  const found = [
    ...(checked.failures.length > 0 ? [`${plural(checked.failures.length, 'file')} not read`] : []),
    ...(errors > 0 ? [plural(errors, 'error')] : []),
    ...(warnings > 0 ? [plural(warnings, 'warning')] : []),
  ].join(', ');
  if (checked.failures.length > 0) return `Not all could be checked: ${found}`;
  if (errors > 0) return `Not fit to fly: ${found}`;
  if (warnings > 0) return `Look before flying: ${found}`;
  return checked.files === 0 ? 'No .fettle file was checked' : 'No error and no warning';
}

const listed = (lines: readonly string[]): string[] => (lines.length > 0 ? [lines.join('\n')] : []);

function findingLine(checked: Checked, finding: Finding): string {
  const { id, severity, message, build, pack, packs, related, fixes, accepted } = finding;
  const about = build === undefined ? '' : ` ${code(build)}`;
  const on = pack === undefined ? '' : ` on ${(packs ?? [pack]).map(code).join(', ')}`;
  const details = [
    ...related.map((one) => `  - ${prose(one.message)} ${location(checked, one.place)}`),
    ...fixes.map(({ title }) => `  - Fix: ${prose(title)}`),
    ...(accepted === undefined ? [] : [`  - Accepted: ${prose(accepted)}`]),
  ];
  const head = `- **${nameOf(severity)}** ${code(id)}${about}${on}: ${prose(message)} ${location(checked, finding.place)}`;
  return [head, ...details].join('\n');
}

function location(checked: Checked, place: Finding['place']): string {
  const start = checked.sources.excerpt(place)?.start;
  return code(`${checked.pathOf(place.uri)}${start ? `:${start.line}:${start.column}` : ''}`);
}

function buildBlock(checked: Checked, { build, assessments }: CheckedBuild): string {
  const title = build.title === undefined ? '' : ` ${prose(build.title)}`;
  const head = `### ${code(build.name)}${title}\n\n${code(checked.pathOf(build.uri))}`;
  if (assessments.length === 0) return `${head}\n\nNothing computed yet.`;
  const rows = assessments.map(
    (assessment) => `| ${optionName(assessment)} | ${HEADLINES.map(([name]) => cell(assessment, name)).join(' | ')} |`,
  );
  return [
    head,
    '',
    `| pack | ${HEADLINES.map(([, label]) => label).join(' | ')} |`,
    `|:--|${'--:|'.repeat(HEADLINES.length)}`,
    ...rows,
  ].join('\n');
}

function optionName({ option }: Assessment): string {
  const { value } = option.dutyLimit;
  return `${cellCode(option.name)}${value < 1 ? `, duty ${Math.round(value * 100)} %` : ''}`;
}

function cell({ results }: Assessment, name: string): string {
  const result = results.get(name);
  return result ? prose(say(result.estimate, result.unit)) : '–';
}

function folded(noun: string, checked: Checked, findings: readonly Finding[]): string[] {
  if (findings.length === 0) return [];
  const lines = findings.map((finding) => findingLine(checked, finding)).join('\n');
  return [`<details><summary>${plural(findings.length, noun)}</summary>\n\n${lines}\n\n</details>`];
}
