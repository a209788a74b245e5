/** The candidates of a shortlist that are worth a look, each compared with today's build. */
import { assess } from '../../analysis/assess.ts';
import type { Assessment } from '../../analysis/assessment.ts';
import { apart, chanceAboveZero, dominates, grouped, isSure, type Preference } from '../../analysis/decide/ranking.ts';
import { type Measurable, measurable, measurableOf } from '../../analysis/uncertainty/estimate.ts';
import type { Use } from '../../model/build.ts';
import { partKey } from '../../model/identities.ts';
import { fittedSlots, piecesOf } from '../../model/slots.ts';
import type { Candidate, Choice, Space } from '../../trial/candidates.ts';
import { withoutTrialMarks } from '../../trial/trial.ts';
import type { ResultId } from '../../vocabulary/results.ts';
import { Field } from './field.ts';
import { findingsOf, type JudgedLot, judgeLot, type Passing, preferencesOf } from './judging.ts';

export interface JudgedResult {
  readonly name: string;
  /** SI. */
  readonly level?: Measurable;
  /** From today's build. */
  readonly difference?: Measurable & { readonly isBeyond: boolean };
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
  /** One per preference. */
  readonly values: readonly JudgedResult[];
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
  readonly today: { readonly pack: string; readonly values: readonly JudgedResult[] };
  readonly preferences: readonly Preference[];
  readonly count: number;
  /** Reasons why candidates were rejected, and how many by each, the commonest first. */
  readonly rejected: readonly { readonly reason: string; readonly count: number }[];
  /** How many pass. */
  readonly passing: number;
  /** The front, or all in order. */
  readonly rows: readonly Row[];
  readonly groups: readonly { readonly group: number; readonly measure?: string }[];
  /** A row that is surely better than today's in every preference. */
  readonly surely?: number;
  /** All that pass, by their values: for a picture. */
  readonly cloud: readonly (readonly number[])[];
  readonly notes: readonly string[];
}

export interface Watching {
  readonly step?: (done: number, of: number) => void;
  readonly isCancelled?: () => boolean;
  /** What passes so far, by values alone. */
  readonly interim?: (sofar: Interim) => void;
  /** Lots judged elsewhere, in the order of the candidates. */
  readonly lots?: AsyncIterable<JudgedLot>;
}

/** A table that is not complete yet: no ±, and later candidates may be better. */
export interface Interim {
  readonly done: number;
  readonly of: number;
  readonly preferences: readonly Preference[];
  readonly rows: () => readonly { readonly label: string; readonly values: readonly number[] }[];
}

export class Cancelled extends Error {}

/** Candidates judged before other work has its turn. */
const LOT_SIZE = 64;
const MOST_INTERIM_ROWS = 10;

/** One lot after the other, in this thread. */
async function* lotsHere(space: Space): AsyncGenerator<JudgedLot> {
  for (let from = 0; from < space.count; from += LOT_SIZE) {
    yield judgeLot(space, from, Math.min(space.count, from + LOT_SIZE));
    await new Promise((resolve) => setTimeout(resolve, 0));
  }
}

export async function choose(space: Space, watching: Watching = {}): Promise<Chosen> {
  const { step, isCancelled, interim, lots = lotsHere(space) } = watching;
  const { today, count } = space;
  const preferences = preferencesOf(space);
  const field = new Field(preferences.length);
  const rows = () => interimRows(space, field, preferences);
  step?.(0, count);
  for await (const lot of lots) {
    field.add(lot);
    step?.(lot.to, count);
    if (isCancelled?.()) throw new Cancelled();
    interim?.({ done: lot.to, of: count, preferences, rows });
  }
  const shown = field.rows();
  const notes = [...space.notes];
  if (shown.length < field.best) notes.push(partWords(field.best, shown.length, preferences.length));
  return {
    ...tableOf(space, shown, preferences),
    passing: field.passing,
    cloud: field.cloud().map((scores) => valuesOf(scores, preferences)),
    rejected: counted(field.rejected),
    notes,
    ...titleOf(space),
    build: today.name,
  };
}

const partWords = (all: number, shown: number, preferences: number): string =>
  preferences > 1
    ? `Of ${all} that no other one beats ${shown} are shown, evenly spread from end to end.`
    : `Of ${all} the first ${shown} are shown.`;

const valuesOf = (scores: readonly number[], preferences: readonly Preference[]): number[] =>
  scores.map((score, i) => (preferences[i]?.isMoreBetter ? score : -score));

const interimRows = (space: Space, field: Field, preferences: readonly Preference[]) =>
  field.rows(MOST_INTERIM_ROWS).map(({ index, scores }) => ({
    label: labelOf(space.candidate(index)),
    values: valuesOf(scores, preferences),
  }));

const labelOf = ({ choices }: Candidate): string => choices.map(({ label }) => label).join(' · ');

const titleOf = ({ shortlist: { name, title } }: Space) => ({
  name: withoutTrialMarks(name),
  ...(title !== undefined && { title }),
});

const counted = (rejected: ReadonlyMap<string, number>) =>
  [...rejected]
    .map(([reason, count]) => ({ reason, count }))
    .sort((a, b) => b.count - a.count || (a.reason < b.reason ? -1 : 1));

// ---- the table ----

function tableOf(space: Space, shown: readonly Passing[], preferences: readonly Preference[]) {
  const { today } = space;
  const [option] = today.packs;
  const now = option && assess(today, option);
  const drafts = shown.map(({ index, scores }) => {
    const candidate = space.candidate(index);
    return { candidate, scores, assessment: assess(candidate.build, candidate.option) };
  });
  const groups = grouped(drafts, ({ assessment }) => assessment, preferences);
  const rows = groups.flatMap(({ members }, g) => members.map((member) => ({ ...member, group: g + 1 })));
  const reported = rows.map(
    ({ candidate, assessment, group }, i): Row => ({
      rank: i + 1,
      choices: candidate.choices,
      label: labelOf(candidate),
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
  return {
    preferences,
    count: space.count,
    today: {
      pack: option?.name ?? '',
      values: preferences.map(({ name }) => judgedAlone(name, now)),
    },
    rows: reported,
    groups: groups.map(({ measure }, g) => ({
      group: g + 1,
      ...(measure !== undefined && { measure: withoutTrialMarks(measure) }),
    })),
    ...(surely && { surely: rows.indexOf(surely) + 1 }),
  };
}

function judgedAlone(name: ResultId, assessment: Assessment | undefined): JudgedResult {
  const level = assessment && measurableOf(name, assessment);
  return { name, ...(level && { level }) };
}

function judgedBy(
  { name, isMoreBetter }: Preference,
  assessment: Assessment,
  now: Assessment | undefined,
): JudgedResult {
  const difference = now && apart(name, assessment, now);
  if (!difference) return judgedAlone(name, assessment);
  const above = chanceAboveZero(difference.estimate);
  return {
    ...judgedAlone(name, assessment),
    difference: {
      ...measurable(difference.estimate),
      isBeyond: isSure(difference),
    },
    chance: isMoreBetter ? above : 1 - above,
  };
}

/** The same parts, joined in the same way, and the same duty limit. */
function isToday({ build, option, choices }: Candidate, { build: today, option: flown }: Assessment): boolean {
  const parts = (slots: readonly Use[]) => slots.map(({ part, count }) => `${count} x ${partKey(part)}`).join(' ');
  const isMade = choices.some(({ axis, written }) => axis !== 'duty' && written === undefined);
  return (
    !isMade &&
    parts(fittedSlots(build)) === parts(fittedSlots(today)) &&
    parts(piecesOf(option)) === parts(piecesOf(flown)) &&
    option.arrangement === flown.arrangement &&
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
