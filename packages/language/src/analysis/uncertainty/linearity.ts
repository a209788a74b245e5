/**
 * Where a ± that was propagated along a straight line may be trusted. What is positive is taken as log-normal where it is known badly: it is
 * its logarithm that should be straight. The result is computed anew with all inputs moved together, as
 * far as the ± reaches and in the direction in which it moves most: both ends should lie where the straight line puts them.
 *
 * For a quantity that bends by q·t² + c·t³ in addition to its slope u·t (t in standard deviations of the inputs) the true standard deviation
 * is √(u² + 2q² + 6uc + 15c²) and the mean moves by q (JCGM 101 would find both): within 5 % while q < 0.22·u and c < 0.016·u.
 */

import { COVERAGE } from '../../units/interval.ts';
import type { ResultId } from '../../vocabulary/results.ts';
import { templateOf } from '../assess.ts';
import type { Assessment } from '../assessment.ts';
import { type Evaluation, evaluate } from '../evaluate/evaluation.ts';
import { deviationsOf } from '../learn/narrowing.ts';
import { resultMeasures } from '../results/all-results.ts';
import type { Measure } from '../results/reading.ts';
import type { Setup } from '../setup/setup.ts';
import { fill, withDeviations } from '../setup/template.ts';
import { standardUncertainty } from './estimate.ts';

export interface Ends {
  /** The result with all inputs moved two standard deviations against, and along, the way that raises it, SI. */
  readonly low: number;
  readonly high: number;
  /** Both lie at value ± expanded, near enough; of what is positive, in logarithms. */
  readonly straight: boolean;
}

/** As shares of the standard uncertainty. */
const MOST_BEND = 0.22;
const MOST_TWIST = 0.016;

/** Inputs that are also moved one by one: what bends across the direction of all together. */
const MOVED_ALONE = 6;

/** Undefined where a result does not exist, is exact, or ceases to exist before an end. */
export function endsOf(name: ResultId, assessment: Assessment): Ends | undefined {
  const estimate = assessment.results.get(name)?.estimate;
  const spread = estimate && standardUncertainty(estimate);
  if (!estimate || !spread) return undefined;
  const { contributions } = estimate;
  const read = resultMeasures(assessment.build).find((one) => one.name === name);
  if (!read) return undefined;
  const isPositive = estimate.value > 0;
  const onScale = (found: number | undefined) => (found !== undefined && isPositive ? Math.log(found) : found);
  const measure: Measure = { ...read, of: (evaluation) => onScale(read.of(evaluation)) };
  const [value, u] = isPositive ? [Math.log(estimate.value), spread / estimate.value] : [estimate.value, spread];
  const offScale = (found: number) => (isPositive ? Math.exp(found) : found);
  const { at, alone: atAlone } = deviatingOf(assessment);

  const whole = along(measure, value, (far) => at(contributions.map((share) => (far * share) / spread)));
  if (!whole) return undefined;
  const order = [...contributions.keys()].sort(
    (a, b) => Math.abs(contributions[b] ?? 0) - Math.abs(contributions[a] ?? 0),
  );
  const alone = order.slice(0, MOVED_ALONE).map((moved) => along(measure, value, (far) => atAlone(moved, far)));
  if (alone.some((one) => one === undefined))
    return { low: offScale(whole.low), high: offScale(whole.high), straight: false };

  const bends = alone.map((one) => (one?.bend ?? 0) / u);
  const twists = alone.map((one) => ((one?.slope ?? 0) * (one?.twist ?? 0)) / u ** 2);
  const bend = Math.max(Math.abs(whole.bend) / u, Math.hypot(...bends));
  const twist = Math.max(
    Math.abs(whole.slope * whole.twist) / u ** 2,
    Math.abs(twists.reduce((sum, one) => sum + one, 0)),
  );
  return { low: offScale(whole.low), high: offScale(whole.high), straight: bend <= MOST_BEND && twist <= MOST_TWIST };
}

/** A result at both ends of one direction in the inputs, and the three coefficients of its shape there. */
interface Shape {
  readonly low: number;
  readonly high: number;
  readonly slope: number;
  readonly bend: number;
  readonly twist: number;
}

/** @param at the craft so many standard deviations along one direction in the inputs */
function along({ of }: Measure, value: number, at: (far: number) => Evaluation): Shape | undefined {
  const valueAt = (far: number): number | undefined => {
    const found = of(at(far));
    return found !== undefined && Number.isFinite(found) ? found : undefined;
  };
  const [low, high] = [valueAt(-COVERAGE), valueAt(COVERAGE)];
  const [below, above] = [valueAt(-NEAR), valueAt(NEAR)];
  if (low === undefined || high === undefined || below === undefined || above === undefined) return undefined;
  const slope = (above - below) / (2 * NEAR);
  return {
    low,
    high,
    slope,
    bend: (high + low - 2 * value) / (2 * COVERAGE ** 2),
    twist: ((high - low) / (2 * COVERAGE) - slope) / COVERAGE ** 2,
  };
}

/** Standard deviations within which every curve is straight. */
const NEAR = 0.01;

/** A craft with its inputs off by so many of their standard deviations. */
interface Deviating {
  at(deviations: Float64Array): Evaluation;
  /** One input alone: tried once for all results. */
  alone(input: number, deviation: number): Evaluation;
}

const deviating = new WeakMap<Assessment, Deviating>();

function deviatingOf(assessment: Assessment): Deviating {
  const known = deviating.get(assessment);
  if (known) return known;
  const { build, option, inputs } = assessment;
  const { template } = templateOf(build, option);
  const tried = new Map<string, Evaluation>();
  const at = (deviations: Float64Array): Evaluation =>
    evaluate(fill<Setup>(template, withDeviations(deviationsOf(assessment, deviations))).filled);
  const alone = (input: number, deviation: number): Evaluation => {
    const key = `${input} ${deviation}`;
    const found = tried.get(key) ?? at(Float64Array.from(inputs, (_, i) => (i === input ? deviation : 0)));
    tried.set(key, found);
    return found;
  };
  const made = { at, alone };
  deviating.set(assessment, made);
  return made;
}
