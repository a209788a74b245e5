/** Words and figures that all formats share. */
import { RANK } from '../../checks/grade.ts';
import type { Place } from '../../model/place.ts';
import { displayUnit, formatPlusMinus, formatValue } from '../../units/print.ts';
import { HEADLINES } from '../headlines.ts';
import { differenceUnit, nameOf, plural, sayDifference, signed } from '../words.ts';
import type { Change } from './changes.ts';
import type { BuildReview, Cause, Review, Share, Version } from './data.ts';
import { byTable, type Measured, type ResultChange } from './differences.ts';
import type { FindingChange, Status } from './findings.ts';
import type { Relaxation } from './relaxations.ts';
import { gravityOf, isWorrying, newlyAccepted, risen } from './review.ts';

export const isHeadline = ({ name }: { readonly name: string }): boolean =>
  HEADLINES.some(([headline]) => headline === name);

export { nameOf, plural, sayDifference };

export interface Verdict {
  readonly worry: 'error' | 'warning' | 'differences' | 'none';
  readonly sentence: string;
  /** What was touched, in a sentence. */
  readonly extent: string;
}

export function verdictOf(review: Review): Verdict {
  return { ...worryOf(review), extent: extentOf(review) };
}

function worryOf(review: Review): Omit<Verdict, 'extent'> {
  const errors = risen(review, 'error').length;
  const warnings = risen(review, 'warning').length - errors;
  const { worrying, harmless } = relaxedWords(review.builds.flatMap(({ relaxations }) => relaxations));
  const found = [
    ...counted(errors, 'new error'),
    ...counted(warnings, 'new warning'),
    ...counted(newlyAccepted(review, 'error').length, 'error', ' newly accepted'),
    ...counted(newlyAccepted(review, 'warning').length, 'warning', ' newly accepted'),
    ...worrying,
    ...tornWords(review),
  ].join(', ');
  if (review.failures.length > 0)
    return {
      worry: 'error',
      sentence: `Not all could be read: ${plural(review.failures.length, 'file')}${found && `; ${found}`}`,
    };
  if (errors > 0) return { worry: 'error', sentence: `Stop and look: ${found}` };
  if (found !== '') return { worry: 'warning', sentence: `Look before merging: ${found}` };
  const ofStatus = (status: BuildReview['status']) => review.builds.filter((build) => build.status === status);
  const different = ofStatus('changed').filter((build) => gravityOf(build) === 2).length;
  const differences = [
    ...counted(different, 'build', ` ${different === 1 ? 'differs' : 'differ'} by more than the ± can explain`),
    ...counted(ofStatus('added').length, 'build', ' added'),
    ...counted(ofStatus('removed').length, 'build', ' removed'),
  ];
  const renamed = review.builds.filter(({ renamedFrom }) => renamedFrom !== undefined).length;
  const besides = [...counted(renamed, 'build', ' renamed'), ...harmless];
  if (differences.length > 0)
    return { worry: 'differences', sentence: `No new error or warning; ${[...differences, ...besides].join(', ')}` };
  const resolved = changed(review, ({ status }) => status === 'resolved').length;
  const quiet = ['no difference that the ± cannot explain', ...besides, ...counted(resolved, 'finding', ' resolved')];
  return { worry: 'none', sentence: `Nothing to worry about: ${quiet.join(', ')}` };
}

const counted = (count: number, noun: string, behind = ''): string[] =>
  count > 0 ? [`${plural(count, noun)}${behind}`] : [];

/** Files that did parse. */
function tornWords({ text, before, pathOf }: Review): string[] {
  const tears = text.filter(({ finding }) => finding.id === 'syntax');
  const torn = [...new Set(tears.map(({ finding }) => finding.place.uri))].filter(
    (uri) =>
      before.excerpt({ uri, start: 0, end: 0 }) !== undefined &&
      tears.every(({ status, finding }) => finding.place.uri !== uri || status === 'new'),
  );
  if (torn.length > 1) return [`${torn.length} files do not parse any more`];
  return torn.map((uri) => `${pathOf(uri)} does not parse any more`);
}

const NOUNS: Readonly<Record<Relaxation['what'], string>> = {
  requirement: 'requirement',
  acceptance: 'acceptance',
  severity: 'finding',
};

/** What is asked less or forgiven more, a line counted once however many builds rest on it: the worrying, and the rest. */
export function relaxedWords(relaxations: readonly Relaxation[]): { worrying: string[]; harmless: string[] } {
  const lines = new Map<string, Relaxation>();
  for (const one of relaxations) {
    const { what, how, place, after } = one;
    lines.set([what, how, after === undefined, place.uri, place.start].join(' '), one);
  }
  // An error or warning that it accepts is counted itself.
  const told = [...lines.values()].filter(({ accepts }) => accepts === undefined || RANK[accepts] < RANK.warning);
  const words = (some: readonly Relaxation[]) =>
    [...new Set(some.map(({ how }) => how))].flatMap((how) => {
      const alike = some.filter((one) => one.how === how);
      const written = alike.length === 1 ? ` (${alike.map(sayRelaxed).join()})` : '';
      return alike.slice(0, 1).map(({ what }) => `${plural(alike.length, NOUNS[what])} ${how}${written}`);
    });
  return { worrying: words(told.filter(isWorrying)), harmless: words(told.filter((one) => !isWorrying(one))) };
}

function sayRelaxed(relaxation: Relaxation): string {
  const { before, after } = shownWhereTheyDiffer(relaxation.before, relaxation.after);
  return [before, after].filter((text) => text !== undefined).join(' → ');
}

/** Pieces of a relaxation, for a format to quote. */
export interface ToldRelaxation {
  /** "requirement taken away" */
  readonly label: string;
  readonly before?: string;
  readonly after?: string;
  /** File and line. */
  readonly where: string;
}

export function tellRelaxation(review: Review, relaxation: Relaxation): ToldRelaxation {
  const { what, how, place, after } = relaxation;
  return {
    label: `${NOUNS[what]} ${how}`,
    ...shownWhereTheyDiffer(relaxation.before, after),
    where: lineOfPlace(review, place, after === undefined),
  };
}

const changed = ({ builds, text }: Review, matches: (change: FindingChange) => boolean): FindingChange[] =>
  [...builds.flatMap(({ findings }) => findings), ...text].filter(matches);

function extentOf({ builds, buildsInAll, base, head }: Review): string {
  const versions = `${versionText(base)} → ${versionText(head)}`;
  const standing = builds.filter(({ status }) => status !== 'removed').length;
  const count = (status: BuildReview['status']) => builds.filter((build) => build.status === status).length;
  const touched = `${standing} of ${plural(buildsInAll, 'build')} ${standing === 1 ? 'rests' : 'rest'} on what changed`;
  const comings = (['added', 'removed'] as const).flatMap((status) =>
    count(status) > 0 ? [`, ${count(status)} ${status}`] : [],
  );
  return `${touched}${comings.join('')}; ${versions}`;
}

function versionText({ name, commit }: Version): string {
  const short = commit?.slice(0, 12);
  if (short === undefined) return name;
  return commit === name ? short : `${name} (${short})`;
}

export const STATUS_WORDS: Readonly<Record<Status, string>> = {
  new: 'new',
  worse: 'worse',
  accepted: 'newly accepted',
  eased: 'eased',
  resolved: 'resolved',
  open: 'still open',
  'still-accepted': 'still accepted',
};

/** Errors and warnings that came, changed or went, and what was newly accepted: what a reviewer must see. */
export const isPrincipal = (change: FindingChange): boolean => {
  const { status, finding } = change;
  return (
    !isAsBefore(change) && (finding.severity === 'error' || finding.severity === 'warning' || status === 'accepted')
  );
};

/** Whether there is anything to tell of a build that was touched. */
export const isTelling = (build: BuildReview): boolean =>
  build.status !== 'changed' || build.renamedFrom !== undefined || build.relaxations.length > 0 || isMoved(build);

/** Whether results or findings are others than before. */
const isMoved = ({ options, findings }: BuildReview): boolean =>
  options.some((option) => option.status !== 'changed' || option.results.some(({ beyond }) => beyond)) ||
  findings.some((change) => !isAsBefore(change));

export const isAsBefore = ({ status }: FindingChange): boolean => status === 'open' || status === 'still-accepted';

/** Results that differ beyond their ± on some pack, headlines and others; of what is on one side only the headlines are enough. */
export function rowsOf({ options }: BuildReview): { headlines: ResultChange[]; others: ResultChange[] } {
  const headlines = new Map<string, ResultChange>();
  const others = new Map<string, ResultChange>();
  for (const { status, results } of options) {
    for (const one of results) {
      if (!one.beyond) continue;
      if (isHeadline(one)) headlines.set(one.name, headlines.get(one.name) ?? one);
      else if (status === 'changed') others.set(one.name, others.get(one.name) ?? one);
    }
  }
  return { headlines: [...headlines.values()].sort(byTable), others: [...others.values()].sort(byTable) };
}

/** How many results moved by less than their ±, over all packs. */
export const withinCount = ({ options }: BuildReview): number =>
  options.reduce((sum, { results }) => sum + results.filter(({ beyond }) => !beyond).length, 0);

/** "98.4 g → 102.6 g, +4.20 ± 0.05 g" */
export function sayChange({ before, after, difference, unit, reason }: ResultChange): string {
  if (before && after && difference) return `${sayPair(before, after, unit)}, ${sayDifference(difference, unit)}`;
  if (after) return formatPlusMinus(after.value, after.plusMinus, unit);
  const was = before ? formatPlusMinus(before.value, before.plusMinus, unit) : '-';
  return reason === undefined ? was : `${was} → unknown: ${reason}`;
}

const MOST_DIGITS = 7;

/** With as many digits as it takes to see the difference in them, and the unit once: "96.0 → 98.8 g". */
export function sayPair(before: Measured, after: Measured, unit: string): string {
  const shown = displayUnit(unit);
  const difference = Math.abs(shown.fromSI(after.value) - shown.fromSI(before.value));
  for (let digits = 3; ; digits++) {
    const old = formatValue(before.value, unit, digits);
    const now = formatValue(after.value, unit, digits);
    const [oldNumber, nowNumber] = [NUMBER.exec(old)?.[0], NUMBER.exec(now)?.[0]];
    const isPlain =
      oldNumber && nowNumber && old.slice(oldNumber.length) === now.slice(nowNumber.length) && unit !== 'min';
    if (!isPlain) {
      if (old === now && digits < MOST_DIGITS) continue;
      return `${old} → ${now}`;
    }
    const isSeen = Math.abs(Math.abs(Number(nowNumber) - Number(oldNumber)) - difference) <= DIGITS_LOST * difference;
    if (!isSeen && digits < MOST_DIGITS) continue;
    const decimals = Math.max(decimalsOf(oldNumber), decimalsOf(nowNumber));
    const padded = (number: string) => Number(number).toFixed(decimals);
    return `${padded(oldNumber)} → ${padded(nowNumber)}${now.slice(nowNumber.length)}`;
  }
}

/** How wrong a difference may be when it is taken from the values as they are shown. */
const DIGITS_LOST = 0.15;

const NUMBER = /^-?\d+(\.\d+)?(?![\d.e])/;

const decimalsOf = (number: string): number => number.split('.')[1]?.length ?? 0;

export const sayShare = ({ value }: Share, unit: string): string =>
  signed(value, formatValue(value, differenceUnit(value, unit), 2));

const LONGEST = 80;

const clipped = (text: string): string => (text.length > LONGEST ? `${text.slice(0, LONGEST - 1)}…` : text);

/** Of two long texts what both begin with is left out, up to the word before they part. */
function shownWhereTheyDiffer(
  before: string | undefined,
  after: string | undefined,
): Pick<ToldChange, 'before' | 'after'> {
  let common = 0;
  if (before !== undefined && after !== undefined && Math.max(before.length, after.length) > LONGEST) {
    while (common < before.length && before[common] === after[common]) common++;
    common = before.lastIndexOf(' ', before.lastIndexOf(' ', common) - 1) + 1;
  }
  const shown = (text: string) => clipped(common > 0 ? `… ${text.slice(common)}` : text);
  return {
    ...(before !== undefined && { before: shown(before) }),
    ...(after !== undefined && { after: shown(after) }),
  };
}

/** Pieces of what a change is, for a format to quote. */
export interface ToldChange {
  /** `resistance` */
  readonly what?: string;
  /** `motor M1104_10500` */
  readonly part: string;
  readonly before?: string;
  readonly after?: string;
  readonly verb: 'changed' | 'added' | 'removed';
}

export function tell({ kind, what, part, before, after }: Change): ToldChange {
  return {
    ...(what !== undefined && { what: clipped(what) }),
    part: `${part.kind} ${part.name}`,
    ...shownWhereTheyDiffer(before, after),
    verb: kind,
  };
}

export const placeOfChange = (review: Review, { kind, place }: Change): string =>
  lineOfPlace(review, place, kind === 'removed');

function lineOfPlace(review: Review, place: Place, isGone: boolean): string {
  const line = (isGone ? review.before : review.after).excerpt(place)?.start.line;
  const path = review.pathOf(place.uri);
  return line === undefined ? path : `${path}:${line}`;
}

/** The first pack whose shares are known, and what this change does to its headlines; zero shares are left out. */
export function mainShares(build: BuildReview, { shares }: Cause): { pack: string; said: string[] } | undefined {
  for (const { pack, results } of build.options) {
    const ofPack = shares.get(pack)?.filter(({ value }) => value !== 0);
    if (!ofPack?.length) continue;
    const said = ofPack.flatMap((share) => {
      const row = results.find(({ name }) => name === share.result);
      return row && isHeadline(row) && isVisible(share, row) ? [`${row.label} ${sayShare(share, row.unit)}`] : [];
    });
    return { pack, said };
  }
  return undefined;
}

/** Causes that do something to this build; where it is not known what each one does, all of them. */
export function effectiveCauses(build: BuildReview): readonly Cause[] {
  // What is asked and forgiven names its own lines; only of other rules it is to be told who brings them.
  if (!isMoved(build)) return build.causes.filter(({ change }) => /^(rules|like)\b/.test(change.what ?? ''));
  const isKnown = build.causes.some(({ shares, findings }) => shares.size > 0 || findings.length > 0);
  if (!isKnown) return build.causes;
  const rows = new Map(build.options.map(({ pack, results }) => [pack, results]));
  return build.causes.filter(
    ({ change, shares, findings }) =>
      !change.edit ||
      findings.length > 0 ||
      [...shares].some(([pack, ofPack]) =>
        ofPack.some((share) => {
          const row = rows.get(pack)?.find(({ name }) => name === share.result);
          return row !== undefined && isVisible(share, row);
        }),
      ),
  );
}

/** What to say below the causes: nothing is said of each alone, or what is said cannot be summed up by the reader. */
export function noteOnShares(build: BuildReview): string | undefined {
  if (build.unshared) return 'too many changes at once to tell what each one does';
  return addsUp(build) ? undefined : 'told each alone: together they need not add up, because they act on each other';
}

/** Of the larger of whole and shares; what two digits of each leave open. Ours. */
const SEEN = 0.05;

function addsUp({ options, causes }: BuildReview): boolean {
  return options.every(({ pack, results }) => {
    const shares = causes.flatMap((cause) => cause.shares.get(pack) ?? []);
    return results.filter(isHeadline).every(({ name, beyond, difference }) => {
      const values = shares.filter(({ result }) => result === name).map(({ value }) => value);
      if (!beyond || !difference || values.length === 0) return true;
      const gap = Math.abs(values.reduce((sum, value) => sum + value, 0) - difference.value);
      return gap <= SEEN * Math.max(...[difference.value, ...values].map(Math.abs));
    });
  });
}

/** A thousandth of what happened in all is nobody's share. */
export const isVisible = ({ value }: Share, { difference, before }: ResultChange): boolean =>
  Math.abs(value) > 1e-3 * Math.abs(difference?.value ?? before?.value ?? 0);
