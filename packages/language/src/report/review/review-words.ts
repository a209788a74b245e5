/** Words and figures that all formats share. */
import { formatMeasurable } from '../../analysis/uncertainty/print-estimate.ts';
import { formatDifference, stepsOf } from '../../units/print.ts';
import { HEADLINES, worthShowing } from '../../vocabulary/headlines.ts';
import { listed } from '../../vocabulary/phrasing.ts';
import { resultNamed } from '../../vocabulary/results.ts';
import { atLeast } from '../../vocabulary/severities.ts';
import { kindAndName, levelText, severityWord, signed } from '../present/report-words.ts';
import { type NamedSources, pathAndLine } from '../present/sources.ts';
import type { Change } from './changes.ts';
import { byTable, type ResultChange } from './differences.ts';
import type { FindingChange, FindingStatus } from './finding-changes.ts';
import type { Hidden, Relaxation } from './relaxations.ts';
import type { BuildReview, CausingChange, OptionReview, Review, Share } from './review-data.ts';

/** Selects the headlines among the results of these options, what a flight leaves and when to turn back among them. */
export const isHeadlineOf =
  (...options: readonly OptionReview[]) =>
  ({ name }: { readonly name: string }): boolean =>
    worthShowing(HEADLINES.columns, options).some((headline) => headline === name) || isOfReserve(name);

const isOfReserve = (name: string): boolean => {
  const key = resultNamed(name);
  return key?.of === 'flight' && (key.result === 'charge_left' || key.result === 'turn_back_time');
};

/** Of a flight: what it leaves in the pack. */
export const isChargeLeft = ({ name }: { readonly name: string }): boolean => {
  const key = resultNamed(name);
  return key?.of === 'flight' && key.result === 'charge_left';
};

export const STATUS_WORDS: Readonly<Record<FindingStatus, string>> = {
  new: 'new',
  worse: 'worse',
  accepted: 'newly accepted',
  eased: 'eased',
  resolved: 'resolved',
  hidden: 'hidden',
  open: 'still open',
  'still-accepted': 'still accepted',
};

/** Errors and warnings that came, changed or went, and what was newly accepted: what a reviewer must see. */
export const isPrincipal = (change: FindingChange): boolean => {
  const { status, finding } = change;
  return !isAsBefore(change) && (atLeast(finding.severity, 'warning') || status === 'accepted');
};

/** Whether there is anything to report a build that was touched. */
export const isWorthReporting = (build: BuildReview): boolean =>
  build.status !== 'changed' || build.renamedFrom !== undefined || build.relaxations.length > 0 || isMoved(build);

/** Whether results or findings are others than before. */
const isMoved = ({ options, findings }: BuildReview): boolean =>
  options.some((option) => option.status !== 'changed' || option.results.some(({ beyond }) => beyond)) ||
  findings.some((change) => !isAsBefore(change));

export const isAsBefore = ({ status }: FindingChange): boolean => status === 'open' || status === 'still-accepted';

/** Results that differ beyond their ± on some pack, headlines and others; of what is on one side only the headlines are enough. */
export function changedResultsOf({ options }: BuildReview): { headlines: ResultChange[]; others: ResultChange[] } {
  const headlines = new Map<string, ResultChange>();
  const others = new Map<string, ResultChange>();
  const isHeadline = isHeadlineOf(...options);
  for (const { status, results } of options) {
    for (const one of results) {
      // What is no longer known is reported once, with its reason.
      if (!one.beyond || (status === 'changed' && !one.after)) continue;
      if (isHeadline(one)) headlines.set(one.name, headlines.get(one.name) ?? one);
      else if (status === 'changed') others.set(one.name, others.get(one.name) ?? one);
    }
  }
  return { headlines: [...headlines.values()].sort(byTable), others: [...others.values()].sort(byTable) };
}

/** How many results moved by less than their ±, over all packs. */
export const withinCount = ({ options }: BuildReview): number =>
  options.reduce((sum, { results }) => sum + results.filter(({ beyond }) => !beyond).length, 0);

/** "98.40 → 102.60 g, +4.20 ± 0.05 g" */
export function resultChangeText({ before, after, difference, unit, reason }: ResultChange): string {
  if (before && after && difference) {
    const { value, plusMinus } = difference;
    const steps = stepsOf(unit, [{ value, halfWidth: plusMinus }]);
    const [from, to] = [before.value, after.value];
    return `${steps.pair(from, to)}, ${steps.difference(from, to, plusMinus)}`;
  }
  if (after) return formatMeasurable(after, unit);
  const was = levelText(before, unit);
  return reason === undefined ? was : `${was} → unknown: ${reason}`;
}

export const formatSignedShare = ({ value }: Share, unit: string): string =>
  signed(value, formatDifference(value, unit, 2));

const LONGEST = 80;

const clipped = (text: string): string => (text.length > LONGEST ? `${text.slice(0, LONGEST - 1)}…` : text);

/** Of two long texts what both begin with is left out, up to the word before they part. */
export function shownWhereTheyDiffer(
  before: string | undefined,
  after: string | undefined,
): Pick<ChangeWords, 'before' | 'after'> {
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
export interface ChangeWords {
  /** `resistance` */
  readonly what?: string;
  /** `motor M1606_3150` */
  readonly part: string;
  readonly before?: string;
  readonly after?: string;
  readonly verb: 'changed' | 'added' | 'removed';
}

export function changeWords({ kind, what, part, before, after }: Change): ChangeWords {
  return {
    ...(what !== undefined && { what: clipped(what) }),
    part: kindAndName(part),
    ...shownWhereTheyDiffer(before, after),
    verb: kind,
  };
}

export const NOUNS: Readonly<Record<Relaxation['what'], string>> = {
  requirement: 'requirement',
  rule: 'rule',
  flight: 'flight',
  limit: 'limit',
  figure: 'figure',
  measurement: 'measurement',
  part: 'part',
  facts: 'part',
  acceptance: 'acceptance',
  severity: 'finding',
};

/** What was done to it: "raised", "its ± narrowed". */
export const howOf = ({ what, how }: Pick<Relaxation, 'what' | 'how'>): string => {
  if (what === 'facts') return 'whose stated facts changed';
  if (what === 'part') return `${how} for another with higher limits`;
  if (what !== 'figure' || how === 'taken away') return how;
  return how === 'called measured' ? `${how} without rows or an observation` : `with a ${how} ±`;
};

/** What was permitted hides; another thing with higher limits may well settle; with other facts a finding is resolved on paper. */
type Verb = 'hide' | 'settle' | 'resolve';

export const verbOf = ({ what }: Pick<Relaxation, 'what'>): Verb =>
  what === 'facts' ? 'resolve' : what === 'part' ? 'settle' : 'hide';

/** "it hides motor-overvoltage and lowers pack-oversag" */
export function hidesWords(hidden: readonly Hidden[], subject: 'it' | 'they', verb: Verb = 'hide'): string | undefined {
  const words = (does: string, some: readonly Hidden[]) => {
    const ids = [...new Set(some.map(({ id }) => id))];
    return ids.length === 0 ? [] : [`${does}${subject === 'it' ? 's' : ''} ${listed(ids)}`];
  };
  const stated = [
    ...words(
      verb,
      hidden.filter(({ now }) => now === undefined),
    ),
    ...words(
      'lower',
      hidden.filter(({ now }) => now !== undefined),
    ),
  ];
  return stated.length === 0 ? undefined : `${subject} ${listed(stated)}`;
}

/** Pieces of a relaxation, for a format to quote. */
export interface RelaxationWords {
  /** "requirement taken away" */
  readonly label: string;
  readonly before?: string;
  readonly after?: string;
  /** File and line. */
  readonly where: string;
  readonly hides: readonly HiddenWords[];
}

/** What is hidden, on which packs; one a finding. */
export interface HiddenWords {
  /** "it hides error" */
  readonly label: string;
  readonly id: string;
  readonly packs: readonly string[];
  readonly message: string;
}

/** What is alike on several packs is reported once, in the words of the first. */
export function hiddenWords(
  hidden: readonly Hidden[],
  subject: 'it' | 'together they',
  verb: Verb = 'hide',
): HiddenWords[] {
  const reported = new Map<string, HiddenWords>();
  for (const { id, severity, now, message, pack } of hidden) {
    const s = subject === 'it' ? 's' : '';
    const label =
      now === undefined
        ? `${subject} ${verb}${s} ${severityWord(severity)}`
        : `${subject} lower${s} to ${severityWord(now)} ${severityWord(severity)}`;
    const known = reported.get(`${label} ${id}`);
    const packs = [...(known?.packs ?? []), ...(pack === undefined ? [] : [pack])];
    reported.set(`${label} ${id}`, { label, id, packs: [...new Set(packs)], message: known?.message ?? message });
  }
  return [...reported.values()];
}

export function relaxationWords(review: Review, relaxation: Relaxation): RelaxationWords {
  const { what, of, place, after } = relaxation;
  return {
    label:
      what === 'facts'
        ? `stated facts of ${of} changed`
        : `${NOUNS[what]}${of === undefined ? '' : ` of ${of}`} ${howOf(relaxation)}`,
    ...shownWhereTheyDiffer(relaxation.before, after),
    where: pathAndLine(sideOf(review, after === undefined), place),
    // What is newly accepted is reported as such.
    hides:
      relaxation.accepts === undefined
        ? hiddenWords(relaxation.hides, relaxation.isJoint ? 'together they' : 'it', verbOf(relaxation))
        : [],
  };
}

export const placeOfChange = (review: Review, { kind, place }: Change): string =>
  pathAndLine(sideOf(review, kind === 'removed'), place);

/** The texts of the old version, or of the new one. */
export const sideOf = ({ before, after, pathOf }: Review, isBefore: boolean): NamedSources => ({
  sources: isBefore ? before : after,
  pathOf,
});

/** The first pack whose shares are known, and what this change does to its headlines; zero shares are left out. */
export function mainShares(
  build: BuildReview,
  { shares }: CausingChange,
): { pack: string; stated: string[] } | undefined {
  for (const option of build.options) {
    const { pack, results } = option;
    const isHeadline = isHeadlineOf(option);
    const ofPack = shares.get(pack)?.filter(({ value }) => value !== 0);
    if (!ofPack?.length) continue;
    const stated = ofPack.flatMap((share) => {
      const row = results.find(({ name }) => name === share.result);
      return row && isHeadline(row) && isVisible(share, row)
        ? [`${row.label} ${formatSignedShare(share, row.unit)}`]
        : [];
    });
    return { pack, stated };
  }
  return undefined;
}

/** Causes that do something to this build; where it is not known what each one does, all of them. */
export function effectiveCauses(build: BuildReview): readonly CausingChange[] {
  // Requirements and acceptances name their own lines; other rules need to be attributed.
  if (!isMoved(build)) return build.causes.filter(({ change: { sort } }) => sort === 'rules' || sort === 'like');
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

/** What to add below the causes: nothing is known of each alone, or the parts do not add up. */
export function noteOnShares(build: BuildReview): string | undefined {
  if (build.unshared) return 'too many changes at once to compute the effect of each one';
  return addsUp(build)
    ? undefined
    : 'each change was computed alone: together they need not add up, because they interact';
}

/** Of the larger of whole and shares; what two digits of each leave open. Ours. */
const SEEN = 0.05;

function addsUp({ options, causes }: BuildReview): boolean {
  return options.every((option) => {
    const { pack, results } = option;
    const shares = causes.flatMap((cause) => cause.shares.get(pack) ?? []);
    return results.filter(isHeadlineOf(option)).every(({ name, beyond, difference }) => {
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
