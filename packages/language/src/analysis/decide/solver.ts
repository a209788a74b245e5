/**
 * How far a knob can be changed until a requirement fails: the largest payload, the smallest pack for eight minutes. The search looks on a
 * grid first, so that a requirement which holds only between two values is found too, and then between two values of the grid.
 */
import type { Build, Requirement } from '../../model/build.ts';
import { assessShifted, assessShiftedPlainly } from '../assess.ts';
import type { Assessment, Estimate } from '../assessment.ts';
import { exact, scale, subtract } from '../uncertainty/estimate.ts';
import { bisect } from './bisect.ts';
import type { Knob } from './knobs.ts';
import { type ConditionVerdict, judge } from './requirements.ts';

export type Direction = 'most' | 'least';

export type Solved =
  /** `stop`: what fails beyond; the ± is that of its crossing. */
  | { readonly value: Estimate; readonly stop: Requirement; readonly at: Assessment }
  /** It holds as far as was looked. */
  | { readonly unlimited: number; readonly at: Assessment }
  /** It holds nowhere; what fails nearest to holding. */
  | { readonly never: Requirement; readonly words: string };

/** Values tried over the whole range. */
const GRID = 48;

/** Halvings between two values of the grid: to 1e-6 of the distance. */
const HALVINGS = 20;

/** @param requirements that must all hold, judged by their values without ± */
export function solve(
  build: Build,
  knob: Knob,
  direction: Direction,
  requirements: readonly Requirement[],
): Solved | undefined {
  const tried = new Map<number, Assessment>();
  const at = (value: number): Assessment => {
    const known = tried.get(value) ?? assessShiftedPlainly(build, knob.at(value));
    tried.set(value, known);
    return known;
  };
  const failing = (value: number): Requirement | undefined =>
    requirements.find((requirement) => judge(requirement, at(value)).leaning !== 'holds');
  const sure = (value: number): Assessment => assessShifted(build, knob.at(value));

  const grid = gridOf(knob, direction);
  const found = grid.findIndex((value) => failing(value) === undefined);
  if (found < 0) return neverHolds(grid, failing, at);
  const [inside = knob.now, outside] = [grid[found], grid[found - 1]];
  if (outside === undefined) return { unlimited: inside, at: sure(inside) };
  if (knob.isWhole) {
    const next = failing(outside);
    return next && { value: exact(inside), stop: next, at: sure(inside) };
  }
  const [holds, fails] = bisect(inside, outside, (value) => failing(value) === undefined, HALVINGS);
  const stop = failing(fails);
  if (!stop) return undefined;
  const assessment = sure(holds);
  const crossing = crossingBetween(stop, { from: holds, to: fails, at, sure: assessment });
  return { value: crossing ?? exact(holds), stop, at: assessment };
}

/** Whether any of the requirements reads what the knob changes: from one end of its range to the other they compare the same numbers. */
export function isDecisive(build: Build, knob: Knob, requirements: readonly Requirement[]): boolean {
  const [one, other] = endsOf(knob).map((value) => {
    const assessment = assessShiftedPlainly(build, knob.at(value));
    return requirements.map((requirement) => {
      const { leaning, comparisons } = judge(requirement, assessment);
      return `${leaning} ${comparisons.map(({ difference }) => difference.value.toPrecision(9)).join(' ')}`;
    });
  });
  return one?.join('\n') !== other?.join('\n');
}

/** The least and the greatest value that can be tried. */
const endsOf = ({ range: [low, high], isWhole }: Knob): readonly [number, number] =>
  isWhole ? [Math.ceil(low), Math.floor(high)] : [low, high];

/** From the end that is wanted towards the other; today's value among them. */
function gridOf(knob: Knob, direction: Direction): number[] {
  const { now, step, isWhole } = knob;
  const [low, high] = endsOf(knob);
  if (isWhole) {
    const counts = Array.from({ length: high - low + 1 }, (_, i) => low + i);
    return direction === 'most' ? counts.reverse() : counts;
  }
  const least = Math.max(low, Math.min(Math.abs(step) / 100, (high - low) / 1e4));
  const values = Array.from({ length: GRID + 1 }, (_, i) =>
    low > 0 || least > 0 ? least * (high / least) ** (i / GRID) : low + ((high - low) * i) / GRID,
  );
  const all = [...new Set([low, ...values, high, ...(now >= low && now <= high ? [now] : [])])].sort((a, b) => a - b);
  return direction === 'most' ? all.reverse() : all;
}

export interface Bracket {
  readonly from: number;
  readonly to: number;
  /** Without ±. */
  readonly at: (value: number) => Assessment;
  /** With ±, at `from`. */
  readonly sure: Assessment;
}

/**
 * Where the deciding comparison crosses zero on the straight line between two close values, with its ± there: a small error of
 * the difference moves the crossing by that error over the slope.
 */
export function crossingBetween(requirement: Requirement, { from, to, at, sure }: Bracket): Estimate | undefined {
  const [before, after] = [from, to].map((value) => differencesOf(requirement, at(value)));
  const turning = before?.findIndex((difference, i) => difference.value >= 0 !== (after?.[i]?.value ?? 0) >= 0) ?? -1;
  const [one, other] = [before?.[turning], after?.[turning]];
  if (turning >= 0 && one && other && before?.length === after?.length) {
    const difference = differencesOf(requirement, sure)[turning];
    return difference && crossing(from, to, one, other, difference);
  }
  // A result it requires ceases to exist: the craft no longer lifts itself.
  const [lifts, sinks] = [from, to].map((value) => thrustToWeight(at(value)));
  const margin = thrustToWeight(sure);
  if (!lifts || !sinks || !margin) return undefined;
  return { ...crossing(from, to, lifts, sinks, margin), value: from };
}

const differencesOf = (requirement: Requirement, assessment: Assessment): Estimate[] =>
  judge(requirement, assessment).comparisons.map(({ difference }) => difference);

const thrustToWeight = ({ results }: Assessment): Estimate | undefined => results.get('thrust_to_weight')?.estimate;

function crossing(from: number, to: number, one: Estimate, other: Estimate, difference: Estimate): Estimate {
  const slope = subtract(other, one).value / (to - from);
  return { ...scale(difference, -1 / slope), value: from - one.value / slope };
}

/** What fails where it comes nearest to holding. */
function neverHolds(
  grid: readonly number[],
  failing: (value: number) => Requirement | undefined,
  at: (value: number) => Assessment,
): Solved | undefined {
  const shortfall = (verdict: ConditionVerdict): number =>
    Math.max(
      0,
      ...verdict.comparisons
        .filter(({ outcome }) => outcome !== 'holds')
        .map(({ difference, right }) => Math.abs(difference.value / (right.value || 1))),
    );
  const tried = grid.flatMap((value) => {
    const requirement = failing(value);
    if (!requirement) return [];
    const verdict = judge(requirement, at(value));
    return [
      { requirement, verdict, miss: verdict.comparisons.length === 0 ? Number.POSITIVE_INFINITY : shortfall(verdict) },
    ];
  });
  const nearest = tried.sort((a, b) => a.miss - b.miss)[0];
  if (!nearest) return undefined;
  const { requirement, verdict } = nearest;
  const [missing] = verdict.missing;
  const words = missing
    ? `${missing.name} does not exist: ${missing.reason}`
    : verdict.comparisons.map((one) => one.words).join('; ');
  return { never: requirement, words };
}
