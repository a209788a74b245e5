/** Candidates of a shortlist judged as `fettle check` would judge them: which are rejected and why, and the values of those that pass. */
import { assess } from '../../analysis/assess.ts';
import type { Assessment } from '../../analysis/assessment.ts';
import { PACK_GRAMS_LEFT, verdictOn } from '../../analysis/decide/pack-grams.ts';
import { type Preference, preferenceOf } from '../../analysis/decide/ranking.ts';
import { isAskedOn, judge } from '../../analysis/decide/requirements.ts';
import { whyMissing } from '../../analysis/explain/reasons.ts';
import { LimitedCraft, type Reads, type UnderLimit } from '../../analysis/limited.ts';
import { CAUSES_FIRST, canBeError, isErrorBy } from '../../checks/any-error.ts';
import type { Check } from '../../checks/check.ts';
import type { Finding } from '../../checks/finding.ts';
import { buildFindings } from '../../checks/run.ts';
import { keptMargins } from '../../checks/shared/judged-requirements.ts';
import type { Build, Requirement } from '../../model/build.ts';
import { resultsIn } from '../../model/expressions.ts';
import type { Defect } from '../../syntax/defects.ts';
import { type Candidate, CannotChoose, type Space } from '../../trial/candidates.ts';

/** One that passes: more is better in each score. */
export interface Passing {
  readonly index: number;
  readonly scores: readonly number[];
}

/** Candidates one after the other. */
export interface JudgedLot {
  readonly from: number;
  readonly to: number;
  readonly rejected: ReadonlyMap<string, number>;
  readonly passing: readonly Passing[];
}

export function preferencesOf({ shortlist }: Space): readonly Preference[] {
  const preferences = shortlist.prefer.flatMap(({ name }) => preferenceOf(name) ?? []);
  if (preferences.length === 0) throw new CannotChoose('what is preferred is no result that is known');
  return preferences;
}

export function judgeLot(space: Space, from: number, to: number): JudgedLot {
  const preferences = preferencesOf(space);
  const rejected = new Map<string, number>();
  const passing: Passing[] = [];
  for (let index = from; index < to; index++) {
    const outcome = judged(space, index, preferences);
    if (typeof outcome === 'string') rejected.set(outcome, (rejected.get(outcome) ?? 0) + 1);
    else passing.push({ index, scores: outcome });
  }
  return { from, to, rejected, passing };
}

/** What is known of a craft on a pack, whatever its duty limit. */
interface KnownOfCraft {
  readonly craft: LimitedCraft;
  readonly verdicts: Map<Check | Requirement | 'margins', Remembered>;
  /** A check that no duty limit reaches rejects it. */
  out?: string;
}

/** Whether it is an error, and under which duty limits that is so. */
interface Remembered {
  readonly isError: boolean;
  readonly reads: Reads;
}

const known = new WeakMap<object, KnownOfCraft>();

/** As `fettle check` would judge it: rejected with the first error, causes before their consequences. */
function judged(space: Space, index: number, preferences: readonly Preference[]): string | number[] {
  const candidate = space.candidate(index);
  const { craft, option } = candidate;
  const ofCraft: KnownOfCraft = known.get(craft) ?? { craft: new LimitedCraft(craft), verdicts: new Map() };
  known.set(craft, ofCraft);
  if (ofCraft.out !== undefined) return ofCraft.out;
  const under = ofCraft.craft.under(option);
  const reason = isPlainlyJudged(craft.build, under.plain)
    ? firstError(ofCraft, under, candidate)
    : withItsErrors(candidate, under.plain);
  if (reason !== undefined) return reason;
  const scores: number[] = [];
  for (const { name, isMoreBetter } of preferences) {
    const value = under.plain.results.get(name)?.estimate.value;
    if (value === undefined) return `${name} is not computed: ${whyMissing(name, under.plain)}`;
    scores.push(isMoreBetter ? value : -value);
  }
  return scores;
}

/** Whether no rule and no acceptance changes what is an error: then the first one rejects it. */
function isPlainlyJudged(build: Build, plain: Assessment): boolean {
  const { rules, acceptances } = build;
  if (rules.severities.length > 0) return false;
  return !CAUSES_FIRST.some(
    (check) => acceptances.some(({ finding }) => finding === check.id) && isErrorBy(check, build, plain),
  );
}

function firstError(ofCraft: KnownOfCraft, under: UnderLimit, candidate: Candidate): string | undefined {
  const { build } = candidate.craft;
  for (const check of CAUSES_FIRST) {
    if (OF_REQUIREMENTS.has(check.id) || !canBeError(check, build)) continue;
    if (isError(check, (assessment) => isErrorBy(check, build, assessment), ofCraft, under)) return check.id;
  }
  for (const requirement of build.rules.requirements) {
    if (!isAskedOn(requirement, candidate.option)) continue;
    if (fails(requirement, ofCraft, under, candidate)) return requirement.text;
  }
  if (build.rules.margins.length === 0) return undefined;
  const isPast = (assessment: Assessment) =>
    [...keptMargins({ build, option: assessment.option, assessment })].some(({ severity }) => severity === 'error');
  return isError('margins', isPast, ofCraft, under) ? 'requirement-fails' : undefined;
}

function fails(requirement: Requirement, ofCraft: KnownOfCraft, under: UnderLimit, candidate: Candidate): boolean {
  if (![...resultsIn(requirement.condition)].some(({ name }) => name === PACK_GRAMS_LEFT)) {
    const isFailing = (assessment: Assessment) => judge(requirement, assessment).outcome === 'fails';
    return isError(requirement, isFailing, ofCraft, under);
  }
  // Grams are searched for with the whole craft.
  const { build, option } = candidate;
  return (
    verdictOn(requirement, under.plain).outcome === 'fails' &&
    verdictOn(requirement, assess(build, option)).outcome === 'fails'
  );
}

const isCheck = (what: Check | Requirement | 'margins'): what is Check => typeof what === 'object' && 'page' in what;

/** Without any ± first: what is no error then is none with it. */
function isError(
  what: Check | Requirement | 'margins',
  isReached: (assessment: Assessment) => boolean,
  ofCraft: KnownOfCraft,
  under: UnderLimit,
): boolean {
  const before = ofCraft.verdicts.get(what);
  if (before && under.isFreeOf(before.reads)) return before.isError;
  const { outcome, reads } = under.reading(isReached);
  const sure = outcome ? under.reading(() => under.isSure(isReached, reads, isCheck(what))) : undefined;
  const isSure = sure?.outcome ?? false;
  if (sure) reads.reach |= sure.reads.reach;
  if (under.isFreeOf(reads)) {
    ofCraft.verdicts.set(what, { isError: isSure, reads });
    if (isSure && reads.reach === 0 && isCheck(what)) ofCraft.out = what.id;
  }
  return isSure;
}

/** The first error of all findings; undefined where it passes. */
function withItsErrors(candidate: Candidate, plain: Assessment): string | undefined {
  const { build, option } = candidate;
  // An error computed without ± need not be one with it; where there is none without ±, there is none with it.
  if (!CAUSES_FIRST.some((check) => canBeError(check, build) && isErrorBy(check, build, plain))) return undefined;
  const assessment = assess(build, option);
  const [error] = findingsOf(build, assessment)
    .filter(({ severity }) => severity === 'error')
    .sort((a, b) => (ORDER.get(a.id) ?? 0) - (ORDER.get(b.id) ?? 0));
  return error && reasonOf(error, build, assessment);
}

/** Without what is accepted; no note on estimates. */
export function findingsOf(build: Build, assessment: Assessment): Finding[] {
  const defects: Defect[] = [];
  const found = buildFindings(build, [assessment], defects, false);
  if (defects[0]) throw defects[0].error;
  return found.filter(({ accepted }) => accepted === undefined);
}

const ORDER: ReadonlyMap<string, number> = new Map(CAUSES_FIRST.map(({ id }, i) => [id, i]));

const OF_REQUIREMENTS: ReadonlySet<string> = new Set([
  'requirement-fails',
  'overweight',
  'short-flight',
  'weak-in-wind',
]);

/** The check, or the requirement's own words. */
function reasonOf({ id }: Finding, build: Build, assessment: Assessment): string {
  if (!OF_REQUIREMENTS.has(id)) return id;
  const failing = build.rules.requirements.find(
    (one) => isAskedOn(one, assessment.option) && judge(one, assessment).outcome === 'fails',
  );
  return failing?.text ?? id;
}
