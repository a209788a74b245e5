/** Candidates of a shortlist judged as `fettle check` would judge them: which are rejected and why, and the values of those that pass. */
import { assess } from '../../analysis/assess.ts';
import type { Assessment } from '../../analysis/assessment.ts';
import { PACK_GRAMS_LEFT, verdictOn } from '../../analysis/decide/pack-grams.ts';
import { type Preference, preferenceOf } from '../../analysis/decide/ranking.ts';
import { isAskedOn, judge } from '../../analysis/decide/requirements.ts';
import { whyMissing } from '../../analysis/explain/reasons.ts';
import type { BuildOnPack } from '../../analysis/limited-craft.ts';
import { CAUSES_FIRST, canBeError, isErrorBy } from '../../checks/any-error.ts';
import type { Finding } from '../../checks/finding.ts';
import { buildFindings } from '../../checks/run.ts';
import { keptMargins } from '../../checks/shared/judged-requirements.ts';
import type { Build, Requirement } from '../../model/build.ts';
import { resultsIn } from '../../model/expressions.ts';
import type { Defect } from '../../syntax/defects.ts';
import { CannotChoose, type Space } from '../../trial/candidates.ts';
import { Verdicts } from './verdicts.ts';

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

/** @param isShort false: each candidate for itself, as a test compares it */
export function judgeLot(space: Space, from: number, to: number, isShort = true): JudgedLot {
  const preferences = preferencesOf(space);
  const limits = space.limits.length > 0 ? space.limits : [undefined];
  const rejected = new Map<string, number>();
  const passing: Passing[] = [];
  for (let index = from; index < to; ) {
    const { craft } = space.candidate(index);
    const verdicts = verdictsOn(craft, space, isShort);
    // Its duty limits come one after the other.
    const end = Math.min(to, index - (index % limits.length) + limits.length);
    for (; index < end; index++) {
      const limit = limits[index % limits.length] ?? craft.option.dutyLimit.value;
      const outcome = judged({ space, index, craft, verdicts, limit }, preferences);
      if (typeof outcome === 'string') rejected.set(outcome, (rejected.get(outcome) ?? 0) + 1);
      else passing.push({ index, scores: outcome });
    }
  }
  return { from, to, rejected, passing };
}

interface Judging {
  readonly space: Space;
  readonly index: number;
  readonly craft: BuildOnPack;
  readonly verdicts: Verdicts;
  readonly limit: number;
}

/** Of the craft that a space made last: a lot may end amid its duty limits. */
const latest = new WeakMap<Space, { readonly craft: BuildOnPack; readonly verdicts: Verdicts }>();

function verdictsOn(craft: BuildOnPack, space: Space, isShort: boolean): Verdicts {
  if (!isShort) return new Verdicts(craft, space.limits, isShort);
  const known = latest.get(space);
  if (known?.craft === craft) return known.verdicts;
  const verdicts = new Verdicts(craft, space.limits);
  latest.set(space, { craft, verdicts });
  return verdicts;
}

/** As `fettle check` would judge it: rejected with the first error, causes before their consequences. */
function judged(judging: Judging, preferences: readonly Preference[]): string | number[] {
  const { verdicts, limit } = judging;
  const reason = isPlainlyJudged(judging) ? firstError(judging) : withItsErrors(judging);
  if (reason !== undefined) return reason;
  const { plain } = verdicts.under(limit);
  const open = unjudged(judging.space, plain);
  if (open !== undefined) return open;
  const scores: number[] = [];
  for (const { name, isMoreBetter } of preferences) {
    const value = plain.results.get(name)?.estimate.value;
    if (value === undefined) return `${name} is not computed: ${whyMissing(name, plain)}`;
    scores.push(isMoreBetter ? value : -value);
  }
  return scores;
}

/** What the shortlist itself requires, and cannot be judged: a price without all its prices. Such a candidate is none. */
function unjudged({ shortlist }: Space, plain: Assessment): string | undefined {
  for (const requirement of shortlist.requirements) {
    if (!isAskedOn(requirement, plain.option) || isAboutGrams(requirement)) continue;
    const { outcome, missing } = judge(requirement, plain);
    const [first] = missing;
    if (first && outcome !== 'holds') return `${requirement.text} cannot be judged: ${first.reason}`;
  }
  return undefined;
}

/** Whether no rule and no acceptance changes what is an error: then the first one rejects it. */
function isPlainlyJudged({ craft: { build }, verdicts, limit }: Judging): boolean {
  const { rules, acceptances } = build;
  if (rules.severities.length > 0) return false;
  return !acceptances.some(({ finding }) =>
    CAUSES_FIRST.some((check) => check.id === finding && isErrorBy(check, build, verdicts.under(limit).plain)),
  );
}

function firstError({ space, index, craft, verdicts, limit }: Judging): string | undefined {
  const { build, option } = craft;
  for (const check of CAUSES_FIRST) {
    if (OF_REQUIREMENTS.has(check.id) || !canBeError(check, build)) continue;
    const isReached = (assessment: Assessment) => isErrorBy(check, build, assessment);
    if (verdicts.isError(check, isReached, limit, !TURN_OFTEN.has(check.id))) return check.id;
  }
  for (const requirement of build.rules.requirements) {
    if (!isAskedOn(requirement, option)) continue;
    const isFailing = (assessment: Assessment) => judge(requirement, assessment).outcome === 'fails';
    const fails = isAboutGrams(requirement)
      ? failsByGrams(requirement, space, index, verdicts.under(limit).plain)
      : verdicts.isError(requirement, isFailing, limit, turnsOnce(requirement));
    if (fails) return requirement.text;
  }
  if (build.rules.margins.length === 0) return undefined;
  const isPast = (assessment: Assessment) =>
    [...keptMargins({ build, option: assessment.option, assessment })].some(({ severity }) => severity === 'error');
  return verdicts.isError('margins', isPast, limit, true) ? 'requirement-fails' : undefined;
}

/** Over duty limits their verdicts may come and go: a flight that cannot be flown is not too long, and windings settle anew. */
const TURN_OFTEN: ReadonlySet<string> = new Set(['flight-too-long', 'leg-unflyable', 'motor-overheat']);

/** One result compared with a figure: most of them only rise or only fall with the duty limit, or stay as they are. */
function turnsOnce({ condition }: Requirement): boolean {
  if (condition.kind !== 'comparison') return false;
  const { left, right } = condition;
  const result = left.kind === 'result' ? left : right.kind === 'result' ? right : undefined;
  const figure = left === result ? right : left;
  return (
    result !== undefined && figure.kind === 'quantity' && result.of?.of !== 'flight' && !MAY_TURN_OFTEN.has(result.name)
  );
}

/** A lower limit cuts bursts off, so that a flight lasts longer, until it ends earlier. */
const MAY_TURN_OFTEN: ReadonlySet<string> = new Set(['flight_time', 'charge_used', 'gram_cost_time', PACK_GRAMS_LEFT]);

const isAboutGrams = ({ condition }: Requirement): boolean =>
  [...resultsIn(condition)].some(({ name }) => name === PACK_GRAMS_LEFT);

/** Grams are searched for with the whole craft. */
function failsByGrams(requirement: Requirement, space: Space, index: number, plain: Assessment): boolean {
  if (verdictOn(requirement, plain).outcome !== 'fails') return false;
  const { build, option } = space.candidate(index);
  return verdictOn(requirement, assess(build, option)).outcome === 'fails';
}

/** The first error of all findings; undefined where it passes. */
function withItsErrors({ space, index, craft, verdicts, limit }: Judging): string | undefined {
  const { plain } = verdicts.under(limit);
  // An error computed without ± need not be one with it; where there is none without ±, there is none with it.
  if (!CAUSES_FIRST.some((check) => canBeError(check, craft.build) && isErrorBy(check, craft.build, plain)))
    return undefined;
  const { build, option } = space.candidate(index);
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
