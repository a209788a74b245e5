/** How grave what a change does to a build is: what fails a run, and what comes first. */
import { ascending } from 'd3-array';
import type { Assessment } from '../../analysis/assessment.ts';
import { limitsOf } from '../../checks/shared/ratings.ts';
import { nameOfRating, type RatingKey } from '../../vocabulary/limits.ts';
import { atLeast, type Severity } from '../../vocabulary/severities.ts';
import type { ResultChange } from './differences.ts';
import { type FindingChange, isKnownAndWorse } from './finding-changes.ts';
import { isHidden } from './hidden.ts';
import type { Hidden, Relaxation } from './relaxations.ts';
import type { BuildReview, NearestLimit, Review } from './review-data.ts';

/** Of what is rated, what least is left of now. */
export function nearestLimit(before: Assessment | undefined, after: Assessment): NearestLimit | undefined {
  const sharesOf = (assessment: Assessment) =>
    limitsOf(assessment).map(({ key, limit, value }) => ({ key, share: value.value / limit }));
  const [nearest] = sharesOf(after).sort((a, b) => b.share - a.share);
  if (!nearest) return undefined;
  const isNearest = ({ key }: { readonly key: RatingKey }) => nameOfRating(key) === nameOfRating(nearest.key);
  const was =
    before &&
    Math.max(
      ...sharesOf(before)
        .filter(isNearest)
        .map(({ share }) => share),
    );
  return {
    key: nearest.key,
    after: nearest.share,
    ...(was !== undefined && Number.isFinite(was) && { before: was }),
  };
}

/** New and worse findings that are open, at least so severe. */
export function risen({ builds, text }: Review, severity: Severity): FindingChange[] {
  return [...builds.flatMap(({ findings }) => findings), ...text].filter(
    (change) =>
      (change.status === 'new' || (change.status === 'worse' && !isKnownAndWorse(change))) &&
      atLeast(change.finding.severity, severity),
  );
}

/** Errors, or warnings, that were there already and are much worse now. */
export const worsened = ({ builds }: Pick<Review, 'builds'>, severity: Severity): FindingChange[] =>
  builds
    .flatMap(({ findings }) => findings)
    .filter((change) => isKnownAndWorse(change) && change.finding.severity === severity);

/** Errors, or warnings, that were open or not there, and that the new version accepts. */
export const newlyAccepted = ({ builds }: Pick<Review, 'builds'>, severity: Severity): FindingChange[] =>
  builds
    .flatMap(({ findings }) => findings)
    .filter(({ status, finding }) => status === 'accepted' && finding.severity === severity);

/**
 * An acceptance weighs as much as what it accepts, a ±, what was measured or what is no plain limit as much as what it hides: notes are no
 * worry. A part that was exchanged, or states other facts, is none either; that a figure is called measured always is.
 */
export const isWorrying = ({ what, how, accepts, hides }: Relaxation): boolean => {
  if (what === 'part' || what === 'facts') return false;
  if (what === 'acceptance') return accepts === undefined || atLeast(accepts, 'warning');
  if (how === 'called measured') return true;
  const isPlain = what !== 'figure' && what !== 'measurement' && !(how === 'changed' && what !== 'requirement');
  return isPlain || isGrave(hides);
};

/** Whether it is no worry, and yet nothing to pass over: without it there would be an error or a warning. */
export const isSettling = ({ what, hides }: Relaxation): boolean =>
  (what === 'part' || what === 'facts') && isGrave(hides);

const isGrave = (hidden: readonly Hidden[]): boolean => hidden.some(({ severity }) => atLeast(severity, 'warning'));

/** Whether a build is permitted what it was not: a limit, a rule, an acceptance. */
const isForgiven = ({ relaxations, hiddenTogether, findings }: BuildReview): boolean =>
  relaxations.some(isWorrying) ||
  isGrave(hiddenTogether) ||
  findings.some(
    (change) => isHidden(change) || (change.status === 'accepted' && atLeast(change.finding.severity, 'warning')),
  );

/** A new finding so severe, or that the change permits what was not permitted. */
export type ReviewFailure = Severity | 'forgiven';

/** Whether a run fails that fails on this. */
export function isFailing(found: Review, on: ReviewFailure): boolean {
  if (on === 'forgiven') return risen(found, 'error').length > 0 || found.builds.some(isForgiven);
  return risen(found, on).length > 0;
}

/** How much a reviewer should care: errors, warnings and what is not to be one any more, what else moves, then the rest. */
function gravityOf(build: BuildReview): number {
  const { findings, options, status } = build;
  const fresh = findings.filter((change) => change.status === 'new' || change.status === 'worse');
  if (fresh.some(({ finding }) => finding.severity === 'error')) return 4;
  if (fresh.some(({ finding }) => finding.severity === 'warning') || isForgiven(build)) return 3;
  if (status !== 'changed' || options.some(({ results, widened }) => widened.length > 0 || results.some(isOther)))
    return 2;
  return findings.some((change) => !['open', 'still-accepted'].includes(change.status)) ? 1 : 0;
}

const isOther = ({ beyond }: ResultChange): boolean => beyond;

export function byGravity(pathOf: (uri: string) => string) {
  return (one: BuildReview, other: BuildReview): number =>
    gravityOf(other) - gravityOf(one) ||
    loadOf(other) - loadOf(one) ||
    ascending(pathOf(one.uri), pathOf(other.uri)) ||
    ascending(one.name, other.name);
}

/** How much of its nearest rating flows where it came nearer; of what stayed, nothing. */
const loadOf = ({ options }: BuildReview): number =>
  Math.max(
    0,
    ...options.map(({ nearest: { before = 0, after = 0 } = {} }) => (after > before * (1 + NEARER) ? after : 0)),
  );

/** A change of a share that somebody sees. */
const NEARER = 0.005;
