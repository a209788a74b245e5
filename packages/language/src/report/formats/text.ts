import type pc from 'picocolors';
import { formatPrinted } from '../../analysis/uncertainty/print-estimate.ts';
import type { Finding } from '../../checks/finding.ts';
import type { Place } from '../../syntax/place.ts';
import { terminalSafe } from '../../syntax/terminal-safe.ts';
import { COLUMN_HEADS, HEADLINES, worthShowing } from '../../vocabulary/headlines.ts';
import { plural } from '../../vocabulary/phrasing.ts';
import { SEVERITIES, type Severity } from '../../vocabulary/severities.ts';
import { type Checked, countBySeverity, openFindings } from '../checked.ts';
import { FLIGHT_HEADINGS, flightCells } from '../flights/flight-words.ts';
import { columns, stringWidth } from '../present/display-width.ts';
import { CAUTION, severityWord } from '../present/report-words.ts';
import { pathAndColumn } from '../present/sources.ts';
import { calibratedWords } from '../present/taught-words.ts';
import { wrap } from '../present/wrap.ts';
import { optionName } from '../sheet/sheet-words.ts';
import type { BuildRecord, OptionRecord, Recorded } from './record.ts';

type Colors = ReturnType<typeof pc.createColors>;

/** The run for a terminal: findings with an excerpt each, one line per pack option, a count. */
export function recordedText(checked: Recorded, colors: Colors): string {
  const caution = checked.builds.length > 0 ? [`\n${colors.dim(CAUTION)}`] : [];
  return `${[...blocksOf(checked, colors), countsLine(checked, colors) + caution.join('')].join('\n\n')}\n`;
}

/** The same without the count. */
export function blocksOf(checked: Recorded, colors: Colors): string[] {
  const notes = checked.findings.filter(isMereNote);
  const reported = notes.length > 1 ? checked.findings.filter((finding) => !isMereNote(finding)) : checked.findings;
  return [
    ...reported.map((finding) => findingBlock(checked, finding, colors)),
    ...checked.builds.map((build) => buildBlock(checked, build, colors)),
    ...checked.failures.map(
      ({ path, message }) => `${colors.red('not judged')}  ${terminalSafe(path)}: ${terminalSafe(message)}`,
    ),
    ...(notes.length > 1 ? [estimatesBlock(notes, colors)] : []),
  ];
}

/** Nearly every build has one, and it decides nothing. */
const isMereNote = ({ id, severity, accepted }: Finding): boolean =>
  id === 'estimates' && severity === 'hint' && accepted === undefined;

/** Reported once for all builds, by what would narrow their ± most. */
function estimatesBlock(notes: readonly Finding[], colors: Colors): string {
  const byAdvice = new Map<string, string[]>();
  for (const { measureFirst = 'no single measurement helps much', build = '' } of notes)
    byAdvice.set(measureFirst, [...(byAdvice.get(measureFirst) ?? []), build]);
  const lines = [...byAdvice].flatMap(([advice, builds]) =>
    wrap(terminalSafe(`${advice}: ${builds.join(', ')}`), 96).map(
      (line, index) => `${index === 0 ? '  ' : '    '}${line}`,
    ),
  );
  return [
    `${paint('hint', colors)(colors.bold(severityWord('hint')))}  estimates  ${plural(notes.length, 'build')} with estimated figures, each with its ±. Measure first`,
    ...lines,
  ].join('\n');
}

const paint = (severity: Severity, colors: Colors) =>
  ({ error: colors.red, warning: colors.yellow, information: colors.cyan, hint: colors.dim })[severity];

function findingBlock(checked: Recorded, finding: Finding, colors: Colors): string {
  const color = paint(finding.severity, colors);
  const where = finding.build ? `  ${finding.build}${finding.pack ? ` on ${finding.pack}` : ''}` : '';
  const accepted = finding.accepted === undefined ? '' : colors.dim(`  accepted: ${terminalSafe(finding.accepted)}`);
  const lines = [
    `${location(checked, finding.place)}  ${color(colors.bold(severityWord(finding.severity)))}  ${finding.id}${colors.dim(terminalSafe(where))}${accepted}`,
    ...excerptLines(checked, finding.place, color, colors),
    ...wrap(terminalSafe(finding.message), 100).map((line) => `  ${line}`),
    ...finding.related.flatMap(({ message, place }) =>
      wrap(`see ${location(checked, place)}: ${terminalSafe(message)}`, 100).map((line) => colors.dim(`  ${line}`)),
    ),
    ...finding.fixes.map(({ title }) => colors.green(`  fix: ${terminalSafe(title)}`)),
  ];
  return lines.join('\n');
}

const location = (checked: Recorded, place: Place): string => terminalSafe(pathAndColumn(checked, place));

/** Longer lines are shown around what is meant. */
const WIDEST_EXCERPT = 120;
const LEAD_IN = 40;

function excerptLines(checked: Recorded, place: Place, color: (text: string) => string, colors: Colors): string[] {
  const excerpt = checked.sources.excerpt(place);
  if (!excerpt) return [];
  const { start, end, text } = excerpt;
  const from = text.length > WIDEST_EXCERPT ? Math.max(0, start.column - 1 - LEAD_IN) : 0;
  const to = Math.min(text.length, from + WIDEST_EXCERPT);
  const show = (part: string) => terminalSafe(part.replaceAll('\t', ' '));
  const before = `${from > 0 ? '… ' : ''}${show(text.slice(from, start.column - 1))}`;
  const shown = `${from > 0 ? '… ' : ''}${show(text.slice(from, to))}${to < text.length ? ' …' : ''}`;
  const markedTo = Math.min(end.line === start.line ? end.column - 1 : text.length, to);
  const carets = '^'.repeat(Math.max(1, stringWidth(show(text.slice(start.column - 1, markedTo)).trimEnd())));
  const gutter = String(start.line).padStart(5);
  return [
    `${colors.dim(`${gutter} |`)} ${shown}`,
    `${colors.dim(`${' '.repeat(gutter.length)} |`)} ${' '.repeat(stringWidth(before))}${color(carets)}`,
  ];
}

function buildBlock(checked: Recorded, { name, title, uri, options }: BuildRecord, colors: Colors): string {
  const titled = title ? `  ${terminalSafe(title)}` : '';
  const head = `${colors.bold(name)}${titled}  ${colors.dim(terminalSafe(checked.pathOf(uri)))}`;
  const headlines = worthShowing(HEADLINES.columns, options);
  const rows = [
    ['pack', ...headlines.map((result) => COLUMN_HEADS[result])],
    ...options.map((option) => [optionName(option), ...headlines.map((result) => cell(option, result))]),
  ];
  const lines = columns(rows)
    .trimEnd()
    .split('\n')
    .map((line, index) => `  ${index === 0 ? colors.dim(line) : line}`);
  const calibration = options[0]?.calibration;
  return [
    head,
    ...(options.length > 0 ? lines : [colors.dim('  nothing computed yet')]),
    ...flightLines(options, colors),
    ...(calibration ? [colors.dim(`  ${terminalSafe(calibratedWords(calibration))}`)] : []),
    ...options.flatMap(({ packWords, aged }) => (aged ? [colors.dim(`  ${terminalSafe(packWords)} ${aged}`)] : [])),
  ].join('\n');
}

function flightLines(options: readonly OptionRecord[], colors: Colors): string[] {
  const rows = options.flatMap((option) =>
    option.flights.map((flight) => [flight.name, optionName(option), ...flightCells(flight)]),
  );
  if (rows.length === 0) return [];
  const lines = columns([[...FLIGHT_HEADINGS], ...rows])
    .trimEnd()
    .split('\n')
    .map((line, index) => `  ${index === 0 ? colors.dim(line) : line}`);
  return ['', ...lines];
}

function cell({ results }: OptionRecord, name: string): string {
  const result = results.get(name);
  return result ? formatPrinted(result) : '-';
}

/** "5 files, 6 builds: 1 error, 2 notes, 1 accepted" */
export function countsLine(checked: Checked<unknown>, colors: Colors): string {
  const open = openFindings(checked);
  const accepted = checked.findings.length - open.length;
  const counts = countBySeverity(open);
  const found = SEVERITIES.flatMap((severity) => {
    const count = counts.get(severity) ?? 0;
    return count > 0 ? [paint(severity, colors)(plural(count, severityWord(severity)))] : [];
  });
  if (checked.files === 0) return colors.dim('no .fettle file was checked');
  const seen = `${plural(checked.files, 'file')}, ${plural(checked.builds.length, 'build')}`;
  return `${seen}: ${found.join(', ') || colors.green('nothing found')}${accepted > 0 ? `, ${accepted} accepted` : ''}`;
}
