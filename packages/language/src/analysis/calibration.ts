/**
 * What observed flights teach: weighted least squares over the inputs, their own uncertainties as priors. What was guessed
 * moves, what was measured hardly does; the model's own terms are among the inputs, so that their ± gives way to that of the
 * observation. What two packs have in common is learnt for both.
 *
 * In units of their standard uncertainties the inputs are z ~ N(0, 1). A line y ± s of an observation with the gradient a gives
 * z ~ N(µ, F·Fᵀ), line by line: µ += F·a·r / (|a|² + s²), F becomes F·(1 − β·a·aᵀ) with 1 − β·|a|² = s / √(|a|² + s²), which is the
 * root of 1 − a·aᵀ / (|a|² + s²). Contributions multiplied by Fᵀ keep the sum of squares the variance.
 * Repeated at the point that was found, since the craft is no straight line (Gauss and Newton).
 *
 * Source: least squares with prior knowledge, A. Tarantola, Inverse Problem Theory, 2005, ch. 3; JCGM 100 for the meaning of ±.
 * Left out: masses are not moved, the scale tells them better; what they leave open counts as error of the line. A line that
 * disagrees with its prediction teaches nothing: it is a finding.
 */
import type { Build, Figure } from '../model/build.ts';
import type { Pack } from '../physics/craft.ts';
import { equal, MASS } from '../units/dimension.ts';
import type { Assessment, Learnt, Narrowing } from './assessment.ts';
import { COVERAGE } from './estimate.ts';
import { compare, linesOf, type ObservedLine, type PackObserved, packsObserved, type Reading } from './observations.ts';
import type { Shifts } from './template.ts';

/** Assesses a build that knows of no observation, with its figures shifted. */
export interface Predictor {
  assess(observed: PackObserved, shifts: Shifts): Assessment;
  pack(observed: PackObserved): Pack | undefined;
}

/**
 * How alike two flights of one craft are, k = 2, relative (common practice): a gust, a hand that is not steady, a pack that is not
 * quite full. Lines without one teach nothing: a bell only says that its winding is no cooler.
 */
export const ALIKE: Readonly<Partial<Record<Reading, number>>> = {
  hover_current: 0.05,
  average_current: 0.08,
  hover_output: 0.05,
  hover_speed: 0.03,
  hover_voltage: 0.01,
  burst_current: 0.06,
  burst_voltage: 0.02,
  burst_speed: 0.03,
  rested: 0.005,
  cell_resistance: 0.05,
};

/** One line as it stands at the present point of the fit. */
interface Row {
  readonly gradient: ReadonlyMap<string, number>;
  /** Observed less predicted, SI. */
  readonly residual: number;
  /** One standard deviation of the line, SI. */
  readonly error: number;
}

const ROUNDS = 3;

const known = new WeakMap<Build, Learnt | undefined>();

/** Undefined where nothing was observed that teaches anything. */
export function learntOf(build: Build, predictor: Predictor): Learnt | undefined {
  if (build.observations.length === 0) return undefined;
  if (!known.has(build)) known.set(build, fit(build, predictor));
  return known.get(build);
}

/** A line that counts, told by its observation and reading. */
interface Telling {
  readonly observed: PackObserved;
  readonly reading: Reading;
}

function fit(build: Build, predictor: Predictor): Learnt | undefined {
  const observations = packsObserved(build);
  const figures = new Map<string, Figure>();
  const linesAt = (observed: PackObserved, shifts: Shifts) => {
    const predicted = predictor.assess(observed, shifts);
    for (const input of predicted.inputs) figures.set(input.id, input);
    return { predicted, lines: linesOf(observed.observation, predicted, predictor.pack(observed)) };
  };
  const telling = observations.flatMap((observed): Telling[] =>
    linesAt(observed, new Map())
      .lines.filter(teaches)
      .map(({ reading }) => ({ observed, reading })),
  );
  if (telling.length === 0) return undefined;

  let mean: Shifts = new Map();
  let narrowings: readonly Narrowing[] = [];
  const rowsAtMean = () => {
    const shifts = scaled(mean, figures);
    return observations.flatMap((observed) => {
      const counting = telling.filter((one) => one.observed === observed).map(({ reading }) => reading);
      if (counting.length === 0) return [];
      const { predicted, lines } = linesAt(observed, shifts);
      return lines.filter(({ reading }) => counting.includes(reading)).map((line) => rowOf(line, predicted, mean));
    });
  };
  for (let round = 0; round < ROUNDS; round++) ({ mean, narrowings } = solve(rowsAtMean()));
  const scatter = scatterOf(rowsAtMean(), mean);
  if (scatter > 1) {
    const asWideAsApart = ({ error, ...row }: Row): Row => ({ ...row, error: scatter * error });
    for (let round = 0; round < ROUNDS; round++) ({ mean, narrowings } = solve(rowsAtMean().map(asWideAsApart)));
  }
  return {
    from: [...new Set(telling.map(({ observed }) => observed.observation.title))],
    shifts: scaled(mean, figures),
    figures: [...figures.values()].filter(({ id }) => narrowings.some(({ along }) => along.has(id))),
    narrowings,
  };
}

/**
 * How much wider the lines lie apart than their own errors let them (Birge ratio: R. T. Birge, Phys. Rev. 40 (1932) 207); at most 1
 * where they agree. Several lines that contradict each other are worth no more than their scatter.
 */
function scatterOf(rows: readonly Row[], mean: Shifts): number {
  const squares = rows.map(({ gradient, residual, error }) => ((residual - product(gradient, mean)) / error) ** 2);
  return rows.length < 2 ? 0 : Math.sqrt(squares.reduce((sum, square) => sum + square, 0) / (rows.length - 1));
}

function teaches({ reading, observed, predicted }: ObservedLine): boolean {
  const { difference, standardUncertainty } = compare(observed, predicted);
  return ALIKE[reading] !== undefined && Math.abs(difference) <= COVERAGE * standardUncertainty;
}

/** One standard deviation: of the instrument, and of one flight against the next. */
export const errorOfLine = ({ reading, observed }: ObservedLine): number =>
  Math.hypot(observed.standardUncertainty, ((ALIKE[reading] ?? 0) / COVERAGE) * observed.value);

/** A residual is that from the prior: what the present point has moved is added back. */
function rowOf(line: ObservedLine, { inputs }: Assessment, mean: Shifts): Row {
  const { observed, predicted } = line;
  const gradient = new Map<string, number>();
  let fixed = 0;
  for (const [i, input] of inputs.entries()) {
    const share = predicted.contributions[i] ?? 0;
    if (share === 0) continue;
    if (isMovable(input)) gradient.set(input.id, share);
    else fixed += share ** 2;
  }
  return {
    gradient,
    residual: observed.value - predicted.value + product(gradient, mean),
    error: Math.hypot(errorOfLine(line), Math.sqrt(fixed)),
  };
}

const isMovable = ({ id, dimension }: Figure): boolean =>
  !equal(dimension, MASS) && id !== 'model.small_things' && !id.startsWith('default.');

function solve(rows: readonly Row[]): { mean: Shifts; narrowings: readonly Narrowing[] } {
  let mean: Shifts = new Map();
  const narrowings: Narrowing[] = [];
  for (const { gradient, residual, error } of rows) {
    const along = narrowings.reduce((vector, narrowing) => narrowed(vector, narrowing), gradient);
    const square = product(along, along);
    if (square === 0) continue;
    const total = square + error ** 2;
    const gain = (residual - product(gradient, mean)) / total;
    const step = narrowings.reduceRight((vector, narrowing) => narrowed(vector, narrowing), along);
    mean = sum(mean, step, gain);
    narrowings.push({ along, share: (1 - error / Math.sqrt(total)) / square });
  }
  return { mean, narrowings };
}

/** (1 − β·a·aᵀ)·v */
const narrowed = (vector: ReadonlyMap<string, number>, { along, share }: Narrowing): ReadonlyMap<string, number> =>
  sum(vector, along, -share * product(vector, along));

function product(a: ReadonlyMap<string, number>, b: ReadonlyMap<string, number>): number {
  let total = 0;
  for (const [id, value] of a) total += value * (b.get(id) ?? 0);
  return total;
}

function sum(a: ReadonlyMap<string, number>, b: ReadonlyMap<string, number>, factor: number): Map<string, number> {
  const total = new Map(a);
  for (const [id, value] of b) total.set(id, (total.get(id) ?? 0) + factor * value);
  return total;
}

/** No fit turns a resistance round: whatever is positive keeps a tenth of itself. */
const KEPT = 0.1;

function scaled(mean: Shifts, figures: ReadonlyMap<string, Figure>): Shifts {
  return new Map(
    [...mean].map(([id, z]) => {
      const { value = 0, standardUncertainty = 0 } = figures.get(id) ?? {};
      const shift = z * standardUncertainty;
      return [id, value > 0 ? Math.max(shift, (KEPT - 1) * value) : shift];
    }),
  );
}

/** Contributions of all inputs, as an observation leaves them. Inputs that only it has come last. */
export function narrowedContributions(
  learnt: Learnt,
  inputs: readonly Figure[],
): (contributions: Float64Array) => Float64Array {
  const vectors = learnt.narrowings.map(({ along, share }) => ({
    along: Float64Array.from(inputs, ({ id }) => along.get(id) ?? 0),
    share,
  }));
  return (contributions) => {
    const result = new Float64Array(inputs.length);
    result.set(contributions);
    for (const { along, share } of vectors) {
      let dot = 0;
      for (let i = 0; i < along.length; i++) dot += (along[i] ?? 0) * (result[i] ?? 0);
      for (let i = 0; i < along.length; i++) result[i] = (result[i] ?? 0) - share * dot * (along[i] ?? 0);
    }
    return result;
  };
}

/** How far the figures of an assessment stand off when its inputs deviate, each in its standard deviations, SI. */
export function shiftsOf({ inputs, learnt }: Assessment, deviations: Float64Array): Shifts {
  const given = new Map(inputs.map(({ id }, i): [string, number] => [id, deviations[i] ?? 0]));
  const spread = learnt ? learnt.narrowings.reduceRight<ReadonlyMap<string, number>>(narrowed, given) : given;
  return new Map(
    inputs.map(({ id, standardUncertainty: u }) => [id, u * (spread.get(id) ?? 0) + (learnt?.shifts.get(id) ?? 0)]),
  );
}
