/** Which candidates are worth a look: the order by one preference, the front of several, and which of them the figures can distinguish. */
import type { Figure } from '../../model/build.ts';
import { type ResultId, resultOf } from '../../vocabulary/results.ts';
import type { Assessment, Estimate } from '../assessment.ts';
import { expanded, standardUncertainty } from '../uncertainty/estimate.ts';
import { worthMeasuring } from '../uncertainty/sensitivity.ts';

export interface Preference {
  readonly name: ResultId;
  readonly label: string;
  readonly unit: string;
  /** Whether more of it is better. */
  readonly isMoreBetter: boolean;
}

export function preferenceOf(name: string): Preference | undefined {
  const described = resultOf(name);
  if (!described) return undefined;
  const { name: known, label, unit, better } = described;
  return { name: known, label, unit, isMoreBetter: better === 'more' };
}

/** `scores`: more is better in each. Those to which no other is at least as good in all and better in one; in their order. */
export function front<T>(items: readonly T[], scoresOf: (item: T) => readonly number[]): T[] {
  const scored = items.map((item, index) => ({ item, index, scores: scoresOf(item) }));
  // In the order of the first score what comes later is never better than what is kept in all of them.
  const ordered = [...scored].sort((a, b) => byScores(b.scores, a.scores) || a.index - b.index);
  const kept: typeof scored = [];
  for (const one of ordered) if (!kept.some(({ scores }) => dominates(scores, one.scores))) kept.push(one);
  return kept.sort((a, b) => a.index - b.index).map(({ item }) => item);
}

function byScores(a: readonly number[], b: readonly number[]): number {
  for (const [i, score] of a.entries()) if (score !== b[i]) return score - (b[i] ?? 0);
  return 0;
}

export const dominates = (a: readonly number[], b: readonly number[]): boolean =>
  a.every((score, i) => score >= (b[i] ?? 0)) && a.some((score, i) => score > (b[i] ?? 0));

/** How two assessments differ in a result, with the figures that the ± is made of. */
export interface Apart {
  readonly estimate: Estimate;
  readonly inputs: readonly Figure[];
}

export function apart(name: ResultId, of: Assessment, from: Assessment): Apart | undefined {
  const [one, other] = [of, from].map(({ results }) => results.get(name)?.estimate);
  if (!one || !other) return undefined;
  const shares = new Map<string, { figure: Figure; share: number }>();
  const collect = ({ inputs }: Assessment, { contributions }: Estimate, sign: number) => {
    for (const [i, figure] of inputs.entries()) {
      const share = (shares.get(figure.id)?.share ?? 0) + sign * (contributions[i] ?? 0);
      shares.set(figure.id, { figure, share });
    }
  };
  collect(of, one, 1);
  collect(from, other, -1);
  const all = [...shares.values()];
  return {
    estimate: { value: one.value - other.value, contributions: Float64Array.from(all, ({ share }) => share) },
    inputs: all.map(({ figure }) => figure),
  };
}

/** Relative to nothing: below this a difference is rounding. */
const ROUNDING = 1e-12;

/** That a normal variable of that mean and standard uncertainty is above zero, 0 … 1 (JCGM 101:2008, 5.11). */
export function chanceAboveZero(estimate: Estimate): number {
  const deviation = standardUncertainty(estimate);
  if (deviation <= ROUNDING * Math.abs(estimate.value) || deviation === 0)
    return estimate.value > 0 ? 1 : estimate.value < 0 ? 0 : 0.5;
  return normalDistribution(estimate.value / deviation);
}

/** Complementary error function by a rational approximation with |error| < 1.5e-7 (Abramowitz and Stegun, 7.1.26). */
function normalDistribution(z: number): number {
  const x = Math.abs(z) / Math.SQRT2;
  const t = 1 / (1 + 0.3275911 * x);
  const polynomial = t * (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))));
  const tail = 0.5 * polynomial * Math.exp(-x * x);
  return z >= 0 ? 1 - tail : tail;
}

/** Whether a difference is more than its own ± explains. */
export const isSure = ({ estimate }: Apart): boolean =>
  Math.abs(estimate.value) > expanded(estimate) + ROUNDING * Math.abs(estimate.value);

export interface Group<T> {
  readonly members: readonly T[];
  /** The measurement that would narrow the difference within it most. */
  readonly measure?: string;
}

/** In their order: one is in a group with those before it while no preference surely distinguishes it from the first of them. */
export function grouped<T>(
  items: readonly T[],
  assessmentOf: (item: T) => Assessment,
  preferences: readonly Preference[],
): Group<T>[] {
  const groups: { members: T[] }[] = [];
  for (const item of items) {
    const group = groups.at(-1);
    const first = group?.members[0];
    const isReported =
      first === undefined ||
      preferences.some(({ name }) => {
        const difference = apart(name, assessmentOf(item), assessmentOf(first));
        return difference !== undefined && isSure(difference);
      });
    if (isReported || !group) groups.push({ members: [item] });
    else group.members.push(item);
  }
  return groups.map(({ members }) => {
    const [first, second] = members;
    const [preference] = preferences;
    const difference =
      first !== undefined && second !== undefined && preference
        ? apart(preference.name, assessmentOf(second), assessmentOf(first))
        : undefined;
    const measure = difference && worthMeasuring(difference.estimate, difference.inputs)?.how;
    return { members, ...(measure !== undefined && { measure }) };
  });
}
