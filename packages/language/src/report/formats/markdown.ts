/** A run as Markdown, to be read in a pull request or a job's summary: the verdict first, one table per build, details folded. */
import { formatPrinted } from '../../analysis/uncertainty/print-estimate.ts';
import { type Finding, packsOf } from '../../checks/finding.ts';
import { COLUMN_HEADS, HEADLINES, worthShowing } from '../../vocabulary/headlines.ts';
import { plural } from '../../vocabulary/phrasing.ts';
import { atLeast } from '../../vocabulary/severities.ts';
import { countBySeverity, openFindings } from '../checked.ts';
import { FLIGHT_HEADINGS, flightCells } from '../flights/flight-words.ts';
import { cellCode, code, prose } from '../present/markdown-safe.ts';
import { CAUTION, severityWord } from '../present/report-words.ts';
import { pathAndColumn } from '../present/sources.ts';
import { formatDuty, worryAbout } from '../sheet/sheet-words.ts';
import type { BuildRecord, OptionRecord, Recorded } from './record.ts';

export function recordedMarkdown(checked: Recorded): string {
  const [pressing, minor, accepted] = [isPressing, isMinor, isAccepted].map((one) => checked.findings.filter(one));
  const blocks = [
    `## ${verdictOf(checked)}`,
    `${plural(checked.files, 'file')}, ${plural(checked.builds.length, 'build')}`,
    ...listed(checked.failures.map(({ path, message }) => `- not judged: ${code(path)}: ${prose(message)}`)),
    ...listed((pressing ?? []).map((finding) => findingLine(checked, finding))),
    ...checked.builds.map((build) => buildBlock(checked, build)),
    ...folded('note', checked, minor ?? []),
    ...folded('accepted finding', checked, accepted ?? []),
    ...(checked.builds.length > 0 ? [`<sub>${CAUTION}</sub>`] : []),
  ];
  return `${blocks.join('\n\n')}\n`;
}

const isAccepted = ({ accepted }: Finding): boolean => accepted !== undefined;
const isPressing = (finding: Finding): boolean => !isAccepted(finding) && atLeast(finding.severity, 'warning');
const isMinor = (finding: Finding): boolean => !isAccepted(finding) && !isPressing(finding);

function verdictOf(checked: Recorded): string {
  const open = openFindings(checked);
  const counts = countBySeverity(open);
  const [errors, warnings] = [counts.get('error') ?? 0, counts.get('warning') ?? 0];
  const found = [
    ...(checked.failures.length > 0 ? [`${plural(checked.failures.length, 'file')} not judged`] : []),
    ...(errors > 0 ? [plural(errors, 'error')] : []),
    ...(warnings > 0 ? [plural(warnings, 'warning')] : []),
  ].join(', ');
  if (checked.failures.length > 0) return `Not all could be checked: ${found}`;
  const worry = worryAbout(open);
  if (worry !== undefined) return `${worry}: ${found}`;
  return checked.files === 0 ? 'No .fettle file was checked' : 'No error and no warning';
}

const listed = (lines: readonly string[]): string[] => (lines.length > 0 ? [lines.join('\n')] : []);

function findingLine(checked: Recorded, finding: Finding): string {
  const { id, severity, message, build, pack, related, fixes, accepted } = finding;
  const about = build === undefined ? '' : ` ${code(build)}`;
  const on = pack === undefined ? '' : ` on ${packsOf(finding).map(code).join(', ')}`;
  const details = [
    ...related.map((one) => `  - ${prose(one.message)} ${location(checked, one.place)}`),
    ...fixes.map(({ title }) => `  - Fix: ${prose(title)}`),
    ...(accepted === undefined ? [] : [`  - Accepted: ${prose(accepted)}`]),
  ];
  const head = `- **${severityWord(severity)}** ${code(id)}${about}${on}: ${prose(message)} ${location(checked, finding.place)}`;
  return [head, ...details].join('\n');
}

const location = (checked: Recorded, place: Finding['place']): string => code(pathAndColumn(checked, place));

function buildBlock(checked: Recorded, { name, title, uri, options }: BuildRecord): string {
  const titled = title === undefined ? '' : ` ${prose(title)}`;
  const head = `### ${code(name)}${titled}\n\n${code(checked.pathOf(uri))}`;
  if (options.length === 0) return `${head}\n\nNothing computed yet.`;
  const headlines = worthShowing(HEADLINES.columns, options);
  const rows = options.map(
    (option) => `| ${optionName(option)} | ${headlines.map((result) => cell(option, result)).join(' | ')} |`,
  );
  return [
    head,
    '',
    `| pack | ${headlines.map((result) => COLUMN_HEADS[result]).join(' | ')} |`,
    `|:--|${'--:|'.repeat(headlines.length)}`,
    ...rows,
    ...flightsTable(options),
  ].join('\n');
}

function flightsTable(options: readonly OptionRecord[]): string[] {
  const rows = options.flatMap((option) =>
    option.flights.map(
      (flight) => `| ${[cellCode(flight.name), optionName(option), ...flightCells(flight).map(prose)].join(' | ')} |`,
    ),
  );
  if (rows.length === 0) return [];
  return ['', `| ${FLIGHT_HEADINGS.join(' | ')} |`, '|:--|:--|--:|--:|--:|:--|', ...rows];
}

function optionName({ packWords, dutyLimit }: OptionRecord): string {
  return `${cellCode(packWords)}${dutyLimit < 1 ? `, duty ${formatDuty(dutyLimit)}` : ''}`;
}

function cell({ results }: OptionRecord, name: string): string {
  const result = results.get(name);
  return result ? prose(formatPrinted(result)) : '–';
}

function folded(noun: string, checked: Recorded, findings: readonly Finding[]): string[] {
  if (findings.length === 0) return [];
  const lines = findings.map((finding) => findingLine(checked, finding)).join('\n');
  return [`<details><summary>${plural(findings.length, noun)}</summary>\n\n${lines}\n\n</details>`];
}
