/**
 * First-order propagation of every input's uncertainty to every measure (JCGM 100:2008, 5.1), by the chain rule through the
 * numbers of the setup: inputs are many but reach few numbers (a dozen masses, one weight), and reading a figure is far
 * cheaper than solving the circuit. Each number that an uncertain input reaches is moved once and the circuit solved again;
 * the solver is exact to 1e-14, so that a step of a thousandth of the number's own uncertainty gives the slope to about 1e-3 of itself.
 */
import type { Figure } from '../model/build.ts';
import type { Estimate } from './assessment.ts';
import { exact } from './estimate.ts';
import { type Evaluation, evaluate } from './evaluation.ts';
import type { Measure } from './measures.ts';
import type { Setup } from './setup.ts';
import { figuresOf, type Leaf, withMoved, withNumber } from './template.ts';

/** Steps as shares of the standard uncertainty. */
const STEP = 1e-3;

/** Numbers of the setup that no operating point depends on: what hangs on them is read off the same points. */
const OUTSIDE_CIRCUIT = /^(?!craft\.)|^craft\.air\.speedOfSound$/;

export interface Propagation {
  /** Everything read, in order of first use. */
  readonly inputs: readonly Figure[];
  /** By measure; those without a value are absent. */
  readonly estimates: ReadonlyMap<string, Estimate>;
}

/** ∂number/∂input · u(input), for one input. */
interface Pull {
  readonly input: number;
  readonly contribution: number;
}

export function propagate(leaves: readonly Leaf[], evaluation: Evaluation, measures: readonly Measure[]): Propagation {
  const figures = leaves.map(({ formula }) => figuresOf(formula));
  const index = new Map<string, number>();
  const inputs: Figure[] = [];
  for (const figure of figures.flat()) {
    if (index.has(figure.id)) continue;
    index.set(figure.id, inputs.length);
    inputs.push(figure);
  }
  const values = measures.map((measure) => finite(measure.of(evaluation)));
  const contributions = values.map((value) => (value === undefined ? undefined : new Float64Array(inputs.length)));

  for (const [l, leaf] of leaves.entries()) {
    const pulls = pullsOn(leaf, figures[l] ?? [], index);
    const uncertainty = Math.hypot(...pulls.map(({ contribution }) => contribution));
    if (uncertainty === 0) continue;
    const slopes = slopesOver(leaf, uncertainty * STEP, evaluation, measures, values);
    slopes.forEach((slope, m) => {
      const shares = contributions[m];
      if (!slope || !shares) return;
      for (const { input, contribution } of pulls) shares[input] = (shares[input] ?? 0) + slope * contribution;
    });
  }

  const estimates = new Map<string, Estimate>();
  measures.forEach(({ name }, m) => {
    const value = values[m];
    const shares = contributions[m];
    if (value !== undefined && shares) estimates.set(name, { value, contributions: shares });
  });
  return { inputs, estimates };
}

/** The values alone. */
export function withoutUncertainty(
  _: readonly Leaf[],
  evaluation: Evaluation,
  measures: readonly Measure[],
): Propagation {
  const estimates = new Map<string, Estimate>();
  for (const measure of measures) {
    const value = finite(measure.of(evaluation));
    if (value !== undefined) estimates.set(measure.name, exact(value));
  }
  return { inputs: [], estimates };
}

const finite = (value: number | undefined): number | undefined =>
  value !== undefined && Number.isFinite(value) ? value : undefined;

/** How far each input's uncertainty moves a number; by a step small enough that curvature does not show. */
function pullsOn({ formula, value }: Leaf, figures: readonly Figure[], index: ReadonlyMap<string, number>): Pull[] {
  const pulls: Pull[] = [];
  for (const { id, standardUncertainty } of figures) {
    const input = index.get(id);
    if (input === undefined || standardUncertainty === 0) continue;
    const contribution = (formula(withMoved(id, standardUncertainty * STEP)) - value) / STEP;
    if (contribution !== 0 && Number.isFinite(contribution)) pulls.push({ input, contribution });
  }
  return pulls;
}

/** Slope of every measure over one number; where the step leads beyond the possible, by a step the other way. */
function slopesOver(
  leaf: Leaf,
  step: number,
  evaluation: Evaluation,
  measures: readonly Measure[],
  values: readonly (number | undefined)[],
): (number | undefined)[] {
  const up = nearby(leaf, step, evaluation);
  const slopes = measures.map((measure, m) => slope(finite(measure.of(up)), values[m], step));
  if (slopes.every((found, m) => found !== undefined || values[m] === undefined)) return slopes;
  const down = nearby(leaf, -step, evaluation);
  return slopes.map((found, m) => found ?? slope(finite(measures[m]?.of(down)), values[m], -step));
}

const slope = (moved: number | undefined, value: number | undefined, step: number): number | undefined =>
  moved === undefined || value === undefined ? undefined : (moved - value) / step;

function nearby(leaf: Leaf, step: number, evaluation: Evaluation): Evaluation {
  const setup: Setup = withNumber(evaluation.setup, leaf.path, leaf.value + step);
  if (OUTSIDE_CIRCUIT.test(leaf.path.join('.'))) return withSetup(evaluation, setup);
  return evaluate(setup, evaluation);
}

/** The same points, under a setup that differs only outside the circuit. */
function withSetup(evaluation: Evaluation, setup: Setup): Evaluation {
  const { craft } = evaluation;
  return craft && setup.craft ? { setup, craft: { ...craft, craft: setup.craft } } : { setup };
}
