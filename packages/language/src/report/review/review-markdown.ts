/** A review as Markdown, for the comment on a pull request: whether to worry comes first, details are folded. */

import { upperFirst } from '../../vocabulary/words.ts';
import { cellCode, code, prose } from '../present/markdown-safe.ts';
import type { Change } from './changes.ts';
import type { BuildReview, Cause, OptionReview, Review } from './data.ts';
import type { ResultChange } from './differences.ts';
import { type FindingChange, isKnownAndWorse } from './finding-changes.ts';
import {
  changeWords,
  effectiveCauses,
  formatShare,
  type HiddenWords,
  hiddenWords,
  isAsBefore,
  isHeadlineOf,
  isPrincipal,
  isVisible,
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
import { verdictOf } from './review-verdict.ts';
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

/** Forges refuse comments of more than 65 536 characters. */
const LONGEST = 60_000;
/** Of that, for each list that does not depend on one build, and for each within a build. */
const LONGEST_LIST = 6_000;
/** Changes listed before the builds; a longer list is folded. */
const MOST_CHANGES = 8;

export function toMarkdown(review: Review): string {
  const { sentence, extent } = verdictOf(review);
  const changes = distinctChanges(review.builds);
  const worthReporting = review.builds.filter((build) => isWorthReporting(build) && isKnown(build));
  const isFolded = worthReporting.length > MOST_OPEN;
  const quiet = quietBlock(review.builds.filter((build) => !isWorthReporting(build) && !build.isUnjudged));
  const head = [
    `## ${prose(sentence)}`,
    prose(extent),
    ...problemLines(review),
    ...permittedBlock(review),
    ...unknownBlock(review),
    ...(worthReporting.length > 1 ? [overviewTable(review)] : []),
    ...(isFolded ? commonBlock(review) : []),
    ...changeBlock(review, changes),
    ...textBlock(review),
  ];
  const foot =
    worthReporting.length > 0
      ? [
          '<sub>Estimates with ± (k = 2); uncertainty that both versions share cancels in the differences. The part maker’s limits and local rules take precedence.</sub>',
        ]
      : [];
  const room = LONGEST - [...head, ...quiet, ...foot].join('\n\n').length;
  const sections = isFolded
    ? fitting(worthReporting, room, (build) => foldedBuild(review, build, changes.size > 1))
    : fitting(worthReporting, room, (build, isWhole) => buildBlock(review, build, changes.size > 1, isWhole));
  return `${[...head, ...sections, ...quiet, ...foot].join('\n\n')}\n`;
}

function permittedBlock(review: Review): string[] {
  const lines = [
    ...permittedBy(review.builds).map((one) => relaxationLine(review, one)),
    ...hiddenWords(hiddenTogether(review.builds), 'together they').map((one) => hiddenLine(one).trimStart()),
  ];
  return lines.length > 0 ? [`**What more is permitted**\n\n${listed(lines)}`] : [];
}

function unknownBlock({ builds }: Review): string[] {
  const lines = unknownIn(builds).map((one) => `- ${onBuilds(one.builds, code)}: ${prose(unknownText(one))}`);
  return lines.length > 0 ? [listed(lines)] : [];
}

/** Rows of a table that everybody reads; the others are folded. */
const MOST_ROWS = 20;

function overviewTable(review: Review): string {
  const head = ['build', 'pack', 'found', ...COLUMNS];
  const top = [`| ${head.join(' | ')} |`, `|${':--|'.repeat(head.length)}`];
  const rows = tableOf(review).map(({ build, pack, found, cells }) => {
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
function commonBlock(review: Review): string[] {
  const lines = commonFindings(review.builds).map(({ change, builds }) =>
    findingLine(review, change, [], `${builds.length > 1 ? 'same ' : ''}${onBuilds(builds, code)}`),
  );
  return lines.length > 0 ? [`**What was found**\n\n${listed(lines)}`] : [];
}

/** One of many: in the table it has its line. */
function foldedBuild(review: Review, build: BuildReview, isSharedOut: boolean): string {
  const { headlines } = rowsOf(build);
  const title = build.title === undefined ? '' : ` ${build.title}`;
  const principal = build.findings.filter(isPrincipal);
  const blocks = [
    code(review.pathOf(build.uri)),
    ...(principal.length > 0 ? [listed(principal.map((change) => findingLine(review, change, build.causes, '')))] : []),
    ...(build.status !== 'removed' && headlines.length > 0 ? tableOrNone(build.options, headlines) : []),
    ...(isSharedOut && build.status === 'changed' ? causeBlock(review, build) : []),
  ];
  return folded(
    prose(`${build.name}${title}${build.status === 'changed' ? '' : ` (${build.status})`}`),
    blocks.join('\n\n'),
  );
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

const named = (builds: readonly BuildReview[]): string =>
  within(
    builds.map(({ name }) => code(name)),
    ', ',
    (left) => `and ${left} more`,
  );

function problemLines({ failures, remarks }: Review): string[] {
  const lines = [
    ...failures.map(({ path, message }) => `- not judged: ${code(path)}: ${prose(message)}`),
    ...remarks.map((remark) => `- ${prose(remark)}`),
  ];
  return lines.length > 0 ? [listed(lines)] : [];
}

/** With the number of builds that rest on each. */
function distinctChanges(builds: readonly BuildReview[]): Map<Change, number> {
  const counts = new Map<Change, number>();
  for (const { causes } of builds) for (const { change } of causes) counts.set(change, (counts.get(change) ?? 0) + 1);
  return counts;
}

function changeBlock(review: Review, changes: ReadonlyMap<Change, number>): string[] {
  if (changes.size === 0) return [];
  const lines = [...changes].map(
    ([change, count]) =>
      `- ${changeText(review, change)}${review.builds.length > 1 ? ` (${plural(count, 'build')})` : ''}`,
  );
  if (lines.length <= MOST_CHANGES) return [`**What changed**\n\n${listed(lines)}`];
  return [folded(`What changed: ${lines.length} lines`, listed(lines))];
}

function changeText(review: Review, change: Change): string {
  const { what, part, before, after, verb } = changeWords(change);
  const subject = what === undefined ? code(part) : `${code(what)} of ${code(part)}`;
  const where = code(placeOfChange(review, change));
  if (before !== undefined && after !== undefined) return `${subject}: ${code(before)} → ${code(after)}, ${where}`;
  const text = before ?? after;
  return `${subject} ${verb}${text === undefined ? '' : `: ${code(text)}`}, ${where}`;
}

function textBlock(review: Review): string[] {
  const lines = review.text.filter(isPrincipal).map((change) => findingLine(review, change, []));
  return lines.length > 0 ? [`**In the files**\n\n${listed(lines)}`] : [];
}

/** @param among of several builds: on which; empty for one of them, whose message was reported above */
function findingLine(review: Review, change: FindingChange, causes: readonly Cause[], among?: string): string {
  const { status, finding, packs, before } = change;
  const severity = nameOf(finding.severity);
  const label = `${STATUS_WORDS[status]} ${severity}`;
  const was =
    before && before.severity !== finding.severity && (status === 'worse' || status === 'eased')
      ? ` (was ${nameOf(before.severity)})`
      : '';
  const isOne = among === undefined || among === '';
  const on = isOne ? (packs.length > 0 ? ` on ${packs.map(code).join(', ')}` : '') : ` ${among}`;
  const sources = isGone(change) ? review.before : review.after;
  const line = sources.excerpt(finding.place)?.start.line;
  const where = code(`${review.pathOf(finding.place.uri)}${line === undefined ? '' : `:${line}`}`);
  const accepted = finding.accepted === undefined ? '' : ` Accepted: ${prose(finding.accepted)}.`;
  const earlier = before && among !== '' && isKnownAndWorse(change) ? ` Before: ${prose(before.message)}` : '';
  const reopened = status === 'new' && before?.accepted !== undefined ? ' It was accepted before.' : '';
  const doing = causes
    .filter(({ findings }) => findings.includes(finding.id))
    .map(({ change: cause }) => reported(cause));
  const because =
    doing.length > 0 && (status === 'new' || status === 'worse' || status === 'resolved')
      ? ` Because of ${doing.join(' and of ')}.`
      : '';
  const isKnown = isAsBefore(change) && (finding.severity === 'information' || finding.severity === 'hint');
  const stated = status === 'resolved' || isKnown || among === '' ? '' : `: ${prose(finding.message)}`;
  return `- **${label}**${was} ${code(finding.id)}${on}${stated}${earlier}${accepted}${reopened}${because} ${where}`;
}

function relaxationLine(review: Review, { relaxation, builds }: Permitted): string {
  const { label, before, after, where, hides } = relaxationWords(review, relaxation);
  const written = [before, after].flatMap((text) => (text === undefined ? [] : [code(text)])).join(' → ');
  const { failedOn } = relaxation;
  const failed = failedOn.length > 0 && hides.length === 0 ? `. It failed on ${failedOn.map(code).join(', ')}.` : ',';
  const on = review.builds.length > 1 ? ` (${plural(builds.length, 'build')})` : '';
  return [`- **${label}** ${written}${failed} ${code(where)}${on}`, ...hides.map(hiddenLine)].join('\n');
}

function hiddenLine({ label, id, packs, message }: HiddenWords): string {
  const on = packs.length > 0 ? ` on ${packs.map(code).join(', ')}` : '';
  return `  - ${label} ${code(id)}${on}: ${prose(message)}`;
}

function reported(change: Change): string {
  const { what, part } = changeWords(change);
  return what === undefined ? code(part) : `${code(what)} of ${code(part)}`;
}

/** @param isWhole with what is folded */
function buildBlock(review: Review, build: BuildReview, isSharedOut: boolean, isWhole: boolean): string {
  const title = build.title === undefined ? '' : ` ${prose(build.title)}`;
  const status = build.status === 'changed' ? '' : ` (${build.status})`;
  const renamed = build.renamedFrom === undefined ? '' : `${code(build.renamedFrom)}, now `;
  const moved = build.movedFrom === undefined ? '' : `, moved from ${code(review.pathOf(build.movedFrom))}`;
  const { headlines, others } = rowsOf(build);
  const principal = build.findings.filter(isPrincipal);
  const minor = build.findings.filter((change) => !isPrincipal(change));
  const more =
    build.status === 'removed' || !isWhole
      ? []
      : [
          ...(others.length > 0
            ? [
                table(
                  build.options.filter(({ status: one }) => one === 'changed'),
                  others,
                ),
              ]
            : []),
          ...shareTables(build),
          ...(minor.length > 0 ? [minor.map((change) => findingLine(review, change, [])).join('\n')] : []),
        ];
  const blocks = [
    `### ${renamed}${code(build.name)}${title}${status}`,
    `${code(review.pathOf(build.uri))}${moved}`,
    ...(build.status !== 'removed' && principal.length > 0
      ? [listed(principal.map((change) => findingLine(review, change, build.causes)))]
      : []),
    ...(build.status !== 'removed' && headlines.length > 0 ? tableOrNone(build.options, headlines) : []),
    ...(isSharedOut && build.status === 'changed' ? causeBlock(review, build) : []),
    ...(more.length > 0 ? [folded(detailsTitle(build, others, minor), more.join('\n\n'))] : []),
  ];
  return blocks.join('\n\n');
}

function detailsTitle(build: BuildReview, others: readonly ResultChange[], minor: readonly FindingChange[]): string {
  const within = withinCount(build);
  return (
    [
      ...(others.length > 0 ? [plural(others.length, 'more result')] : []),
      ...(minor.length > 0 ? [`${plural(minor.length, 'other finding')}`] : []),
      ...(within > 0 ? [`${within} within their ±`] : []),
    ].join(', ') || 'Shares'
  );
}

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

function causeBlock(review: Review, build: BuildReview): string[] {
  const lines = effectiveCauses(build).map((cause) => {
    const shares = mainShares(build, cause);
    const stated =
      shares && shares.stated.length > 0 ? `: ${prose(shares.stated.join(', '))} on ${code(shares.pack)}` : '';
    return `- ${changeText(review, cause.change)}${stated}`;
  });
  const remark = noteOnShares(build);
  const note = remark === undefined ? '' : `\n\n${sentence(remark)}`;
  if (lines.length === 0) return [];
  const text = `${listed(lines)}${note}`;
  return lines.length <= MOST_CHANGES
    ? [`Because of\n\n${text}`]
    : [folded(`Because of ${lines.length} changes`, text)];
}

const sentence = (words: string): string => `${upperFirst(words)}.`;

/** What each change alone does, one table per pack. */
function shareTables(build: BuildReview): string[] {
  return build.options.flatMap((option) => {
    const { pack, results } = option;
    const causes = effectiveCauses(build).filter(({ shares }) => shares.get(pack)?.some(({ value }) => value !== 0));
    const isHeadline = isHeadlineOf(option);
    const rows = results.filter((row) => row.beyond && row.difference && isHeadline(row));
    if (causes.length < 2 || rows.length === 0) return [];
    const head = causes.map(
      ({ change }) => `${cellCode(changeWords(change).what ?? '')} of ${cellCode(change.part.name)}`,
    );
    const lines = rows.map((row) => {
      const cells = causes.map(({ shares }) => {
        const share = shares.get(pack)?.find(({ result }) => result === row.name);
        return share && isVisible(share, row) ? prose(formatShare(share, row.unit)) : '';
      });
      return `| ${prose(row.label)} | ${cells.join(' | ')} |`;
    });
    return [
      [
        `Each change alone, on ${code(pack)}:`,
        '',
        `| | ${head.join(' | ')} |`,
        `|:--|${':--|'.repeat(head.length)}`,
        ...lines,
      ].join('\n'),
    ];
  });
}

/** Sections while there is room, without what they fold where that makes them fit; the others by name. */
function fitting(
  builds: readonly BuildReview[],
  room: number,
  sectionOf: (build: BuildReview, isWhole: boolean) => string,
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
  return [...shown, `And ${plural(others.length, 'more build')} for which there is no room here: ${named(others)}`];
}

function quietBlock(builds: readonly BuildReview[]): string[] {
  if (builds.length === 0) return [];
  const list = named(builds);
  const title = `${plural(builds.length, 'build')} touched, without a difference beyond the ±`;
  return [builds.length > 5 ? folded(title, list) : `${title}: ${list}`];
}

const folded = (title: string, text: string): string => `<details><summary>${title}</summary>\n\n${text}\n\n</details>`;
