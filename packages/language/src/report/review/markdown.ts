/** A review as Markdown, for the comment on a pull request: whether to worry comes first, details are folded. */
import type { Change } from './changes.ts';
import type { BuildReview, Cause, OptionReview, Review } from './data.ts';
import type { ResultChange } from './differences.ts';
import { type FindingChange, isKnownAndWorse } from './findings.ts';
import { isGone } from './limits.ts';
import { cellCode, code, prose } from './markdown-safe.ts';
import {
  effectiveCauses,
  isAsBefore,
  isHeadline,
  isPrincipal,
  isTelling,
  isVisible,
  mainShares,
  nameOf,
  noteOnShares,
  placeOfChange,
  plural,
  rowsOf,
  STATUS_WORDS,
  sayChange,
  sayShare,
  tell,
  tellRelaxation,
  withinCount,
} from './phrases.ts';
import type { Relaxation } from './relaxations.ts';
import { verdictOf } from './verdict.ts';

/** Forges refuse comments of more than 65 536 characters. */
const LONGEST = 60_000;
/** Changes listed before the builds; a longer list is folded. */
const MOST_CHANGES = 8;

export function toMarkdown(review: Review): string {
  const { sentence, extent } = verdictOf(review);
  const changes = distinctChanges(review.builds);
  const telling = review.builds.filter(isTelling);
  const blocks = [
    `## ${prose(sentence)}`,
    prose(extent),
    ...problemLines(review),
    ...changeBlock(review, changes),
    ...textBlock(review),
    ...fitting(
      telling.map((build) => buildBlock(review, build, changes.size > 1)),
      telling,
    ),
    ...quietBlock(review.builds.filter((build) => !isTelling(build))),
    ...(telling.length > 0
      ? [
          '<sub>Estimates with ± (k = 2); differences leave out what both versions have in common. The part maker’s limits and local rules win.</sub>',
        ]
      : []),
  ];
  return `${blocks.join('\n\n')}\n`;
}

function problemLines({ failures, remarks }: Review): string[] {
  const lines = [
    ...failures.map(({ path, message }) => `- not read: ${code(path)}: ${prose(message)}`),
    ...remarks.map((remark) => `- ${prose(remark)}`),
  ];
  return lines.length > 0 ? [lines.join('\n')] : [];
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
  if (lines.length <= MOST_CHANGES) return [`**What changed**\n\n${lines.join('\n')}`];
  return [folded(`What changed: ${lines.length} lines`, lines.join('\n'))];
}

function changeText(review: Review, change: Change): string {
  const { what, part, before, after, verb } = tell(change);
  const subject = what === undefined ? code(part) : `${code(what)} of ${code(part)}`;
  const where = code(placeOfChange(review, change));
  if (before !== undefined && after !== undefined) return `${subject}: ${code(before)} → ${code(after)}, ${where}`;
  const text = before ?? after;
  return `${subject} ${verb}${text === undefined ? '' : `: ${code(text)}`}, ${where}`;
}

function textBlock(review: Review): string[] {
  const lines = review.text.filter(isPrincipal).map((change) => findingLine(review, change, []));
  return lines.length > 0 ? [`**In the files**\n\n${lines.join('\n')}`] : [];
}

function findingLine(review: Review, change: FindingChange, causes: readonly Cause[]): string {
  const { status, finding, packs, before } = change;
  const severity = nameOf(finding.severity);
  const label = `${STATUS_WORDS[status]} ${severity}`;
  const was =
    before && before.severity !== finding.severity && (status === 'worse' || status === 'eased')
      ? ` (was ${nameOf(before.severity)})`
      : '';
  const on = packs.length > 0 ? ` on ${packs.map(code).join(', ')}` : '';
  const sources = isGone(change) ? review.before : review.after;
  const line = sources.excerpt(finding.place)?.start.line;
  const where = code(`${review.pathOf(finding.place.uri)}${line === undefined ? '' : `:${line}`}`);
  const accepted = finding.accepted === undefined ? '' : ` Accepted: ${prose(finding.accepted)}.`;
  const earlier = before && isKnownAndWorse(change) ? ` Before: ${prose(before.message)}` : '';
  const reopened = status === 'new' && before?.accepted !== undefined ? ' It was accepted before.' : '';
  const doing = causes.filter(({ findings }) => findings.includes(finding.id)).map(({ change: cause }) => told(cause));
  const because =
    doing.length > 0 && (status === 'new' || status === 'worse' || status === 'resolved')
      ? ` Because of ${doing.join(' and of ')}.`
      : '';
  const isKnown = isAsBefore(change) && (finding.severity === 'information' || finding.severity === 'hint');
  const said = status === 'resolved' || isKnown ? '' : `: ${prose(finding.message)}`;
  return `- **${label}**${was} ${code(finding.id)}${on}${said}${earlier}${accepted}${reopened}${because} ${where}`;
}

function relaxationLine(review: Review, relaxation: Relaxation): string {
  const { label, before, after, where } = tellRelaxation(review, relaxation);
  const written = [before, after].flatMap((text) => (text === undefined ? [] : [code(text)])).join(' → ');
  const { failedOn } = relaxation;
  const failed = failedOn.length > 0 ? `. It failed on ${failedOn.map(code).join(', ')}.` : ',';
  return `- **${label}** ${written}${failed} ${code(where)}`;
}

function told(change: Change): string {
  const { what, part } = tell(change);
  return what === undefined ? code(part) : `${code(what)} of ${code(part)}`;
}

function buildBlock(review: Review, build: BuildReview, isSharedOut: boolean): string {
  const title = build.title === undefined ? '' : ` ${prose(build.title)}`;
  const status = build.status === 'changed' ? '' : ` (${build.status})`;
  const renamed = build.renamedFrom === undefined ? '' : `${code(build.renamedFrom)}, now `;
  const moved = build.movedFrom === undefined ? '' : `, moved from ${code(review.pathOf(build.movedFrom))}`;
  const { headlines, others } = rowsOf(build);
  const principal = build.findings.filter(isPrincipal);
  const minor = build.findings.filter((change) => !isPrincipal(change));
  const more =
    build.status === 'removed'
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
    ...(build.status !== 'removed' && principal.length + build.relaxations.length > 0
      ? [
          [
            ...principal.map((change) => findingLine(review, change, build.causes)),
            ...build.relaxations.map((relaxation) => relaxationLine(review, relaxation)),
          ].join('\n'),
        ]
      : []),
    ...(build.status !== 'removed' && headlines.length > 0 ? [table(build.options, headlines)] : []),
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

/** A column a pack; what the ± can explain stays empty. */
function table(options: readonly OptionReview[], rows: readonly ResultChange[]): string {
  const shown = options.filter(({ status, results }) => status !== 'changed' || results.some(({ beyond }) => beyond));
  const head = shown.map(({ pack, status }) => `${cellCode(pack)}${status === 'changed' ? '' : ` (${status})`}`);
  const lines = rows.map(({ name, label }) => {
    const cells = shown.map(({ results }) => {
      const cell = results.find((result) => result.name === name && result.beyond);
      return cell ? prose(sayChange(cell)) : '';
    });
    return `| ${prose(label)} | ${cells.join(' | ')} |`;
  });
  return [`| | ${head.join(' | ')} |`, `|:--|${':--|'.repeat(head.length)}`, ...lines].join('\n');
}

function causeBlock(review: Review, build: BuildReview): string[] {
  const lines = effectiveCauses(build).map((cause) => {
    const shares = mainShares(build, cause);
    const said = shares && shares.said.length > 0 ? `: ${prose(shares.said.join(', '))} on ${code(shares.pack)}` : '';
    return `- ${changeText(review, cause.change)}${said}`;
  });
  const remark = noteOnShares(build);
  const note = remark === undefined ? '' : `\n\n${sentence(remark)}`;
  if (lines.length === 0) return [];
  const text = `${lines.join('\n')}${note}`;
  return lines.length <= MOST_CHANGES
    ? [`Because of\n\n${text}`]
    : [folded(`Because of ${lines.length} changes`, text)];
}

const sentence = (words: string): string => `${words.slice(0, 1).toUpperCase()}${words.slice(1)}.`;

/** What each change alone does, a table a pack. */
function shareTables(build: BuildReview): string[] {
  return build.options.flatMap(({ pack, results }) => {
    const causes = effectiveCauses(build).filter(({ shares }) => shares.get(pack)?.some(({ value }) => value !== 0));
    const rows = results.filter((row) => row.beyond && row.difference && isHeadline(row));
    if (causes.length < 2 || rows.length === 0) return [];
    const head = causes.map(({ change }) => `${cellCode(tell(change).what ?? '')} of ${cellCode(change.part.name)}`);
    const lines = rows.map((row) => {
      const cells = causes.map(({ shares }) => {
        const share = shares.get(pack)?.find(({ result }) => result === row.name);
        return share && isVisible(share, row) ? prose(sayShare(share, row.unit)) : '';
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

/** Whole sections while there is room; the others by name. */
function fitting(sections: readonly string[], builds: readonly BuildReview[]): string[] {
  const shown: string[] = [];
  let length = 0;
  for (const section of sections) {
    length += section.length;
    if (length > LONGEST) break;
    shown.push(section);
  }
  const left = builds.slice(shown.length);
  if (left.length === 0) return shown;
  const names = left.slice(0, 100).map(({ name }) => code(name));
  return [
    ...shown,
    `And ${plural(left.length, 'more build')} for which there is no room here: ${names.join(', ')}${left.length > names.length ? ' …' : ''}`,
  ];
}

function quietBlock(builds: readonly BuildReview[]): string[] {
  if (builds.length === 0) return [];
  const names = builds.slice(0, 100).map(({ name }) => code(name));
  const list = `${names.join(', ')}${builds.length > names.length ? ' …' : ''}`;
  const title = `${plural(builds.length, 'build')} touched, without a difference beyond the ±`;
  return [builds.length > 5 ? folded(title, list) : `${title}: ${list}`];
}

const folded = (title: string, text: string): string => `<details><summary>${title}</summary>\n\n${text}\n\n</details>`;
