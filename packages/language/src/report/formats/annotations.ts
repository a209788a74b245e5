/** Findings as workflow commands, which GitHub Actions shows at the lines of a pull request. */
import type { Finding } from '../../checks/finding.ts';
import { terminalSafe } from '../../syntax/terminal-safe.ts';
import { plural } from '../../vocabulary/phrasing.ts';
import { SEVERITIES, type Severity, worstFirst } from '../../vocabulary/severities.ts';
import { countBySeverity, openFindings } from '../checked.ts';
import { severityWord } from '../present/report-words.ts';
import type { Recorded } from './record.ts';

const COMMANDS: Readonly<Record<Severity, string>> = {
  error: 'error',
  warning: 'warning',
  information: 'notice',
  hint: 'notice',
};

/** The most severe first: of each kind a step shows only the first ten. */
export function toAnnotations(checked: Recorded): string {
  const open = openFindings(checked).toSorted(worstFirst);
  const accepted = checked.findings.filter((finding) => finding.accepted !== undefined);
  const counts = countBySeverity(open);
  const found = SEVERITIES.flatMap((severity) => {
    const count = counts.get(severity) ?? 0;
    return count > 0 ? [plural(count, severityWord(severity))] : [];
  });
  const lines = [
    ...checked.failures.map(({ path, message }) =>
      command('error', { file: path, title: 'not judged' }, terminalSafe(`${path}: ${message}`)),
    ),
    ...[...open, ...accepted].map((finding) => annotation(checked, finding)),
    `${plural(checked.files, 'file')}, ${plural(checked.builds.length, 'build')}: ${found.join(', ') || 'nothing found'}${accepted.length > 0 ? `, ${accepted.length} accepted` : ''}`,
  ];
  return `${lines.join('\n')}\n`;
}

function annotation(checked: Recorded, finding: Finding): string {
  const { id, severity, message, place, build, pack, accepted } = finding;
  const excerpt = checked.sources.excerpt(place);
  const about = build === undefined ? '' : `, ${build}${pack === undefined ? '' : ` on ${pack}`}`;
  const fixes = finding.fixes.map(({ title }) => `\nFix: ${terminalSafe(title)}`).join('');
  return command(
    accepted === undefined ? COMMANDS[severity] : 'notice',
    {
      file: checked.pathOf(place.uri),
      line: excerpt?.start.line,
      endLine: excerpt?.end.line,
      // Columns count within one line only.
      ...(excerpt?.start.line === excerpt?.end.line && { col: excerpt?.start.column, endColumn: excerpt?.end.column }),
      title: `${id}${about}${accepted === undefined ? '' : ' (accepted)'}`,
    },
    `${terminalSafe(message)}${fixes}${accepted === undefined ? '' : `\nAccepted: ${terminalSafe(accepted)}`}`,
  );
}

function command(
  name: string,
  properties: Readonly<Record<string, string | number | undefined>>,
  text: string,
): string {
  const printed = Object.entries(properties)
    .filter(([, value]) => value !== undefined)
    .map(([key, value]) => `${key}=${propertyText(String(value))}`);
  return `::${name} ${printed.join(',')}::${dataText(text)}`;
}

const dataText = (text: string): string => text.replaceAll('%', '%25').replaceAll('\r', '%0D').replaceAll('\n', '%0A');

const propertyText = (text: string): string =>
  dataText(terminalSafe(text)).replaceAll(':', '%3A').replaceAll(',', '%2C');
