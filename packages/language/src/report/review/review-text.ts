/** A review for a terminal. */
import type pc from 'picocolors';
import { terminalSafe } from '../../syntax/terminal-safe.ts';
import { plural } from '../../vocabulary/phrasing.ts';
import type { Severity } from '../../vocabulary/severities.ts';
import { columns } from '../present/display-width.ts';
import type { Review } from './review-data.ts';
import {
  type BuildReviewRecord,
  type ChangeRecord,
  type FindingRecord,
  type RelaxationRecord,
  type ReviewRecord,
  reviewRecordOf,
} from './review-records.ts';
import type { ReviewVerdict } from './review-verdict.ts';
import { type HiddenWords, resultChangeText } from './review-words.ts';
import { type Overview, onBuilds } from './summary.ts';

type Colors = ReturnType<typeof pc.createColors>;

export function reviewText(review: Review, colors: Colors): string {
  const record = reviewRecordOf(review);
  const { sentence, extent, worry } = record.verdict;
  const blocks = [
    `${paintOf(worry, colors)(colors.bold(terminalSafe(sentence)))}\n${colors.dim(terminalSafe(extent))}`,
    ...record.remarks.map((remark) => colors.dim(terminalSafe(remark))),
    ...changeBlocks(record, colors),
  ];
  return `${blocks.join('\n\n')}\n`;
}

/** The same under a heading of its own, where the versions have no name: what differs since the file was last saved. */
export function toTextSince(heading: string, review: Review, colors: Colors): string {
  const record = reviewRecordOf(review);
  const { sentence, worry } = record.verdict;
  const head = `${colors.bold(heading)}: ${paintOf(worry, colors)(terminalSafe(sentence))}`;
  return [head, ...changeBlocks(record, colors)].join('\n\n');
}

const paintOf = (worry: ReviewVerdict['worry'], colors: Colors) =>
  ({ error: colors.red, warning: colors.yellow, differences: colors.cyan, none: colors.green })[worry];

function changeBlocks(record: ReviewRecord, colors: Colors): string[] {
  const { unknown, table, files, isMany, common, builds, quiet } = record;
  return [
    ...permittedLines(record, colors),
    ...unknown.map((one) => terminalSafe(`${onBuilds(one.builds, (name) => name)}: ${one.text}`)),
    ...(table ? [overview(table)] : []),
    ...files.map((found) => findingLines(found, colors).join('\n')),
    ...(isMany
      ? [
          ...common.map((one) => findingLines(one.found, colors, onBuilds(one.builds, terminalSafe)).join('\n')),
          ...changeLines(record).map(colors.dim),
        ]
      : builds.map((build) => buildBlock(build, colors))),
    ...shortlistLines(record),
    ...quietLine(quiet).map(colors.dim),
  ];
}

function permittedLines({ permitted, together, isOneBuild }: ReviewRecord, colors: Colors): string[] {
  const lines = [
    ...permitted.flatMap((one) => relaxationLines(one, isOneBuild, colors)),
    ...together.flatMap(hiddenLines),
  ];
  return lines.length > 0 ? [lines.join('\n')] : [];
}

const overview = (table: Overview): string =>
  columns([
    ['build', 'pack', ...table.columns, 'found'],
    ...table.rows.map(({ build, pack, found, cells }) => [build, pack, ...cells, found]),
  ]).trimEnd();

/** What each does to one build is in a review of that build. */
function changeLines({ changes }: ReviewRecord): string[] {
  const lines = changes.map(({ change, count }) => terminalSafe(`${changeText(change)}  (${plural(count, 'build')})`));
  const shown = lines.slice(0, MOST_CHANGES);
  const left = lines.length - shown.length;
  return shown.length === 0
    ? []
    : [
        `changed:\n${[...shown, ...(left > 0 ? [`and ${left} more`] : [])].map(indented).join('\n')}\nreview a build’s own file to see all that differs on it`,
      ];
}

const MOST_CHANGES = 20;

function shortlistLines({ shortlists }: ReviewRecord): string[] {
  const lines = shortlists.map((change) => terminalSafe(changeText(change)));
  const shown = lines.slice(0, MOST_CHANGES);
  const left = lines.length - shown.length;
  if (shown.length === 0) return [];
  return [
    `shortlists, whose choices may be others now:\n${[...shown, ...(left > 0 ? [`and ${left} more`] : [])].map(indented).join('\n')}`,
  ];
}

function quietLine(builds: readonly string[]): string[] {
  if (builds.length === 0) return [];
  const names = builds.map(terminalSafe).join(', ');
  return [`${plural(builds.length, 'build')} touched, without a difference beyond the ±: ${names}`];
}

function buildBlock(build: BuildReviewRecord, colors: Colors): string {
  const title = build.title === undefined ? '' : `  ${terminalSafe(build.title)}`;
  const status = build.status === 'changed' ? '' : `  ${build.status}`;
  const moved = build.movedFrom === undefined ? '' : `, moved from ${terminalSafe(build.movedFrom)}`;
  const renamed = build.renamedFrom === undefined ? '' : `${terminalSafe(build.renamedFrom)}, now `;
  const head = `${renamed}${colors.bold(terminalSafe(build.name))}${title}${status}  ${colors.dim(`${terminalSafe(build.where)}${moved}`)}`;
  if (build.status === 'removed') return head;
  const { principal, others, within, asBefore } = build;
  const rest = [
    ...(others.length > 0 ? [plural(others.length, 'more result')] : []),
    ...(within > 0 ? [`${plural(within, 'result')} within the ±`] : []),
    ...(asBefore > 0 ? [`${plural(asBefore, 'finding')} as before`] : []),
  ];
  return [
    head,
    ...principal.flatMap((found) => findingLines(found, colors)).map(indented),
    ...resultLines(build, colors).map(indented),
    ...(build.status === 'changed' ? causeLines(build) : []).map((line) => colors.dim(indented(line))),
    ...(rest.length > 0 ? [colors.dim(indented(rest.join(', ')))] : []),
  ].join('\n');
}

const indented = (line: string): string => `  ${line}`;

const onPacks = (packs: readonly string[]): string =>
  packs.length > 0 ? ` on ${packs.map(terminalSafe).join(', ')}` : '';

/** @param among of several builds: on which */
function findingLines(found: FindingRecord, colors: Colors, among?: string): string[] {
  const { status, severity, label, was, id, packs, where, message, before, accepted } = found;
  const paint: Record<Severity, (text: string) => string> = {
    error: colors.red,
    warning: colors.yellow,
    information: colors.cyan,
    hint: colors.dim,
  };
  const color = status === 'resolved' ? colors.green : paint[severity];
  const on = among === undefined ? onPacks(packs) : ` ${among}`;
  return [
    `${color(label)}${was === undefined ? '' : ` (was ${was})`}  ${id}${on}  ${colors.dim(terminalSafe(where))}`,
    ...(message === undefined ? [] : [`  ${terminalSafe(message)}`]),
    ...(before === undefined ? [] : [`  before: ${terminalSafe(before)}`]),
    ...(accepted === undefined ? [] : [`  accepted: ${terminalSafe(accepted)}`]),
  ];
}

function relaxationLines(one: RelaxationRecord, isOneBuild: boolean, colors: Colors): string[] {
  const { label, before, after, where, hides, failedOn, count } = one;
  const written = [before, after].filter((text) => text !== undefined).join(' → ');
  const on = isOneBuild ? '' : `  (${plural(count, 'build')})`;
  return [
    `${colors.yellow(label)}  ${terminalSafe(written)}  ${colors.dim(terminalSafe(where))}${on}`,
    ...hides.flatMap(hiddenLines),
    ...(failedOn.length > 0 ? [`  it failed${onPacks(failedOn)}`] : []),
  ];
}

const hiddenLines = ({ label, id, packs, message }: HiddenWords): string[] => [
  `  ${label} ${id}${onPacks(packs)}`,
  `    ${terminalSafe(message)}`,
];

function resultLines({ options, headlines }: BuildReviewRecord, colors: Colors): string[] {
  return options.flatMap(({ pack, status, results }) => {
    const rows = headlines.flatMap(({ name }) => results.filter((result) => result.name === name && result.beyond));
    if (rows.length === 0) return [];
    const width = Math.max(...rows.map(({ label }) => label.length));
    const lines = rows.map(
      (row) => `  ${terminalSafe(row.label.padEnd(width))}  ${terminalSafe(resultChangeText(row))}`,
    );
    return [`${colors.bold(terminalSafe(pack))}${status === 'changed' ? '' : `  ${status}`}`, ...lines];
  });
}

function causeLines({ causes, isSharedOut, note }: BuildReviewRecord): string[] {
  const lines = causes.map(({ change, shares }) => {
    const reported = isSharedOut && shares ? `  (${shares.stated.join(', ')} on ${shares.pack})` : '';
    return terminalSafe(`because of ${changeText(change)}${reported}`);
  });
  return [...lines, ...(note === undefined ? [] : [note])];
}

function changeText({ what, part, before, after, verb, where }: ChangeRecord): string {
  const subject = what === undefined ? part : `${what} of ${part}`;
  if (before !== undefined && after !== undefined) return `${subject}: ${before} → ${after}  ${where}`;
  const text = before ?? after;
  return `${subject} ${verb}${text === undefined ? '' : `: ${text}`}  ${where}`;
}
