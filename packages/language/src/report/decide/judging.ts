/** Candidates of a shortlist judged as `fettle check` would judge them: which are rejected and why, and the values of those that pass. */
import { assess, assessLimited } from '../../analysis/assess.ts';
import type { Assessment } from '../../analysis/assessment.ts';
import { type Preference, preferenceOf } from '../../analysis/decide/ranking.ts';
import { isAskedOn, judge } from '../../analysis/decide/requirements.ts';
import { whyMissing } from '../../analysis/explain/reasons.ts';
import { type KnownOfParts, possibleErrors } from '../../checks/any-error.ts';
import type { Finding } from '../../checks/finding.ts';
import { CHECKS } from '../../checks/registry.ts';
import { buildFindings } from '../../checks/run.ts';
import { keptMargins } from '../../checks/shared/judged-requirements.ts';
import type { Build } from '../../model/build.ts';
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
  readonly checks: KnownOfParts;
  /** A check of its parts alone that rejects it. */
  out?: string;
}

const known = new WeakMap<object, KnownOfCraft>();

/** As `fettle check` would judge it: rejected with the first error, in the order of the checks. */
function judged(space: Space, index: number, preferences: readonly Preference[]): string | number[] {
  const candidate = space.candidate(index);
  const { craft, option } = candidate;
  const ofCraft: KnownOfCraft = known.get(craft) ?? { checks: new Map() };
  known.set(craft, ofCraft);
  if (ofCraft.out !== undefined) return ofCraft.out;
  const plain = assessLimited(craft, option);
  // An error computed without ± need not be one with it; where there is none without ±, there is none with it.
  const possible = possibleErrors(craft.build, plain, ofCraft.checks);
  if (possible.length > 0) {
    const failing = asRequired(candidate, possible, plain) ?? withItsErrors(candidate, plain);
    if (failing.reason !== undefined) {
      if (failing.isOfParts) ofCraft.out = failing.reason;
      return failing.reason;
    }
  }
  const scores = preferences.map(({ name, isMoreBetter }) => {
    const value = plain.results.get(name)?.estimate.value;
    return value === undefined ? undefined : isMoreBetter ? value : -value;
  });
  const missing = scores.indexOf(undefined);
  if (missing >= 0) {
    const name = preferences[missing]?.name ?? '';
    return `${name} is not computed: ${whyMissing(name, plain)}`;
  }
  return scores.filter((score) => score !== undefined);
}

/** Without a `reason` it passes. */
interface Failing {
  readonly reason?: string;
  readonly isOfParts?: boolean;
}

function withItsErrors(candidate: Candidate, plain: Assessment): Failing {
  const { build, option } = candidate;
  const [certain] = errorsOf(build, { ...plain, build });
  if (!certain) return {};
  // Whether parts fit together needs no ±.
  if (OF_PARTS.has(certain.id)) return { reason: certain.id, isOfParts: true };
  const assessment = assess(build, option);
  const [error] = errorsOf(build, assessment);
  return error ? { reason: reasonOf(error, build, assessment) } : {};
}

/** Where only a requirement may fail, by the ± of that result alone. Undefined where more results are needed. */
function asRequired({ craft, option }: Candidate, possible: readonly string[], plain: Assessment): Failing | undefined {
  const { rules, acceptances } = craft.build;
  const isRuled = [...rules.severities, ...acceptances].some(({ finding }) => OF_REQUIREMENTS.has(finding));
  if (isRuled || possible.some((id) => !OF_REQUIREMENTS.has(id))) return undefined;
  for (const { severity } of keptMargins({ build: craft.build, option, assessment: plain }))
    if (severity === 'error') return undefined;
  const required = rules.requirements.filter((one) => isAskedOn(one, option));
  const failing = required.filter((one) => judge(one, plain).outcome === 'fails');
  const only = new Set(failing.flatMap(({ condition }) => [...resultsIn(condition)].map(({ name }) => name)));
  if ([...only].some((name) => SEARCHED.has(name))) return undefined;
  const sure = assessLimited(craft, option, only);
  const first = failing.find((one) => judge(one, sure).outcome === 'fails');
  return first ? { reason: first.text } : {};
}

/** Results that are derived or searched for, not read from a solved point. */
const SEARCHED: ReadonlySet<string> = new Set(['gram_cost_time', 'pack_grams_left']);

/** Without what is accepted; no note on estimates. */
export function findingsOf(build: Build, assessment: Assessment): Finding[] {
  const defects: Defect[] = [];
  const found = buildFindings(build, [assessment], defects, false);
  if (defects[0]) throw defects[0].error;
  return found.filter(({ accepted }) => accepted === undefined);
}

/** Checks of the parts as such: no pack and no ± of a result changes them. */
const OF_PARTS: ReadonlySet<string> = new Set(
  CHECKS.flatMap(({ id, option, build }) => (build && !option ? [id] : [])),
);

/** Those of parts first, then as they are registered. */
const ORDER: ReadonlyMap<string, number> = new Map(
  CHECKS.map(({ id }, i) => [id, OF_PARTS.has(id) ? i : CHECKS.length + i]),
);

const errorsOf = (build: Build, assessment: Assessment): Finding[] =>
  findingsOf(build, assessment)
    .filter(({ severity }) => severity === 'error')
    .sort((a, b) => (ORDER.get(a.id) ?? 0) - (ORDER.get(b.id) ?? 0));

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
