/**
 * First-order propagation of every input's uncertainty to every measure (JCGM 100:2008, 5.1), by the chain rule through the
 * numbers of the setup: inputs are many but reach few numbers (a dozen masses, one weight), and reading a figure is far
 * cheaper than solving the circuit. Each number that an uncertain input reaches is moved once and the circuit solved again;
 * the solver is exact to 1e-14, so that a step of a thousandth of the number's own uncertainty gives the slope to about 1e-3 of itself.
 */

import type { Figure, Reading } from '../../model/build.ts';
import type { Estimate } from '../assessment.ts';
import { type Evaluation, isHeated, type Reach } from '../evaluate/evaluation.ts';
import { evaluateNear } from '../evaluate/nearby.ts';
import { isReached, reachFor, reachOf } from '../evaluate/point-reach.ts';
import { finite } from '../finite.ts';
import type { Measure } from '../results/reading.ts';
import {
  type Deviations,
  figuresOf,
  type Leaf,
  numberAt,
  type Shifts,
  withMoved,
  withNumber,
} from '../setup/template.ts';

/**
 * Steps as shares of the standard uncertainty: of a solved number, and of a figure behind it, which costs next to nothing. The latter leaves curvature
 * of some 1e-5 and rounding of 1e-10: equal motors on one line or on two have the same ±.
 */
const STEP = 1e-3;
const FIGURE_STEP = 1e-4;

export interface Propagation {
  /** Everything read, in order of first use. */
  readonly inputs: readonly Figure[];
  /** By measure; those without a value are absent. */
  readonly estimates: ReadonlyMap<Measure, Estimate>;
}

/** ∂number/∂input · u(input), for one input. */
interface Pull {
  readonly input: number;
  readonly contribution: number;
}

/** How inputs move the numbers of a setup, one list per leaf. */
export interface Pulls {
  readonly inputs: readonly Figure[];
  readonly onLeaves: readonly (readonly Pull[])[];
}

/** Of a setup, whatever is then changed in the values of its numbers. */
export function pullsOf(leaves: readonly Leaf[], deviations?: Deviations, shifts?: Shifts): Pulls {
  const figures = leaves.map(({ formula }) => figuresOf(formula));
  const inputs = [...new Map(figures.flat().map((figure) => [figure.id, figure])).values()];
  const index = new Map(inputs.map(({ id }, i) => [id, i]));
  // One reading for each figure that is moved: what rests on it is computed once for all formulas.
  const moved = new Map<string, Reading>();
  const withOneMoved = (id: string): Reading => {
    const reading = moved.get(id) ?? withMoved(id, FIGURE_STEP, deviations, shifts);
    moved.set(id, reading);
    return reading;
  };
  return { inputs, onLeaves: leaves.map((leaf, l) => pullsOn(leaf, figures[l] ?? [], index, withOneMoved)) };
}

/** A measure that has a value, with the inputs' shares in its error as they are found. */
interface MeasureShares {
  readonly measure: Measure;
  readonly value: number;
  readonly shares: Float64Array;
}

export function propagate(
  leaves: readonly Leaf[],
  evaluation: Evaluation,
  measures: readonly Measure[],
  { inputs, onLeaves }: Pulls,
): Propagation {
  // One block of memory for all shares: an array each would cost more than the arithmetic.
  const block = new ArrayBuffer(measures.length * inputs.length * Float64Array.BYTES_PER_ELEMENT);
  const quantities = measures.flatMap((measure, m): MeasureShares[] => {
    const value = finite(measure.of(evaluation));
    if (value === undefined) return [];
    const place = m * inputs.length * Float64Array.BYTES_PER_ELEMENT;
    return [{ measure, value, shares: new Float64Array(block, place, inputs.length) }];
  });

  const burstsInFlight = evaluation.setup.craft?.flown.some(({ hoverMultiple }) => hoverMultiple > 1) ?? false;
  const heated = isHeated(evaluation.setup);
  const reached = new Map<Reach, { readonly moving: readonly MeasureShares[]; readonly reach: Reach }>();
  for (const [l, leaf] of leaves.entries()) {
    const pulls = onLeaves[l] ?? [];
    if (pulls.length === 0) continue;
    const far = reachOf(leaf.path, burstsInFlight, heated);
    const { moving, reach } = reached.get(far) ?? whatMoves(quantities, far);
    reached.set(far, { moving, reach });
    if (moving.length === 0) continue;
    const uncertainty = Math.sqrt(pulls.reduce((sum, { contribution }) => sum + contribution ** 2, 0));
    const { setup } = evaluation;
    const number = numberAt(setup, leaf);
    const evaluateMoved = (step: number) => evaluateNear(withNumber(setup, leaf, number + step), evaluation, reach);
    share(evaluateMoved, uncertainty * STEP, pulls, moving);
  }
  return {
    inputs,
    estimates: new Map(quantities.map(({ measure, value, shares }) => [measure, { value, contributions: shares }])),
  };
}

/** Of all quantities those that a number can move, and the points that these are read from. */
function whatMoves(quantities: readonly MeasureShares[], far: Reach) {
  const moving = quantities.filter(({ measure }) => isReached(measure.needs, far));
  const needs = new Set(moving.flatMap(({ measure }) => measure.needs));
  return { moving, reach: reachFor(far, [...needs]) };
}

/** How far each input's uncertainty moves a number; by a step small enough that curvature does not show. */
function pullsOn(
  { formula, value }: Leaf,
  figures: readonly Figure[],
  index: ReadonlyMap<string, number>,
  withOneMoved: (id: string) => Reading,
): Pull[] {
  const pulls: Pull[] = [];
  for (const { id, standardUncertainty } of figures) {
    const input = index.get(id);
    if (input === undefined || standardUncertainty === 0) continue;
    const contribution = (formula(withOneMoved(id)) - value) / FIGURE_STEP;
    if (contribution !== 0 && Number.isFinite(contribution)) pulls.push({ input, contribution });
  }
  return pulls;
}

/**
 * Moves one number and adds what each input thereby contributes to each quantity; where the step leads beyond the possible,
 * by a step the other way.
 */
function share(
  evaluateMoved: (step: number) => Evaluation,
  step: number,
  pulls: readonly Pull[],
  quantities: readonly MeasureShares[],
): void {
  const up = evaluateMoved(step);
  let down: Evaluation | undefined;
  for (const quantity of quantities) {
    let change = (finite(quantity.measure.of(up)) ?? Number.NaN) - quantity.value;
    if (Number.isNaN(change)) {
      down ??= evaluateMoved(-step);
      change = quantity.value - (finite(quantity.measure.of(down)) ?? quantity.value);
    }
    if (change === 0) continue;
    const { shares } = quantity;
    for (const { input, contribution } of pulls) shares[input] = (shares[input] ?? 0) + (change / step) * contribution;
  }
}
