/**
 * Measurements that contradict each other, where neither can be set aside. The fit lies between them, and its ± is that of readings which agree: then it
 * includes neither. As in a summary of experiments that disagree the mean stays, and the ± grows (R. T. Birge, Phys. Rev. 40 (1932) 207; R. DerSimonian,
 * N. Laird, Controlled Clinical Trials 7 (1986) 177): here along the one direction in which the two sides differ, until it includes both. Readings that
 * agree as well as their ± state are left as they are, so that what is healthy is not made wide.
 */
import type { Figure } from '../../model/build.ts';
import type { Doubt } from '../assessment.ts';
import { COVERAGE } from '../uncertainty/estimate.ts';
import { dot, type Posterior } from './gauss-newton.ts';
import { type LeftOut, leavingOut, solvedBy } from './left-out.ts';
import { type MeasuredLine, nuisance } from './scene.ts';

/** A line contradicts the others from so many standard deviations on. */
export const OUTLYING = 3;
const FEW_LINES = 6;

/** Of many lines one lies that far off by chance: of so many the bound is a little wider, 3.3 for twenty. */
export const outlyingBound = (lines: number): number => OUTLYING + 0.25 * Math.log(Math.max(1, lines / FEW_LINES));

/** Standard deviations beyond the bound over which the ± grows to include both: no cliff. */
export const GROWS_OVER = 0.5;

/** Lines that may have one cause: a single one, or all of a flight or a stand. */
interface Side {
  readonly label: string;
  readonly lines: readonly number[];
}

/** One side against the other measurements, along the combination of its lines that differs most. */
interface Contrast {
  readonly side: Side;
  /** Change of the combined reading with each input, in standard deviations of the prior. */
  readonly gradient: Float64Array;
  /** One standard deviation of the mean of the two, as they differ; at two of them both are included. */
  readonly deviation: number;
  /** The combined reading less what the other measurements alone make of it, as a normal standard deviation: of several lines some lie off by chance. */
  readonly far: number;
}

/** Undefined where all measurements agree, or only the figures of the parts contradict them: those the measurements correct. */
export function doubtOf(
  posterior: Posterior,
  lines: readonly MeasuredLine[],
  figures: readonly Figure[],
): Doubt | undefined {
  if (lines.length < 2) return undefined;
  const leftOut = leavingOut(posterior);
  const bound = outlyingBound(lines.length);
  const [worst] = sidesOf(lines)
    .flatMap((side) => contrastOf(posterior, side, leftOut(side.lines)) ?? [])
    .filter(({ far }) => far > bound)
    .sort((a, b) => (Math.abs(a.far - b.far) > SAME * b.far ? b.far - a.far : a.side.label < b.side.label ? -1 : 1));
  if (!worst) return undefined;
  const included = Math.min(1, (worst.far - bound) / GROWS_OVER);
  const deviation = Math.sqrt(included) * worst.deviation;
  const learnt = covarianceTimes(posterior, worst.gradient);
  const variance = dot(learnt, worst.gradient);
  const along = new Map(figures.map(({ id }, i) => [id, ((learnt[i] ?? 0) / variance) * deviation]));
  const label = `contradiction between ${worst.side.label} and the other measurements`;
  return { figure: nuisance(`contradiction ${worst.side.label}`, label, 0, 1, 'plain'), along };
}

/** Relative: two sides of one contradiction lie equally far off. */
const SAME = 1e-9;

function sidesOf(lines: readonly MeasuredLine[]): Side[] {
  const single = lines.map(({ label }, i): Side => ({ label, lines: [i] }));
  const sources = [...new Set(lines.map(({ source }) => source))];
  const whole = sources.map((source): Side => {
    const own = lines.flatMap((line, i) => (line.source === source ? [i] : []));
    return { label: `“${lines[own[0] ?? 0]?.from}”`, lines: own };
  });
  return [...single, ...whole.filter((side) => side.lines.length > 1 && side.lines.length < lines.length)];
}

/**
 * Of a prediction's variance, what the other measurements have to have settled: then they show it at least as well as the figures of the parts. Where
 * they hardly bear on it there is nothing to contradict, and what they would show by themselves is a quotient of two small numbers.
 */
const KNOWN_AT_LEAST = 0.5;

function contrastOf(
  { mean, residuals, gradients }: Posterior,
  side: Side,
  { offPrior, off, covariance }: LeftOut,
): Contrast | undefined {
  const weights = solvedBy(covariance)(off);
  const over = (values: ArrayLike<number>) => weights.reduce((sum, weight, k) => sum + weight * (values[k] ?? 0), 0);
  const gradient = Float64Array.from(mean, (_, i) => over(side.lines.map((line) => gradients[line]?.[i] ?? 0)));
  const own = dot(weights, weights);
  const before = dot(gradient, gradient);
  const others = over(covariance.map(over)) - own;
  if (!(others > 0) || others > before * (1 - KNOWN_AT_LEAST)) return undefined;
  // Without the prior in it: what the other measurements read, by themselves.
  const measured = 1 / (1 / others - 1 / before);
  const difference = measured * (over(off) / others - over(offPrior) / before);
  const square = difference ** 2 / (own + measured);
  const offFit = over(side.lines.map((line) => residuals[line] ?? 0));
  const reach = Math.max(Math.abs(offFit), Math.abs(difference - offFit));
  const weight = measured / (own + measured);
  const birge = Math.sqrt(weight * (1 - weight)) * Math.abs(difference);
  return { side, gradient, deviation: Math.max(birge, reach / COVERAGE), far: normalOf(square, side.lines.length) };
}

/** A sum of squares of so many normal numbers as one (E. B. Wilson, M. M. Hilferty, PNAS 17 (1931) 684). */
function normalOf(square: number, count: number): number {
  if (count === 1) return Math.sqrt(square);
  const variance = 2 / (9 * count);
  return (Math.cbrt(square / count) - (1 - variance)) / Math.sqrt(variance);
}

/** C·g with C = 1 − Gᵀ(1 + G·Gᵀ)⁻¹G: how the inputs go with a prediction, as far as they are still open. */
function covarianceTimes({ directions }: Posterior, gradient: Float64Array): Float64Array {
  const result = Float64Array.from(gradient);
  for (const { along, share } of directions) {
    // Along it a variance of 1 has become (1 − share)².
    const taken = (1 - (1 - share) ** 2) * dot(along, gradient);
    for (let i = 0; i < result.length; i++) result[i] = (result[i] ?? 0) - taken * (along[i] ?? 0);
  }
  return result;
}
