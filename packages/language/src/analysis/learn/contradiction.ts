/**
 * Measurements that contradict each other, where neither can be set aside. The fit lies between them, and its ± is that of readings which agree: then it
 * includes neither. As in a summary of experiments that disagree the mean stays, and the ± grows (R. T. Birge, Phys. Rev. 40 (1932) 207; R. DerSimonian,
 * N. Laird, Controlled Clinical Trials 7 (1986) 177): here along the one direction in which the two sides differ, until it includes both. What then still
 * contradicts itself among the others widens it along its own direction. Readings that agree as well as their ± state are left as they are, so that what
 * is healthy is not made wide.
 */
import type { Figure } from '../../model/build.ts';
import { deviationOf } from '../../units/interval.ts';
import type { Doubt, LearntLine } from '../assessment.ts';
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

/** Standard deviations off what the other measurements alone make of it: nearer, it is the figures of the parts that contradict a line. */
const MEASURED_OFF = 2;

/** A line that lies past the bound off everything else, and that what else was measured contradicts as well. */
const isContradicted = ({ outlying, offMeasured: off = 0 }: LearntLine, bound: number): boolean =>
  Math.abs(outlying) > bound && Math.sign(outlying) * off > MEASURED_OFF;

/** The farthest of them. */
export function farthestContradicted(lines: readonly LearntLine[], bound: number): LearntLine | undefined {
  const [farthest] = lines
    .filter((line) => isContradicted(line, bound))
    .toSorted((a, b) => Math.abs(b.outlying) - Math.abs(a.outlying));
  return farthest;
}

/** Lines that may have one cause: a single one, or all of a flight or a stand. */
interface Side {
  readonly label: string;
  readonly lines: readonly number[];
  readonly isWhole: boolean;
  /** What is predicted of it rests on another reading: the prior is part of what was measured. */
  readonly isAgainstReading?: boolean;
}

const single = ({ label, against }: MeasuredLine, i: number): Side => ({
  label,
  lines: [i],
  isWhole: false,
  isAgainstReading: against !== undefined,
});

/** One side against the other measurements, along the combination of its lines that differs most. */
interface Contrast {
  readonly side: Side;
  /** Change of the combined reading with each input, in standard deviations of the prior. */
  readonly gradient: Float64Array;
  /** One standard deviation of the mean of the two, as they differ; at two of them both are included. */
  readonly deviation: number;
  /** The combined reading less what the other measurements alone make of it, in standard deviations. */
  readonly off: number;
  /** The same as a normal standard deviation: of several lines some lie off by chance. */
  readonly far: number;
}

/** Each line less what the other measurements alone make of it, in standard deviations; undefined where they make little of it. */
export function offMeasured(posterior: Posterior, lines: readonly MeasuredLine[]): (number | undefined)[] {
  const leftOut = leavingOut(posterior);
  return lines.map((line, i) => contrastOf(posterior, single(line, i), leftOut([i]))?.off);
}

/** More are not looked for: each takes away a side. */
const MOST_DOUBTS = 4;

/** None where all measurements agree, or only the figures of the parts contradict them: those the measurements correct. Worst first. */
export function doubtsOf(posterior: Posterior, lines: readonly LearntLine[], figures: readonly Figure[]): Doubt[] {
  const bound = outlyingBound(lines.length);
  const doubts: Doubt[] = [];
  let left = [...lines.keys()];
  while (doubts.length < MOST_DOUBTS && left.length > 1) {
    const worst = worstOf(posterior, lines, left, bound);
    if (!worst) break;
    const { contrast, far } = worst;
    const { side } = contrast;
    const share = Math.sqrt(Math.min(1, (far - bound) / GROWS_OVER));
    const include = (gradient: Float64Array, whole: number, { label, lines: own, isWhole }: Side) => {
      // What earlier ones have included already is not included twice.
      const included = Math.hypot(...doubts.map(({ along }) => reachOf(along, gradient, figures)));
      const deviation = Math.sqrt(Math.max(0, (share * whole) ** 2 - included ** 2));
      const learnt = covarianceTimes(posterior, gradient);
      const variance = dot(learnt, gradient);
      const words = `contradiction between ${label} and the other measurements`;
      doubts.push({
        figure: nuisance(`contradiction ${label}`, words, 0, 1, 'plain'),
        along: new Map(figures.map(({ id }, i) => [id, ((learnt[i] ?? 0) / variance) * deviation])),
        lines: own,
        isWhole,
      });
    };
    include(contrast.gradient, contrast.deviation, side);
    // Or what it was compared with is wrong.
    const other = counterpartOf(lines, side);
    const gradient = other && posterior.gradients[other.index];
    if (gradient) include(gradient, deviationOf(other.off), single(other.line, other.index));
    left = left.filter((line) => !side.lines.includes(line));
  }
  return doubts;
}

/** What the charger put back, against which a count lies off, in the charger's own standard deviations. */
function counterpartOf(
  lines: readonly LearntLine[],
  { lines: [index = 0], isAgainstReading }: Side,
): { line: LearntLine; index: number; off: number } | undefined {
  const line = lines[index];
  if (!isAgainstReading || line?.reading !== 'counted' || line.otherwise === undefined) return undefined;
  const at = lines.findIndex(({ source, reading }) => source === line.source && reading === line.against);
  const back = lines[at];
  return back && { line: back, index: at, off: Math.abs(Math.log(line.value / line.otherwise)) / back.error };
}

const reachOf = (along: Doubt['along'], gradient: Float64Array, figures: readonly Figure[]): number =>
  figures.reduce((sum, { id }, i) => sum + (along.get(id) ?? 0) * (gradient[i] ?? 0), 0);

/** Relative: two sides of one contradiction lie equally far off. */
const SAME = 1e-9;

interface Worst {
  readonly contrast: Contrast;
  readonly far: number;
}

/** Among some lines the side that contradicts the others most, past a bound. */
function worstOf(
  posterior: Posterior,
  all: readonly LearntLine[],
  left: readonly number[],
  bound: number,
): Worst | undefined {
  const among = {
    mean: posterior.mean,
    residuals: Float64Array.from(left, (line) => posterior.residuals[line] ?? 0),
    gradients: left.map((line) => posterior.gradients[line] ?? new Float64Array(0)),
  };
  const leftOut = leavingOut(among);
  const lines = left.map((line) => all[line] as LearntLine);
  const named = left.length === all.length ? farthestContradicted(lines, bound) : undefined;
  const [worst] = sidesOf(lines)
    .flatMap((side): Worst[] => {
      const contrast = contrastOf(among, side, leftOut(side.lines));
      if (!contrast) return [];
      const [line] = side.isWhole ? [] : side.lines.map((i) => lines[i]);
      // What is reported is included, however it looks along the slopes here.
      const reported = line && line === named ? Math.abs(line.outlying) : 0;
      return [{ contrast, far: Math.max(contrast.far, reported) }];
    })
    .filter(({ far }) => far > bound)
    .sort((a, b) =>
      Math.abs(a.far - b.far) > SAME * b.far ? b.far - a.far : a.contrast.side.label < b.contrast.side.label ? -1 : 1,
    );
  if (!worst) return undefined;
  const { contrast, far } = worst;
  const side = { ...contrast.side, lines: contrast.side.lines.map((i) => left[i] ?? i) };
  return { contrast: { ...contrast, side }, far };
}

function sidesOf(lines: readonly MeasuredLine[]): Side[] {
  const sources = [...new Set(lines.map(({ source }) => source))];
  const whole = sources.map((source): Side => {
    const own = lines.flatMap((line, i) => (line.source === source ? [i] : []));
    return { label: `“${lines[own[0] ?? 0]?.from}”`, lines: own, isWhole: true };
  });
  return [...lines.map(single), ...whole.filter((side) => side.lines.length > 1 && side.lines.length < lines.length)];
}

/**
 * Of a prediction's variance, what the other measurements have to have settled: then they show it at least as well as the figures of the parts. Where
 * they hardly bear on it there is nothing to contradict, and what they would show by themselves is a quotient of two small numbers.
 */
const KNOWN_AT_LEAST = 0.5;

function contrastOf(
  { mean, residuals, gradients }: Pick<Posterior, 'mean' | 'residuals' | 'gradients'>,
  side: Side,
  { offPrior, off, covariance }: LeftOut,
): Contrast | undefined {
  const weights = solvedBy(covariance)(off);
  const over = (values: ArrayLike<number>) => weights.reduce((sum, weight, k) => sum + weight * (values[k] ?? 0), 0);
  const gradient = Float64Array.from(mean, (_, i) => over(side.lines.map((line) => gradients[line]?.[i] ?? 0)));
  const own = dot(weights, weights);
  const before = dot(gradient, gradient);
  const others = over(covariance.map(over)) - own;
  const isKnown = others > 0 && (side.isAgainstReading || others <= before * (1 - KNOWN_AT_LEAST));
  if (!isKnown) return undefined;
  // Without the prior in it: what the other measurements read, by themselves.
  const measured = side.isAgainstReading ? others : 1 / (1 / others - 1 / before);
  const difference = side.isAgainstReading ? over(off) : measured * (over(off) / others - over(offPrior) / before);
  const spread = Math.sqrt(own + measured);
  const offFit = over(side.lines.map((line) => residuals[line] ?? 0));
  const reach = Math.max(Math.abs(offFit), Math.abs(difference - offFit));
  const weight = measured / (own + measured);
  const birge = Math.sqrt(weight * (1 - weight)) * Math.abs(difference);
  // Of one line, weighted by what it lies off: with the sign of that.
  const sign = Math.sign(weights[0] ?? 1);
  return {
    side,
    gradient,
    deviation: Math.max(birge, deviationOf(reach)),
    off: (sign * difference) / spread,
    far: normalOf((difference / spread) ** 2, side.lines.length),
  };
}

/** A sum of squares of so many normal numbers as one (E. B. Wilson, M. M. Hilferty, PNAS 17 (1931) 684). */
export function normalOf(square: number, count: number): number {
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
