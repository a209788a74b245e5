/** A review for a terminal. */
import type pc from 'picocolors';
import type { Severity } from '../../checks/finding.ts';
import { terminalSafe } from '../../syntax/terminal-safe.ts';
import { columns } from '../present/display-width.ts';
import type { Change } from './changes.ts';
import type { BuildReview, Review } from './data.ts';
import { type FindingChange, isKnownAndWorse } from './finding-changes.ts';
import {
  changeWords,
  effectiveCauses,
  type HiddenWords,
  hiddenWords,
  isAsBefore,
  isPrincipal,
  isWorthReporting,
  mainShares,
  nameOf,
  noteOnShares,
  placeOfChange,
  plural,
  relaxationWords,
  resultChangeText,
  rowsOf,
  STATUS_WORDS,
  withinCount,
} from './phrases.ts';
import { isGone } from './raised-limits.ts';
import { type Verdict, verdictOf } from './review-verdict.ts';
import {
  COLUMNS,
  commonFindings,
  hiddenTogether,
  isKnown,
  MOST_OPEN,
  onBuilds,
  type Permitted,
  permittedBy,
  tableOf,
  unknownIn,
  unknownText,
} from './summary.ts';

type Colors = ReturnType<typeof pc.createColors>;

export function toText(review: Review, colors: Colors): string {
  const { sentence, extent, worry } = verdictOf(review);
  const blocks = [
    `${paintOf(worry, colors)(colors.bold(terminalSafe(sentence)))}\n${colors.dim(terminalSafe(extent))}`,
    ...review.remarks.map((remark) => colors.dim(terminalSafe(remark))),
    ...changeBlocks(review, colors),
  ];
  return `${blocks.join('\n\n')}\n`;
}

/** The same under a heading of its own, where the versions have no name: what differs since the file was last saved. */
export function toTextSince(heading: string, review: Review, colors: Colors): string {
  const { sentence, worry } = verdictOf(review);
  const head = `${colors.bold(heading)}: ${paintOf(worry, colors)(terminalSafe(sentence))}`;
  return [head, ...changeBlocks(review, colors)].join('\n\n');
}

const paintOf = (worry: Verdict['worry'], colors: Colors) =>
  ({ error: colors.red, warning: colors.yellow, differences: colors.cyan, none: colors.green })[worry];

function changeBlocks(review: Review, colors: Colors): string[] {
  const reported = review.builds.filter((build) => isWorthReporting(build) && isKnown(build));
  const isMany = reported.length > MOST_OPEN;
  return [
    ...permittedLines(review, colors),
    ...unknownIn(review.builds).map((one) =>
      terminalSafe(`${onBuilds(one.builds, (name) => name)}: ${unknownText(one)}`),
    ),
    ...(reported.length > 1 ? [overview(review)] : []),
    ...review.text.filter(isPrincipal).map((change) => findingLines(review, change, colors).join('\n')),
    ...(isMany
      ? [...commonLines(review, colors), ...changeLines(review).map(colors.dim)]
      : reported.map((build) => buildBlock(review, build, colors))),
    ...quietLine(review.builds.filter((build) => !isWorthReporting(build) && !build.isUnjudged)).map(colors.dim),
  ];
}

function permittedLines(review: Review, colors: Colors): string[] {
  const lines = [
    ...permittedBy(review.builds).flatMap((one) => relaxationLines(review, one, colors)),
    ...hiddenWords(hiddenTogether(review.builds), 'together they').flatMap(hiddenLines),
  ];
  return lines.length > 0 ? [lines.join('\n')] : [];
}

const overview = (review: Review): string =>
  columns([
    ['build', 'pack', ...COLUMNS, 'found'],
    ...tableOf(review).map(({ build, pack, found, cells }) => [build, pack, ...cells, found]),
  ]).trimEnd();

const commonLines = (review: Review, colors: Colors): string[] =>
  commonFindings(review.builds).map(({ change, builds }) =>
    findingLines(review, change, colors, onBuilds(builds, terminalSafe)).join('\n'),
  );

/** Each once, with the number of builds that rest on it; what each does to one build is in a review of that build. */
function changeLines({ builds, ...review }: Review): string[] {
  const counts = new Map<Change, number>();
  for (const { causes } of builds) for (const { change } of causes) counts.set(change, (counts.get(change) ?? 0) + 1);
  const lines = [...counts].map(([change, count]) =>
    terminalSafe(`${changeText({ builds, ...review }, change)}  (${plural(count, 'build')})`),
  );
  const shown = lines.slice(0, MOST_CHANGES);
  const left = lines.length - shown.length;
  return shown.length === 0
    ? []
    : [
        `changed:\n${[...shown, ...(left > 0 ? [`and ${left} more`] : [])].map(indented).join('\n')}\nreview a build’s own file to see all that differs on it`,
      ];
}

const MOST_CHANGES = 20;

function quietLine(builds: readonly BuildReview[]): string[] {
  if (builds.length === 0) return [];
  const names = builds.map(({ name }) => terminalSafe(name)).join(', ');
  return [`${plural(builds.length, 'build')} touched, without a difference beyond the ±: ${names}`];
}

function buildBlock(review: Review, build: BuildReview, colors: Colors): string {
  const title = build.title === undefined ? '' : `  ${terminalSafe(build.title)}`;
  const status = build.status === 'changed' ? '' : `  ${build.status}`;
  const moved = build.movedFrom === undefined ? '' : `, moved from ${terminalSafe(review.pathOf(build.movedFrom))}`;
  const renamed = build.renamedFrom === undefined ? '' : `${terminalSafe(build.renamedFrom)}, now `;
  const head = `${renamed}${colors.bold(terminalSafe(build.name))}${title}${status}  ${colors.dim(`${terminalSafe(review.pathOf(build.uri))}${moved}`)}`;
  if (build.status === 'removed') return head;
  const findings = build.findings.filter(isPrincipal).flatMap((change) => findingLines(review, change, colors));
  const left = build.findings.filter(isAsBefore).length;
  const within = withinCount(build);
  const { others } = rowsOf(build);
  const rest = [
    ...(others.length > 0 ? [plural(others.length, 'more result')] : []),
    ...(within > 0 ? [`${plural(within, 'result')} within the ±`] : []),
    ...(left > 0 ? [`${plural(left, 'finding')} as before`] : []),
  ];
  return [
    head,
    ...findings.map(indented),
    ...resultLines(build, colors).map(indented),
    ...(build.status === 'changed' ? causeLines(review, build) : []).map((line) => colors.dim(indented(line))),
    ...(rest.length > 0 ? [colors.dim(indented(rest.join(', ')))] : []),
  ].join('\n');
}

const indented = (line: string): string => `  ${line}`;

/** @param among of several builds: on which */
function findingLines(review: Review, change: FindingChange, colors: Colors, among?: string): string[] {
  const { status, finding, packs, before } = change;
  const paint: Record<Severity, (text: string) => string> = {
    error: colors.red,
    warning: colors.yellow,
    information: colors.cyan,
    hint: colors.dim,
  };
  const color = status === 'resolved' ? colors.green : paint[finding.severity];
  const ofPacks = packs.length > 0 ? ` on ${packs.map(terminalSafe).join(', ')}` : '';
  const on = among === undefined ? ofPacks : ` ${among}`;
  const sources = isGone(change) ? review.before : review.after;
  const line = sources.excerpt(finding.place)?.start.line;
  const where = `${terminalSafe(review.pathOf(finding.place.uri))}${line === undefined ? '' : `:${line}`}`;
  const was = before && before.severity !== finding.severity ? ` (was ${nameOf(before.severity)})` : '';
  return [
    `${color(`${STATUS_WORDS[status]} ${nameOf(finding.severity)}`)}${was}  ${finding.id}${on}  ${colors.dim(where)}`,
    ...(status === 'resolved' ? [] : [`  ${terminalSafe(finding.message)}`]),
    ...(before && isKnownAndWorse(change) ? [`  before: ${terminalSafe(before.message)}`] : []),
    ...(finding.accepted === undefined ? [] : [`  accepted: ${terminalSafe(finding.accepted)}`]),
  ];
}

function relaxationLines(review: Review, { relaxation, builds }: Permitted, colors: Colors): string[] {
  const { label, before, after, where, hides } = relaxationWords(review, relaxation);
  const written = [before, after].filter((text) => text !== undefined).join(' → ');
  const { failedOn } = relaxation;
  return [
    `${colors.yellow(label)}  ${terminalSafe(written)}  ${colors.dim(terminalSafe(where))}${review.builds.length > 1 ? `  (${plural(builds.length, 'build')})` : ''}`,
    ...hides.flatMap(hiddenLines),
    ...(failedOn.length > 0 && hides.length === 0 ? [`  it failed on ${failedOn.map(terminalSafe).join(', ')}`] : []),
  ];
}

function hiddenLines({ label, id, packs, message }: HiddenWords): string[] {
  const on = packs.length > 0 ? ` on ${packs.map(terminalSafe).join(', ')}` : '';
  return [`  ${label} ${id}${on}`, `    ${terminalSafe(message)}`];
}

function resultLines(build: BuildReview, colors: Colors): string[] {
  const { headlines } = rowsOf(build);
  return build.options.flatMap(({ pack, status, results }) => {
    const rows = headlines.flatMap(({ name }) => results.filter((result) => result.name === name && result.beyond));
    if (rows.length === 0) return [];
    const width = Math.max(...rows.map(({ label }) => label.length));
    const lines = rows.map(
      (row) => `  ${terminalSafe(row.label.padEnd(width))}  ${terminalSafe(resultChangeText(row))}`,
    );
    return [`${colors.bold(terminalSafe(pack))}${status === 'changed' ? '' : `  ${status}`}`, ...lines];
  });
}

function causeLines(review: Review, build: BuildReview): string[] {
  const lines = effectiveCauses(build).map((cause) => {
    const shares = build.causes.length > 1 ? mainShares(build, cause) : undefined;
    const reported = shares && shares.stated.length > 0 ? `  (${shares.stated.join(', ')} on ${shares.pack})` : '';
    return terminalSafe(`because of ${changeText(review, cause.change)}${reported}`);
  });
  return [...lines, ...[noteOnShares(build) ?? []].flat()];
}

function changeText(review: Review, change: Change): string {
  const { what, part, before, after, verb } = changeWords(change);
  const subject = what === undefined ? part : `${what} of ${part}`;
  const where = placeOfChange(review, change);
  if (before !== undefined && after !== undefined) return `${subject}: ${before} → ${after}  ${where}`;
  const text = before ?? after;
  return `${subject} ${verb}${text === undefined ? '' : `: ${text}`}  ${where}`;
}
