/**
 * Least squares with prior knowledge, for lines that are no straight functions of what they depend on: Gauss and Newton.
 *
 * The inputs are z ~ N(0, 1), each in its own standard deviations. A line is f(z) = y ± s. Linearised at the present point, with
 * g = ∂f/∂z / s and r = (y − f) / s, the posterior is normal with the inverse covariance 1 + Σ g·gᵀ and the mean (1 + Σ g·gᵀ)⁻¹ Σ g·(r + g·z).
 * By the eigenvectors of the small matrix of the products g·g both are sums over a few directions: orthonormal v with eigenvalues λ, along which a
 * standard deviation of 1 becomes 1/√(1 + λ). No gate, no inflation, no heavy tails: see the reference page of the fit.
 *
 * Sources: A. Tarantola, Inverse Problem Theory, 2005, ch. 3; leverage: D. A. Belsley, E. Kuh, R. E. Welsch, Regression Diagnostics, 1980, ch. 2.
 */
import { cholesky, eigenOf, type Matrix, solveLower, solveTransposed } from './symmetric.ts';

/** The lines at one point, one entry per line. */
export interface Linearised {
  /** Observed less predicted, over the line's own standard deviation; 0 where there is no prediction here. */
  readonly residuals: Float64Array;
  /** Change of the prediction, over the same, for each input. */
  readonly gradients: Matrix;
}

/** What is known along one direction of the inputs is known better by a share. */
interface Direction {
  /** Of length one; at right angles to all others. */
  readonly along: Float64Array;
  /** Of a standard deviation along it: 1 − 1/√(1 + λ). */
  readonly share: number;
}

export interface Posterior {
  /** In standard deviations of the prior. */
  readonly mean: Float64Array;
  readonly directions: readonly Direction[];
  /** Of each line at the mean, in its own standard deviations. */
  readonly residuals: Float64Array;
  /** How much of each line's prediction is its own doing, 0 … 1. */
  readonly leverages: Float64Array;
  /** Change of each line's prediction with each input, in its own standard deviations. */
  readonly gradients: Matrix;
  /** Of what changes so with the inputs, as far as it is still open; in the same standard deviations. */
  varianceOf(gradient: Float64Array): number;
}

/** Lines as functions of inputs in standard deviations off the prior. */
export interface LeastSquares {
  readonly inputs: number;
  linearise(z: Float64Array): Linearised;
  /** The same without the slopes. */
  residualsAt(z: Float64Array): Float64Array;
}

interface Manner {
  readonly rounds?: number;
  /** Rounds that linearise; more only to show that they change nothing. */
  readonly whole?: number;
  /** A line that does not count; what the others make of it is found all the same. */
  readonly without?: number;
  /** Of nearly the same lines: where to begin, with the slopes there. */
  readonly from?: Posterior;
}

/** Then the mean moves by less than a twentieth of a standard deviation. */
export const ROUNDS = 8;
/** Rounds for which every slope is found anew; after them each step shows how the slopes have changed along it, until they are found once more. */
export const WHOLE_ROUNDS = 1;
/** By then the mean is near: slopes are found anew there, for the steps that are left and for the covariance. */
const NEAR = 4;
/** A step that makes it worse is halved so often, one that leads to where there is no point so often again, and then not taken. */
const HALVINGS = 3;
/** A residual that no step may end at. */
export const NO_POINT = 1e6;
/** Standard deviations: nearer, slopes are what they were. */
const STILL_THERE = 0.1;
/** Standard deviations: no input moves farther in a round that is the last. */
const SETTLED = 1e-3;

export function gaussNewton(
  { inputs, linearise, residualsAt }: LeastSquares,
  { rounds = ROUNDS, whole = WHOLE_ROUNDS, without, from }: Manner = {},
): Posterior {
  const costAt = (residuals: Float64Array, z: Float64Array) => cost(residuals, z, without);
  const productsOf = (gradients: Matrix) => productsWithout(gradients, without);
  let at: Float64Array = from?.mean ?? new Float64Array(inputs);
  let here: Linearised = from ?? linearise(at);
  let products = productsOf(here.gradients);
  let { residuals } = here;
  let least = costAt(residuals, at);
  let isNear = whole >= rounds;
  // Slopes of nearly the same lines serve until it settles.
  const near = from ? rounds : NEAR;
  let foundAt = at;
  /** Whether the slopes were found here, not updated by steps. */
  let isFound = true;
  for (let round = 1; round <= rounds; round++) {
    let next = meanOf(products, here, at);
    residuals = residualsAt(next);
    const isNowhere = () => costAt(residuals, next) >= NO_POINT ** 2;
    for (let halving = 0; halving < HALVINGS || (isNowhere() && halving < 2 * HALVINGS); halving++) {
      if (costAt(residuals, next) <= least) break;
      const before = at;
      next = Float64Array.from(next, (z, i) => (z + (before[i] ?? 0)) / 2);
      residuals = residualsAt(next);
    }
    const isWorse = isNowhere();
    if (isWorse) {
      next = at;
      residuals = here.residuals;
    }
    least = costAt(residuals, next);
    const step = next.map((z, i) => z - (at[i] ?? 0));
    at = next;
    const isSettled: boolean = step.every((moved) => Math.abs(moved) < SETTLED) && (isFound || !isWorse);
    if ((isSettled && isNear) || round === rounds) break;
    isFound = round < whole || isWorse || (!isNear && (isSettled || round >= near));
    if (isFound && (isSettled || round >= near)) isNear = true;
    here = isFound ? linearise(at) : { residuals, gradients: turned(here, residuals, step) };
    if (isFound) foundAt = at;
    products = productsOf(here.gradients);
  }
  // Covariances are differences of what is known along many slopes: those updated by steps are not good enough far from where they were found. A line outside
  // the others is compared with far more than that.
  if (!from && at.some((z, i) => Math.abs(z - (foundAt[i] ?? 0)) > STILL_THERE)) {
    here = linearise(at);
    products = productsOf(here.gradients);
  }
  return posteriorOf(products, at, residuals, here.gradients);
}

/** Eigenvectors take as long as all else: a fit for comparison does not need them. */
function posteriorOf(products: Products, mean: Float64Array, residuals: Float64Array, gradients: Matrix): Posterior {
  let found: ReturnType<typeof directionsOf> | undefined;
  const narrowed = () => {
    found ??= directionsOf(products, mean.length);
    return found;
  };
  return {
    mean,
    residuals,
    gradients,
    get directions() {
      return narrowed().directions;
    },
    get leverages() {
      return narrowed().leverages;
    },
    varianceOf: (gradient) => {
      const along = Float64Array.from(products.gradients, (one) => dot(one, gradient));
      return Math.max(0, dot(gradient, gradient) - dot(along, weightsOf(products, along)));
    },
  };
}

/** The least change of the slopes that explains what a step did: C. G. Broyden, Mathematics of Computation 19 (1965) 577. */
function turned({ residuals, gradients }: Linearised, after: Float64Array, step: Float64Array): Matrix {
  const square = dot(step, step);
  return gradients.map((gradient, i) => {
    const unexplained = (residuals[i] ?? 0) - (after[i] ?? 0) - dot(gradient, step);
    return gradient.map((slope, j) => slope + (unexplained * (step[j] ?? 0)) / square);
  });
}

function cost(residuals: Float64Array, z: Float64Array, without: number | undefined): number {
  let sum = dot(z, z);
  for (const [i, residual] of residuals.entries()) if (i !== without) sum += residual ** 2;
  return sum;
}

export function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (a[i] ?? 0) * (b[i] ?? 0);
  return sum;
}

interface Products {
  readonly gradients: Matrix;
  /** Of each line's gradient with each other's. */
  readonly products: readonly Float64Array[];
}

/** A line without slopes decides nothing. */
function productsWithout(all: Matrix, without: number | undefined): Products {
  const gradients = all.map((gradient, i) => (i === without ? new Float64Array(gradient.length) : gradient));
  const products = Array.from(gradients, () => new Float64Array(gradients.length));
  for (const [i, one] of gradients.entries()) {
    for (let j = 0; j <= i; j++) {
      const product = dot(one, gradients[j] as Float64Array);
      (products[i] as Float64Array)[j] = product;
      (products[j] as Float64Array)[i] = product;
    }
  }
  return { gradients, products };
}

/** Gᵀ·(1 + G·Gᵀ)⁻¹·r, r being the residual of each line at z = 0 were it straight. */
function meanOf({ gradients, products }: Products, { residuals }: Linearised, at: Float64Array): Float64Array {
  const fromPrior = residuals.map((residual, i) => residual + dot(gradients[i] as Float64Array, at));
  const weights = weightsOf({ gradients, products }, fromPrior);
  const mean = new Float64Array(at.length);
  for (const [i, gradient] of gradients.entries())
    for (let j = 0; j < mean.length; j++) mean[j] = (mean[j] ?? 0) + (weights[i] ?? 0) * (gradient[j] ?? 0);
  return mean;
}

/** (1 + G·Gᵀ)⁻¹·r */
function weightsOf({ products }: Products, right: Float64Array): Float64Array {
  const lower = cholesky(products.map((row, i) => row.map((product, j) => product + (i === j ? 1 : 0))));
  return solveTransposed(lower, solveLower(lower, right));
}

/** Of the largest: an eigenvalue below this is left out. */
const NOTHING = 1e-12;

function directionsOf({ gradients, products }: Products, inputs: number): Pick<Posterior, 'directions' | 'leverages'> {
  const { values, vectors } = eigenOf(products);
  const largest = values.reduce((most, value) => Math.max(most, value), 0);
  const leverages = new Float64Array(gradients.length);
  const directions: Direction[] = [];
  for (const [k, value] of values.entries()) {
    if (value <= NOTHING * Math.max(largest, 1)) continue;
    const vector = vectors[k] as Float64Array;
    const along = new Float64Array(inputs);
    for (const [i, gradient] of gradients.entries()) {
      const weight = (vector[i] ?? 0) / Math.sqrt(value);
      for (let j = 0; j < along.length; j++) along[j] = (along[j] ?? 0) + weight * (gradient[j] ?? 0);
    }
    for (let i = 0; i < leverages.length; i++)
      leverages[i] = (leverages[i] ?? 0) + (value / (1 + value)) * (vector[i] ?? 0) ** 2;
    directions.push({ along, share: 1 - 1 / Math.sqrt(1 + value) });
  }
  return { directions, leverages };
}
