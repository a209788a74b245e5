/** Whether to worry, in a word and in a sentence: the first line of every format. */

import { formatShares } from '../../units/print.ts';
import { plural } from '../../vocabulary/phrasing.ts';
import { atLeast, GRAVE } from '../../vocabulary/severities.ts';
import type { FindingChange } from './finding-changes.ts';
import { isSettling, isWorrying, newlyAccepted, risen, worsened } from './gravity.ts';
import type { Hidden, Relaxation } from './relaxations.ts';
import { type BuildReview, type Review, SAVED, type Version } from './review-data.ts';
import { hidesWords, howOf, NOUNS, shownWhereTheyDiffer, verbOf } from './review-words.ts';

export interface ReviewVerdict {
  readonly worry: 'error' | 'warning' | 'differences' | 'none';
  readonly sentence: string;
  /** What was touched, in a sentence. */
  readonly extent: string;
}

export function reviewVerdictOf(review: Review): ReviewVerdict {
  return { ...worryOf(review), extent: extentOf(review) };
}

function worryOf(review: Review): Omit<ReviewVerdict, 'extent'> {
  const errors = risen(review, 'error').length;
  const warnings = risen(review, 'warning').length - errors;
  const { worrying, harmless, hasSentences } = relaxedWords(review.builds.flatMap(({ relaxations }) => relaxations));
  const together = togetherWords(review.builds.flatMap(({ hiddenTogether }) => hiddenTogether));
  const worries = [
    ...counted(errors, 'new error'),
    ...counted(warnings, 'new warning'),
    ...GRAVE.flatMap((severity) => worsenedWords(worsened(review, severity), severity)),
    ...GRAVE.flatMap((severity) => acceptedWords(newlyAccepted(review, severity), severity)),
    ...worrying,
    ...(errors + warnings > 0 ? widenedWords(review) : []),
    ...together,
    ...tornWords(review),
  ];
  // What hides nothing by itself is named with them.
  const isNamed = worries.length > 0 || review.failures.length > 0;
  // Independent sentences are not joined by commas.
  const found = isNamed ? [...worries, ...harmless].join(hasSentences || together.length > 0 ? '; ' : ', ') : '';
  if (review.failures.length > 0)
    return {
      worry: 'error',
      sentence: `Not all could be judged: ${plural(review.failures.length, 'file')}${found && `; ${found}`}`,
    };
  if (errors > 0) return { worry: 'error', sentence: `Stop and check: ${found}` };
  const lead = review.head.name === SAVED ? 'Look at this' : 'Check before merging';
  if (found !== '') return { worry: 'warning', sentence: `${lead}: ${found}` };
  const ofStatus = (status: BuildReview['status']) => review.builds.filter((build) => build.status === status);
  const different = ofStatus('changed').filter(({ options }) =>
    options.some(({ results, status }) => status !== 'changed' || results.some(({ beyond }) => beyond)),
  ).length;
  const differences = [
    ...counted(different, 'build', ` ${different === 1 ? 'differs' : 'differ'} by more than the ± can explain`),
    ...counted(ofStatus('added').length, 'build', ' added'),
    ...counted(ofStatus('removed').length, 'build', ' removed'),
    ...widenedWords(review),
  ];
  const renamed = review.builds.filter(({ renamedFrom }) => renamedFrom !== undefined).length;
  const lists = new Set(review.shortlists.map(({ part }) => part.name)).size;
  const besides = [...counted(renamed, 'build', ' renamed'), ...counted(lists, 'shortlist', ' changed'), ...harmless];
  const isSettled = review.builds.some(({ relaxations }) => relaxations.some(isSettling));
  if (differences.length > 0 || isSettled)
    return { worry: 'differences', sentence: `No new error or warning; ${[...differences, ...besides].join(', ')}` };
  const resolved = changed(review, ({ status }) => status === 'resolved');
  const grave = [
    ...new Set(resolved.flatMap(({ finding: { id, severity } }) => (atLeast(severity, 'warning') ? id : []))),
  ];
  const which = grave.length > 0 ? ` (${grave.join(', ')})` : '';
  const quiet = [
    'no difference that the ± cannot explain',
    ...besides,
    ...counted(resolved.length, 'finding', ` resolved${which}`),
  ];
  return { worry: 'none', sentence: `Nothing to worry about: ${quiet.join(', ')}` };
}

const counted = (count: number, noun: string, behind = ''): string[] =>
  count > 0 ? [`${plural(count, noun)}${behind}`] : [];

function worsenedWords(changes: readonly FindingChange[], noun: string): string[] {
  const accepted = changes.filter(({ finding }) => finding.accepted !== undefined).length;
  return [
    ...counted(changes.length - accepted, noun, ' got worse'),
    ...counted(accepted, `accepted ${noun}`, ' got worse'),
  ];
}

function acceptedWords(changes: readonly FindingChange[], noun: string): string[] {
  const ids = [...new Set(changes.map(({ finding }) => finding.id))].join(', ');
  return counted(changes.length, noun, ` newly accepted (${ids})`);
}

/** "the ± of hover time became wide on 3 builds (12 → 45 %)" */
function widenedWords({ builds }: Review): string[] {
  const all = builds.flatMap(({ name, options }) =>
    options.flatMap(({ widened }) => widened.map((one) => ({ ...one, build: name }))),
  );
  return [...new Set(all.map(({ name }) => name))].flatMap((name) => {
    const alike = all.filter((one) => one.name === name).sort((a, b) => b.after - a.after);
    const [widest] = alike;
    if (!widest) return [];
    const on = [...new Set(alike.map(({ build }) => build))];
    const shares = formatShares(widest.before, widest.after);
    return [
      `the ± of ${widest.label} became wide on ${on.length === 1 ? on[0] : plural(on.length, 'build')} (${shares})`,
    ];
  });
}

const togetherWords = (hidden: readonly Hidden[]): string[] => {
  const words = hidesWords(hidden, 'they');
  return words === undefined ? [] : [`together ${words}`];
};

/** Files that did parse. */
function tornWords({ text, before, pathOf }: Review): string[] {
  const tears = text.filter(({ finding }) => finding.id === 'syntax');
  const torn = [...new Set(tears.map(({ finding }) => finding.place.uri))].filter(
    (uri) =>
      before.excerpt({ uri, start: 0, end: 0 }) !== undefined &&
      tears.every(({ status, finding }) => finding.place.uri !== uri || status === 'new'),
  );
  if (torn.length > 1) return [`${torn.length} files no longer parse`];
  return torn.map((uri) => `${pathOf(uri)} no longer parses`);
}

/** What is required less or accepted more, in words. */
interface RelaxedWords {
  readonly worrying: readonly string[];
  readonly harmless: readonly string[];
  /** Whether some are sentences, which name what is hidden. */
  readonly hasSentences: boolean;
}

/** A line is counted once however many builds rest on it. */
export function relaxedWords(relaxations: readonly Relaxation[]): RelaxedWords {
  const lines = new Map<string, Relaxation>();
  for (const one of relaxations) {
    const { what, how, place, after } = one;
    const key = [what, how, after === undefined, place.uri, place.start].join(' ');
    // On one build it may hide what it does not on another.
    if (!lines.has(key) || isWorrying(one)) lines.set(key, one);
  }
  const reported = [...lines.values()].filter(isReported);
  let hasSentences = false;
  const words = (some: readonly Relaxation[]) => {
    const labelOf = (one: Relaxation) => `${NOUNS[one.what]} ${howOf(one)}`;
    return [...new Set(some.map(labelOf))].flatMap((label) => {
      const alike = some.filter((one) => labelOf(one) === label);
      const [first] = alike;
      if (!first) return [];
      const written = alike.length === 1 ? ` (${relaxedText(first)})` : '';
      const ofAlike = relaxations.filter((one) => labelOf(one) === label && isReported(one));
      const hides = hidesWords(
        ofAlike.flatMap((one) => one.hides),
        alike.length === 1 ? 'it' : 'they',
        verbOf(first),
      );
      hasSentences ||= hides !== undefined;
      return `${plural(alike.length, NOUNS[first.what])} ${howOf(first)}${written}${hides === undefined ? '' : `: ${hides}`}`;
    });
  };
  const worrying = words(reported.filter(isWorrying));
  const harmless = words(reported.filter((one) => !isWorrying(one)));
  return { worrying, harmless, hasSentences };
}

/** An error or warning that it accepts is counted itself. */
const isReported = ({ accepts }: Relaxation): boolean => accepts === undefined || !atLeast(accepts, 'warning');

function relaxedText(relaxation: Relaxation): string {
  const { before, after } = shownWhereTheyDiffer(relaxation.before, relaxation.after);
  const written = [before, after].filter((text) => text !== undefined).join(' → ');
  return relaxation.of === undefined ? written : `${written} of ${relaxation.of}`;
}

const changed = ({ builds, text }: Review, matches: (change: FindingChange) => boolean): FindingChange[] =>
  [...builds.flatMap(({ findings }) => findings), ...text].filter(matches);

function extentOf({ builds, buildsInAll, base, head }: Review): string {
  const versions = `${versionText(base)} → ${versionText(head)}`;
  const standing = builds.filter(({ status }) => status !== 'removed').length;
  const count = (status: BuildReview['status']) => builds.filter((build) => build.status === status).length;
  const verb = standing === 1 || (standing === 0 && buildsInAll === 1) ? 'depends' : 'depend';
  const touched = `${standing} of ${plural(buildsInAll, 'build')} ${verb} on what changed`;
  const comings = (['added', 'removed'] as const).flatMap((status) =>
    count(status) > 0 ? [`, ${count(status)} ${status}`] : [],
  );
  return `${touched}${comings.join('')}; ${versions}`;
}

function versionText({ name, commit, on }: Version): string {
  const short = commit?.slice(0, 12);
  if (on !== undefined) return `${name} on ${on.slice(0, 12)}`;
  if (short === undefined) return name;
  return commit === name ? short : `${name} (${short})`;
}
