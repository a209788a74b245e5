/**
 * One fit of all lines that were measured. The prior is what the parts' figures state, each input in its own standard deviations; a residual is what was
 * read less what is predicted, in the line's own; the Jacobian has their slopes. What comes out is the posterior, and for each line what it was, what
 * it is, and what the others make of it.
 */
import type { Figure } from '../../model/build.ts';
import type { Learnt, LearntLine, StandPower } from '../assessment.ts';
import type { Deviations } from '../setup/template.ts';
import { doubtsOf, OUTLYING, offMeasured } from './contradiction.ts';
import {
  gaussNewton,
  type LeastSquares,
  type Linearised,
  NO_POINT,
  type Posterior,
  ROUNDS,
  WHOLE_ROUNDS,
} from './gauss-newton.ts';
import { leavingOut } from './left-out.ts';
import { contradictedOf } from './rivals.ts';
import { type AnyScene, type MeasuredLine, type Prediction, scaledDifference } from './scene.ts';

/** @param rounds of the fit, and how many of them find every slope anew; more only to show that they change nothing */
export function fitOf(scenes: readonly AnyScene[], rounds = ROUNDS, whole = WHOLE_ROUNDS): Learnt | undefined {
  const problem = problemOf(scenes);
  const { figures, lines } = problem;
  if (lines.length === 0) return undefined;
  const posterior = gaussNewton(problem, { rounds, whole });
  const offs = offMeasured(posterior, lines);
  const fitted = lines.map((line, i): LearntLine => {
    const off = offs[i];
    return { ...fittedLine(problem, posterior, line, i), ...(off !== undefined && { offMeasured: off }) };
  });
  compareFarthest(fitted, (without) => {
    const others = gaussNewton(problem, { rounds, whole, without, from: posterior });
    return withoutIt(fitted[without] as LearntLine, others, without);
  });
  const doubts = doubtsOf(posterior, fitted, figures);
  const contradicted = contradictedOf(posterior, fitted, doubts);
  const isNarrowed = new Set(posterior.directions.flatMap(({ along }) => indicesIn(along)));
  return {
    from: [...new Set(lines.map(({ from }) => from))],
    deviations: deviationsAt(figures, posterior.mean),
    figures: [...figures.filter((_, i) => isNarrowed.has(i)), ...doubts.map(({ figure }) => figure)],
    narrowings: posterior.directions.map(({ along, share }) => ({
      along: new Map(indicesIn(along).map((i) => [figures[i]?.id ?? '', along[i] ?? 0])),
      share,
    })),
    doubts,
    ...(contradicted && { contradicted }),
    lines: fitted,
    powers: powersOf(posterior, lines),
  };
}

const indicesIn = (along: Float64Array): number[] => [...along.keys()].filter((i) => along[i] !== 0);

/** All scenes as one problem of least squares. */
interface Problem extends LeastSquares {
  readonly figures: readonly Figure[];
  readonly lines: readonly MeasuredLine[];
  /** Of each line, by the prior alone. */
  readonly prior: readonly Prediction[];
}

function problemOf(scenes: readonly AnyScene[]): Problem {
  const figures = [...new Map(scenes.flatMap((scene) => scene.inputs()).map((one) => [one.id, one])).values()];
  const index = new Map(figures.map(({ id }, i) => [id, i]));
  const lines = scenes.flatMap((scene) => scene.lines);
  const predict = (z: Float64Array, withSlopes: boolean): Prediction[] => {
    const deviations = deviationsAt(figures, z);
    return scenes.flatMap((scene) => scene.linearise(deviations, withSlopes));
  };
  const prior = predict(new Float64Array(figures.length), true);
  const residualsOf = (predictions: readonly Prediction[]) =>
    Float64Array.from(lines, (line, i) => residualOf(line, predictions[i]?.value, prior[i]?.value));
  const jacobianRow = ({ error }: MeasuredLine, slopes: Prediction['slopes'] = new Map()): Float64Array => {
    const row = new Float64Array(figures.length);
    for (const [id, slope] of slopes) {
      const at = index.get(id);
      if (at !== undefined && Number.isFinite(slope)) row[at] = slope / error;
    }
    return row;
  };
  return {
    figures,
    lines,
    prior,
    inputs: figures.length,
    residualsAt: (z) => residualsOf(predict(z, false)),
    linearise: (z): Linearised => {
      const predictions = predict(z, true);
      return {
        residuals: residualsOf(predictions),
        gradients: lines.map((line, i) => jacobianRow(line, predictions[i]?.slopes)),
      };
    },
  };
}

const deviationsAt = (figures: readonly Figure[], z: Float64Array): Deviations =>
  new Map(figures.flatMap(({ id }, i) => (z[i] === 0 ? [] : [[id, z[i] ?? 0] as const])));

/** The reading that lies so far above what it is compared with. */
const readingAt = ({ value, isPlain }: MeasuredLine, difference: number): number =>
  isPlain ? value - difference : value * Math.exp(-difference);

/** Where there was a point before any measurement, no measurement leads to where there is none. */
function residualOf(line: MeasuredLine, predicted: number | undefined, before: number | undefined): number {
  if (predicted === undefined) return before === undefined ? 0 : NO_POINT;
  const residual = scaledDifference(line, predicted) / line.error;
  return Number.isFinite(residual) ? residual : 0;
}

function fittedLine(
  { prior }: Problem,
  { residuals, leverages }: Posterior,
  line: MeasuredLine,
  i: number,
): LearntLine {
  const { value: before, slopes = new Map<string, number>() } = prior[i] ?? {};
  const residual = residuals[i] ?? 0;
  // A line that decides everything about itself cannot lie off.
  const left = Math.max(1e-9, 1 - (leverages[i] ?? 0));
  const isPredicted = before !== undefined && Math.abs(residual) < NO_POINT;
  return {
    ...line,
    before,
    beforeDeviation: Math.hypot(...slopes.values()),
    slopes: new Map([...slopes].map(([id, slope]) => [id, slope / line.error])),
    after: isPredicted ? readingAt(line, residual * line.error) : undefined,
    // Its residual grows by what it has decided about itself.
    otherwise: readingAt(line, (residual * line.error) / left),
    otherwiseDeviation: line.error * Math.sqrt((1 - left) / left),
    outlying: residual / Math.sqrt(left),
  };
}

/** More are not fitted anew: only the farthest is ever reported. */
const MOST_ANEW = 4;

/**
 * A line far off has moved the fit to where the others would not be, and slopes change on the way: the farthest is compared with a fit without it, until
 * the farthest is one of these.
 */
function compareFarthest(lines: LearntLine[], anew: (index: number) => LearntLine): void {
  const isAnew = new Set<number>();
  while (isAnew.size < MOST_ANEW) {
    const index = lines.reduce((most, { outlying }, i) => (isFarther(outlying, lines[most]?.outlying) ? i : most), 0);
    if (isAnew.has(index) || !isFarther(lines[index]?.outlying ?? 0, OUTLYING)) return;
    isAnew.add(index);
    lines[index] = anew(index);
  }
}

const isFarther = (one: number, other = 0): boolean => Math.abs(one) > Math.abs(other);

/** A line compared with a fit of all the others. */
function withoutIt(line: LearntLine, { residuals, gradients, varianceOf }: Posterior, index: number): LearntLine {
  const residual = residuals[index] ?? 0;
  // Where the others leave no such point, what was predicted before anything was measured is all there is.
  const hasPoint = Math.abs(residual) < NO_POINT;
  const otherwise = hasPoint ? readingAt(line, residual * line.error) : (line.before ?? line.value);
  const otherwiseDeviation = hasPoint
    ? line.error * Math.sqrt(varianceOf(gradients[index] ?? new Float64Array(0)))
    : line.beforeDeviation;
  return {
    ...line,
    otherwise,
    otherwiseDeviation,
    outlying: scaledDifference(line, otherwise) / Math.hypot(line.error, otherwiseDeviation),
  };
}

/** Of stands that report no torque (with it motor and propeller are distinguished), where no flight measured the same power. */
function powersOf(posterior: Posterior, lines: readonly MeasuredLine[]): StandPower[] {
  if (lines.some(({ row, reading }) => row === undefined && reading !== 'scale')) return [];
  const rows = lines.map((line, index) => ({ line, index })).filter(({ line }) => line.row !== undefined);
  const stands = new Set(rows.map(({ line: { source } }) => source));
  return [...stands].flatMap((stand): StandPower[] => {
    const of = (...readings: readonly string[]) =>
      rows.filter(({ line: { source, reading } }) => source === stand && readings.includes(reading));
    const taken = of('current', 'power');
    const [first] = taken;
    if (!first || of('thrust').length === 0 || of('torque').length > 0) return [];
    const { off, covariance } = leavingOut(posterior)(taken.map(({ index }) => index));
    const weights = Float64Array.from(taken, ({ line: { error } }) => error / taken.length);
    const over = (values: Float64Array) => values.reduce((sum, value, i) => sum + value * (weights[i] ?? 0), 0);
    const deviation = Math.sqrt(over(Float64Array.from(covariance, over)));
    return [{ line: first.line, difference: over(off), deviation }];
  });
}
