/** Every candidate of a shortlist judged by all checks, and those that are worth a look. */
import { assess, assessLimited } from '../../analysis/assess.ts';
import type { Assessment } from '../../analysis/assessment.ts';
import {
  apart,
  chanceAboveZero,
  dominates,
  front,
  grouped,
  isSure,
  type Preference,
  preferenceOf,
} from '../../analysis/decide/ranking.ts';
import { isAskedOn, judge } from '../../analysis/decide/requirements.ts';
import { whyMissing } from '../../analysis/explain/reasons.ts';
import { learnsAs } from '../../analysis/learn/learn.ts';
import { expanded } from '../../analysis/uncertainty/estimate.ts';
import { type KnownOfParts, mayHaveErrors } from '../../checks/any-error.ts';
import type { Finding } from '../../checks/finding.ts';
import { CHECKS } from '../../checks/registry.ts';
import { buildFindings } from '../../checks/run.ts';
import type { Build } from '../../model/build.ts';
import type { Defect } from '../../syntax/defects.ts';
import { type Candidate, CannotChoose, type Choice, type Space } from '../../trial/candidates.ts';
import { asRead } from '../../trial/trial.ts';

interface Value {
  /** SI. */
  readonly value: number;
  /** k = 2, SI. */
  readonly plusMinus: number;
}

export interface Judged {
  readonly name: string;
  readonly level?: Value;
  /** From today's build. */
  readonly difference?: Value & { readonly isBeyond: boolean };
  /** That it is better than today's, 0 … 1. */
  readonly chance?: number;
}

export interface Row {
  /** From 1, in the order of the table. */
  readonly rank: number;
  readonly choices: readonly Choice[];
  readonly label: string;
  readonly pack: string;
  readonly isToday: boolean;
  /** One a preference. */
  readonly values: readonly Judged[];
  /** Ids of checks that warn. */
  readonly warnings: readonly string[];
  /** From 1: rows of one group cannot be distinguished. */
  readonly group: number;
  readonly candidate: Candidate;
}

export interface Chosen {
  readonly name: string;
  readonly title?: string;
  readonly build: string;
  readonly today: { readonly pack: string; readonly values: readonly Judged[] };
  readonly preferences: readonly Preference[];
  readonly count: number;
  /** Reasons why candidates fell, and how many by each, the commonest first. */
  readonly fallen: readonly { readonly reason: string; readonly count: number }[];
  /** How many stand. */
  readonly standing: number;
  /** The front, or all in order. */
  readonly rows: readonly Row[];
  readonly groups: readonly { readonly group: number; readonly measure?: string }[];
  /** A row that is better than today's in every preference, for sure. */
  readonly surely?: number;
  /** All that stand, by their values: for a picture. */
  readonly cloud: readonly (readonly number[])[];
  readonly notes: readonly string[];
}

export interface Watching {
  readonly step?: (done: number, of: number) => void;
  readonly isCancelled?: () => boolean;
}

export class Cancelled extends Error {}

/** Others wait no longer than this. */
const BREATH = 64;
/** Points of a picture. */
const MOST_POINTS = 2000;
/** Rows that get their ±. Nobody reads more. */
const MOST_ROWS = 40;

interface Standing {
  readonly index: number;
  readonly scores: readonly number[];
}

export async function choose(space: Space, { step, isCancelled }: Watching = {}): Promise<Chosen> {
  const { shortlist, today } = space;
  const preferences = shortlist.prefer.flatMap(({ name }) => preferenceOf(name) ?? []);
  if (preferences.length === 0) throw new CannotChoose('what is preferred is no result that is known');
  const fallen = new Map<string, number>();
  const standing: Standing[] = [];
  for (let index = 0; index < space.count; index++) {
    if (index % BREATH === 0) {
      step?.(index, space.count);
      await new Promise((resolve) => setTimeout(resolve, 0));
      if (isCancelled?.()) throw new Cancelled();
    }
    const outcome = judged(space, index, preferences);
    if (typeof outcome === 'string') fallen.set(outcome, (fallen.get(outcome) ?? 0) + 1);
    else standing.push({ index, scores: outcome });
  }
  const best = preferences.length > 1 ? front(standing, ({ scores }) => scores) : standing;
  const ordered = best.toSorted((a, b) => byScore(a, b) || a.index - b.index);
  const shown = ordered.slice(0, MOST_ROWS);
  const notes = [...space.notes];
  if (shown.length < ordered.length) notes.push(`Of ${ordered.length} the first ${shown.length} are shown.`);
  return {
    ...tableOf(space, shown, preferences, standing),
    fallen: counted(fallen),
    notes,
    ...titleOf(space),
    build: today.name,
  };
}

const titleOf = ({ shortlist: { name, title } }: Space) => ({
  name: asRead(name),
  ...(title !== undefined && { title }),
});

const byScore = (a: Standing, b: Standing): number => (b.scores[0] ?? 0) - (a.scores[0] ?? 0);

const counted = (fallen: ReadonlyMap<string, number>) =>
  [...fallen]
    .map(([reason, count]) => ({ reason, count }))
    .sort((a, b) => b.count - a.count || (a.reason < b.reason ? -1 : 1));

const ofParts = new WeakMap<object, KnownOfParts>();

/** As `fettle check` would judge it: out with the first error, in the order of the checks. */
function judged(space: Space, index: number, preferences: readonly Preference[]): string | number[] {
  const candidate = candidateAt(space, index);
  const { build, option } = candidate;
  const plain = assessLimited(build, option, candidate.craft);
  // An error without any ± is none yet; what is none without it is none with it.
  const known = ofParts.get(candidate.craft) ?? new Map();
  ofParts.set(candidate.craft, known);
  const [certain, ...others] = mayHaveErrors(build, plain, known) ? errorsOf(build, plain) : [];
  // What fits together and what does not needs no ±.
  if (certain && OF_PARTS.has(certain.id)) return certain.id;
  if (certain || others.length > 0) {
    const assessment = assess(build, option);
    const [error] = errorsOf(build, assessment);
    if (error) return reasonOf(error, build, assessment);
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

function candidateAt(space: Space, index: number): Candidate {
  const candidate = space.candidate(index);
  const { requirements } = space.shortlist;
  if (requirements.length === 0) return candidate;
  const { rules } = candidate.build;
  const build = { ...candidate.build, rules: { ...rules, requirements: [...rules.requirements, ...requirements] } };
  learnsAs(build, candidate.build);
  return { ...candidate, build };
}

function findingsOf(build: Build, assessment: Assessment): Finding[] {
  const defects: Defect[] = [];
  const found = buildFindings(build, [assessment], defects);
  if (defects[0]) throw defects[0].error;
  return found.filter(({ accepted }) => accepted === undefined);
}

/** Checks of the parts as such: no pack and no ± of a result changes what they say. */
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

// ---- the table ----

function tableOf(
  space: Space,
  shown: readonly Standing[],
  preferences: readonly Preference[],
  standing: readonly Standing[],
) {
  const { today } = space;
  const [option] = today.packs;
  const now = option && assess(today, option);
  const drafts = shown.map(({ index, scores }) => {
    const candidate = candidateAt(space, index);
    return { candidate, scores, assessment: assess(candidate.build, candidate.option) };
  });
  const groups = grouped(drafts, ({ assessment }) => assessment, preferences);
  const rows = groups.flatMap(({ members }, g) => members.map((member) => ({ ...member, group: g + 1 })));
  const reported = rows.map(
    ({ candidate, assessment, group }, i): Row => ({
      rank: i + 1,
      choices: candidate.choices,
      label: candidate.choices.map(({ label }) => label).join(' · '),
      pack: candidate.option.part.name,
      isToday: now !== undefined && isToday(candidate, now),
      values: preferences.map((preference) => judgedBy(preference, assessment, now)),
      warnings: [
        ...new Set(
          findingsOf(candidate.build, assessment).flatMap(({ id, severity }) => (severity === 'warning' ? [id] : [])),
        ),
      ],
      group,
      candidate,
    }),
  );
  const surely = now && rows.find(({ assessment }) => isSurelyBetter(assessment, now, preferences));
  const stride = Math.max(1, Math.ceil(standing.length / MOST_POINTS));
  return {
    preferences,
    count: space.count,
    standing: standing.length,
    today: {
      pack: option?.name ?? '',
      values: preferences.map(({ name }): Judged => ({ name, ...levelOf(name, now) })),
    },
    rows: reported,
    groups: groups.map(({ measure }, g) => ({
      group: g + 1,
      ...(measure !== undefined && { measure: asRead(measure) }),
    })),
    ...(surely && { surely: rows.indexOf(surely) + 1 }),
    cloud: standing
      .filter((_, i) => i % stride === 0)
      .map(({ scores }) => scores.map((score, i) => (preferences[i]?.isMoreBetter ? score : -score))),
  };
}

function levelOf(name: string, assessment: Assessment | undefined): { level?: Value } {
  const estimate = assessment?.results.get(name)?.estimate;
  return estimate ? { level: { value: estimate.value, plusMinus: expanded(estimate) } } : {};
}

function judgedBy({ name, isMoreBetter }: Preference, assessment: Assessment, now: Assessment | undefined): Judged {
  const difference = now && apart(name, assessment, now);
  if (!difference) return { name, ...levelOf(name, assessment) };
  const above = chanceAboveZero(difference.estimate);
  return {
    name,
    ...levelOf(name, assessment),
    difference: {
      value: difference.estimate.value,
      plusMinus: expanded(difference.estimate),
      isBeyond: isSure(difference),
    },
    chance: isMoreBetter ? above : 1 - above,
  };
}

/** The same parts, and the same duty limit. */
function isToday({ build, option }: Candidate, { build: today, option: flown }: Assessment): boolean {
  const parts = (of: Build) => [
    of.airframe?.part,
    ...of.rotors.flatMap(({ motor, propeller }) => [motor, propeller]),
    ...of.escs.map(({ part }) => part),
  ];
  const names = (of: Build) =>
    parts(of)
      .map((part) => part?.name)
      .join(' ');
  return (
    names(build) === names(today) &&
    option.part.name === flown.part.name &&
    option.count === flown.count &&
    option.dutyLimit.value === flown.dutyLimit.value
  );
}

function isSurelyBetter(of: Assessment, now: Assessment, preferences: readonly Preference[]): boolean {
  const differences = preferences.map((preference) => ({ preference, difference: apart(preference.name, of, now) }));
  const scores = differences.map(({ preference, difference }) => {
    if (!difference || !isSure(difference)) return 0;
    return difference.estimate.value * (preference.isMoreBetter ? 1 : -1);
  });
  return (
    dominates(
      scores,
      scores.map(() => 0),
    ) && differences.every(({ difference }) => difference && isSure(difference))
  );
}
