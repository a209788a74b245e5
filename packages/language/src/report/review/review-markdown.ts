/** A review as Markdown, for the comment on a pull request: whether to worry comes first, details are folded. */
import { plural, upperFirst } from '../../vocabulary/phrasing.ts';
import { cellCode, code, prose } from '../present/markdown-safe.ts';
import type { ResultChange } from './differences.ts';
import type { OptionReview, Review } from './review-data.ts';
import {
  type BuildReviewRecord,
  type ChangeRecord,
  type FindingRecord,
  type RelaxationRecord,
  type ReviewRecord,
  reviewRecordOf,
} from './review-records.ts';
import { type ChangeWords, type HiddenWords, resultChangeText } from './review-words.ts';
import { type Overview, onBuilds } from './summary.ts';

/** Forges refuse comments of more than 65 536 characters. */
const LONGEST = 60_000;
/** Of that, for each list that does not depend on one build, and for each within a build. */
const LONGEST_LIST = 6_000;
/** Changes listed before the builds; a longer list is folded. */
const MOST_CHANGES = 8;

export function reviewMarkdown(review: Review): string {
  const record = reviewRecordOf(review);
  const { verdict, builds, changes, isMany } = record;
  const quiet = quietBlock(record.quiet);
  const head = [
    `## ${prose(verdict.sentence)}`,
    prose(verdict.extent),
    ...problemLines(record),
    ...permittedBlock(record),
    ...unknownBlock(record),
    ...(record.table ? [overviewTable(record.table)] : []),
    ...commonBlock(record),
    ...changeBlock(record),
    ...shortlistBlock(record),
    ...textBlock(record),
  ];
  const foot =
    builds.length > 0
      ? [
          '<sub>Estimates with ± (k = 2); uncertainty that both versions share cancels in the differences. The part maker’s limits and local rules take precedence.</sub>',
        ]
      : [];
  const room = LONGEST - [...head, ...quiet, ...foot].join('\n\n').length;
  const isSharedOut = changes.length > 1;
  const sections = isMany
    ? fitting(builds, room, (build) => foldedBuild(build, isSharedOut))
    : fitting(builds, room, (build, isWhole) => buildBlock(build, isSharedOut, isWhole));
  return `${[...head, ...sections, ...quiet, ...foot].join('\n\n')}\n`;
}

function permittedBlock({ permitted, together, isOneBuild }: ReviewRecord): string[] {
  const lines = [
    ...permitted.map((one) => relaxationLine(one, isOneBuild)),
    ...together.map((one) => hiddenLine(one).trimStart()),
  ];
  return lines.length > 0 ? [`**What more is permitted**\n\n${listed(lines)}`] : [];
}

function unknownBlock({ unknown }: ReviewRecord): string[] {
  const lines = unknown.map(({ builds, text }) => `- ${onBuilds(builds, code)}: ${prose(text)}`);
  return lines.length > 0 ? [listed(lines)] : [];
}

/** Rows of a table that everybody reads; the others are folded. */
const MOST_ROWS = 20;

function overviewTable(table: Overview): string {
  const head = ['build', 'pack', 'found', ...table.columns];
  const top = [`| ${head.join(' | ')} |`, `|${':--|'.repeat(head.length)}`];
  const rows = table.rows.map(({ build, pack, found, cells }) => {
    const all = [cellCode(build), pack === '' ? '' : cellCode(pack), prose(found), ...cells.map(prose)];
    return `| ${all.join(' | ')} |`;
  });
  const rest = rows.slice(MOST_ROWS);
  const shown = [...top, ...rows.slice(0, MOST_ROWS)].join('\n');
  return rest.length === 0
    ? shown
    : `${shown}\n\n${folded(
        plural(rest.length, 'more build'),
        within([...top, ...rest], '\n', (left) => `\nand ${left} more`),
      )}`;
}

/** What is alike on several builds, once. */
function commonBlock({ common }: ReviewRecord): string[] {
  const lines = common.map(({ found, builds }) =>
    findingLine(found, `${builds.length > 1 ? 'same ' : ''}${onBuilds(builds, code)}`),
  );
  return lines.length > 0 ? [`**What was found**\n\n${listed(lines)}`] : [];
}

/** One of many: in the table it has its line. */
function foldedBuild(build: BuildReviewRecord, isSharedOut: boolean): string {
  const { name, status, principal, headlines, options } = build;
  const title = build.title === undefined ? '' : ` ${build.title}`;
  const blocks = [
    code(build.where),
    ...(principal.length > 0 ? [listed(principal.map((found) => findingLine(found, '')))] : []),
    ...(status !== 'removed' && headlines.length > 0 ? tableOrNone(options, headlines) : []),
    ...(isSharedOut && status === 'changed' ? causeBlock(build) : []),
  ];
  return folded(prose(`${name}${title}${status === 'changed' ? '' : ` (${status})`}`), blocks.join('\n\n'));
}

/** As many as there is room for, the first ones first; then how many are left out. */
function within(items: readonly string[], between: string, rest: (left: number) => string): string {
  const shown: string[] = [];
  let length = 0;
  for (const item of items) {
    length += item.length + between.length;
    if (length > LONGEST_LIST) break;
    shown.push(item);
  }
  const left = items.length - shown.length;
  return [...shown, ...(left > 0 ? [rest(left)] : [])].join(between);
}

const listed = (lines: readonly string[]): string => within(lines, '\n', (left) => `- and ${left} more`);

const named = (builds: readonly string[]): string => within(builds.map(code), ', ', (left) => `and ${left} more`);

function problemLines({ failures, remarks }: ReviewRecord): string[] {
  const lines = [
    ...failures.map(({ path, message }) => `- not judged: ${code(path)}: ${prose(message)}`),
    ...remarks.map((remark) => `- ${prose(remark)}`),
  ];
  return lines.length > 0 ? [listed(lines)] : [];
}

function changeBlock({ changes, isOneBuild }: ReviewRecord): string[] {
  if (changes.length === 0) return [];
  const lines = changes.map(
    ({ change, count }) => `- ${changeText(change)}${isOneBuild ? '' : ` (${plural(count, 'build')})`}`,
  );
  if (lines.length <= MOST_CHANGES) return [`**What changed**\n\n${listed(lines)}`];
  return [folded(`What changed: ${lines.length} lines`, listed(lines))];
}

const subjectOf = ({ what, part }: ChangeWords): string =>
  what === undefined ? code(part) : `${code(what)} of ${code(part)}`;

function changeText(change: ChangeRecord): string {
  const { before, after, verb } = change;
  const subject = subjectOf(change);
  const where = code(change.where);
  if (before !== undefined && after !== undefined) return `${subject}: ${code(before)} → ${code(after)}, ${where}`;
  const text = before ?? after;
  return `${subject} ${verb}${text === undefined ? '' : `: ${code(text)}`}, ${where}`;
}

function shortlistBlock({ shortlists }: ReviewRecord): string[] {
  const lines = shortlists.map((change) => `- ${changeText(change)}`);
  return lines.length > 0 ? [`**Shortlists**, whose choices may be others now\n\n${listed(lines)}`] : [];
}

function textBlock({ files }: ReviewRecord): string[] {
  const lines = files.map((found) => findingLine(found));
  return lines.length > 0 ? [`**In the files**\n\n${listed(lines)}`] : [];
}

const onPacks = (packs: readonly string[]): string => (packs.length > 0 ? ` on ${packs.map(code).join(', ')}` : '');

/** @param among of several builds: on which; empty for one of them, whose message was reported above */
function findingLine(found: FindingRecord, among?: string): string {
  const { label, was, id, packs, where, message, before, accepted, isReopened, because } = found;
  const isOne = among === undefined || among === '';
  const isStated = among !== '';
  const pieces = [
    `- **${label}**`,
    was === undefined ? '' : ` (was ${was})`,
    ` ${code(id)}${isOne ? onPacks(packs) : ` ${among}`}`,
    isStated && message !== undefined ? `: ${prose(message)}` : '',
    isStated && before !== undefined ? ` Before: ${prose(before)}` : '',
    accepted === undefined ? '' : ` Accepted: ${prose(accepted)}.`,
    isReopened ? ' It was accepted before.' : '',
    because.length > 0 ? ` Because of ${because.map(subjectOf).join(' and of ')}.` : '',
    ` ${code(where)}`,
  ];
  return pieces.join('');
}

function relaxationLine(one: RelaxationRecord, isOneBuild: boolean): string {
  const { label, before, after, where, hides, failedOn, count } = one;
  const written = [before, after].flatMap((text) => (text === undefined ? [] : [code(text)])).join(' → ');
  const failed = failedOn.length > 0 ? `. It failed${onPacks(failedOn)}.` : ',';
  const on = isOneBuild ? '' : ` (${plural(count, 'build')})`;
  return [`- **${label}** ${written}${failed} ${code(where)}${on}`, ...hides.map(hiddenLine)].join('\n');
}

const hiddenLine = ({ label, id, packs, message }: HiddenWords): string =>
  `  - ${label} ${code(id)}${onPacks(packs)}: ${prose(message)}`;

/** @param isWhole with what is folded */
function buildBlock(build: BuildReviewRecord, isSharedOut: boolean, isWhole: boolean): string {
  const { options, headlines, others, principal, minor } = build;
  const title = build.title === undefined ? '' : ` ${prose(build.title)}`;
  const status = build.status === 'changed' ? '' : ` (${build.status})`;
  const renamed = build.renamedFrom === undefined ? '' : `${code(build.renamedFrom)}, now `;
  const moved = build.movedFrom === undefined ? '' : `, moved from ${code(build.movedFrom)}`;
  const isThere = build.status !== 'removed';
  const changed = options.filter((option) => option.status === 'changed');
  const more =
    isThere && isWhole
      ? [
          ...(others.length > 0 ? [table(changed, others)] : []),
          ...legTables(build),
          ...shareTables(build),
          ...(minor.length > 0 ? [minor.map((found) => findingLine(found)).join('\n')] : []),
        ]
      : [];
  const blocks = [
    `### ${renamed}${code(build.name)}${title}${status}`,
    `${code(build.where)}${moved}`,
    ...(isThere && principal.length > 0 ? [listed(principal.map((found) => findingLine(found)))] : []),
    ...(isThere && headlines.length > 0 ? tableOrNone(options, headlines) : []),
    ...(isSharedOut && build.status === 'changed' ? causeBlock(build) : []),
    ...(more.length > 0 ? [folded(detailsTitle(build), more.join('\n\n'))] : []),
  ];
  return blocks.join('\n\n');
}

const detailsTitle = ({ others, minor, within: close }: BuildReviewRecord): string =>
  [
    ...(others.length > 0 ? [plural(others.length, 'more result')] : []),
    ...(minor.length > 0 ? [`${plural(minor.length, 'other finding')}`] : []),
    ...(close > 0 ? [`${close} within their ±`] : []),
  ].join(', ') || 'Shares';

/** Nobody reads a table of a hundred packs. */
function tableOrNone(options: readonly OptionReview[], rows: readonly ResultChange[]): string[] {
  const text = table(options, rows);
  return [text.length > LONGEST_LIST ? `${plural(options.length, 'pack')}: too many for a table here.` : text];
}

/** One column per pack; what the ± can explain stays empty. */
function table(options: readonly OptionReview[], rows: readonly ResultChange[]): string {
  const shown = options.filter(({ status, results }) => status !== 'changed' || results.some(({ beyond }) => beyond));
  const head = shown.map(({ pack, status }) => `${cellCode(pack)}${status === 'changed' ? '' : ` (${status})`}`);
  const lines = rows.map(({ name, label }) => {
    const cells = shown.map(({ results }) => {
      const cell = results.find((result) => result.name === name && result.beyond);
      return cell ? prose(resultChangeText(cell)) : '';
    });
    return `| ${prose(label)} | ${cells.join(' | ')} |`;
  });
  return [`| | ${head.join(' | ')} |`, `|:--|${':--|'.repeat(head.length)}`, ...lines].join('\n');
}

function causeBlock({ causes, note }: BuildReviewRecord): string[] {
  const lines = causes.map(({ change, shares }) => {
    const stated = shares ? `: ${prose(shares.stated.join(', '))} on ${code(shares.pack)}` : '';
    return `- ${changeText(change)}${stated}`;
  });
  if (lines.length === 0) return [];
  const text = `${listed(lines)}${note === undefined ? '' : `\n\n${sentence(note)}`}`;
  return lines.length <= MOST_CHANGES
    ? [`Because of\n\n${text}`]
    : [folded(`Because of ${lines.length} changes`, text)];
}

const sentence = (words: string): string => `${upperFirst(words)}.`;

/** One table per flight, one column per pack. */
const legTables = ({ legs }: BuildReviewRecord): string[] =>
  legs.map(({ flight, packs, rows }) =>
    [
      `Taken by the end of each leg of ${code(flight)}:`,
      '',
      `| | ${packs.map(cellCode).join(' | ')} |`,
      `|:--|${':--|'.repeat(packs.length)}`,
      ...rows.map(({ text, cells }) => `| ${prose(text)} | ${cells.map(prose).join(' | ')} |`),
    ].join('\n'),
  );

/** What each change alone does, one table per pack. */
const shareTables = ({ shares }: BuildReviewRecord): string[] =>
  shares.map(({ pack, changes, rows }) => {
    const head = changes.map(({ what, part }) => `${cellCode(what)} of ${cellCode(part)}`);
    return [
      `Each change alone, on ${code(pack)}:`,
      '',
      `| | ${head.join(' | ')} |`,
      `|:--|${':--|'.repeat(head.length)}`,
      ...rows.map(({ label, cells }) => `| ${prose(label)} | ${cells.map(prose).join(' | ')} |`),
    ].join('\n');
  });

/** Sections while there is room, without what they fold where that makes them fit; the others by name. */
function fitting(
  builds: readonly BuildReviewRecord[],
  room: number,
  sectionOf: (build: BuildReviewRecord, isWhole: boolean) => string,
): string[] {
  const shown: string[] = [];
  let left = room - LONGEST_LIST;
  for (const build of builds) {
    const section = [true, false].map((isWhole) => sectionOf(build, isWhole)).find(({ length }) => length + 2 <= left);
    if (section === undefined) break;
    left -= section.length + 2;
    shown.push(section);
  }
  const others = builds.slice(shown.length);
  if (others.length === 0) return shown;
  return [
    ...shown,
    `And ${plural(others.length, 'more build')} for which there is no room here: ${named(others.map(({ name }) => name))}`,
  ];
}

function quietBlock(builds: readonly string[]): string[] {
  if (builds.length === 0) return [];
  const list = named(builds);
  const title = `${plural(builds.length, 'build')} touched, without a difference beyond the ±`;
  return [builds.length > 5 ? folded(title, list) : `${title}: ${list}`];
}

const folded = (title: string, text: string): string => `<details><summary>${title}</summary>\n\n${text}\n\n</details>`;
