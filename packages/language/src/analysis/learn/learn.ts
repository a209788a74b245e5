/**
 * What measurements teach a build: all lines about it go through one fit, so that each counts once. The formulation, its numbers and their
 * standing are on the reference page `learning.md`.
 */
import { isAbout, isSamePart } from '../../model/benches.ts';
import type { Bench, Build, Figure, PackOption } from '../../model/build.ts';
import type { Craft } from '../../physics/craft.ts';
import type { Assessment, Learnt, LearntLine, StandPower } from '../assessment.ts';
import { fullDutyOf } from '../setup/basis.ts';
import type { SetupTemplate } from '../setup/craft-setup.ts';
import type { Setup } from '../setup/setup.ts';
import type { Deviations, Formula, Template } from '../setup/template.ts';
import { sinceThen } from './ageing.ts';
import {
  gaussNewton,
  type Linearised,
  leftOut,
  NO_POINT,
  type Posterior,
  ROUNDS,
  WHOLE_ROUNDS,
} from './gauss-newton.ts';
import { packsObserved } from './observed-lines.ts';
import type { AnyScene, MeasuredLine, Prediction } from './scene.ts';
import { type Screened, type SetAside, screenedFlight, screenedLog, screenedStand } from './set-aside.ts';
import { standScene } from './stand-lines.ts';
import { type BenchRow, coefficientsOfRow, faultOf } from './stand-rows.ts';

/** How the numbers of a build with an option arise from its figures. */
export type TemplateOf = (build: Build, option: PackOption) => SetupTemplate;

/** Builds that are to be computed as if nothing had been measured on them. */
const unlearning = new WeakMap<Build, Build>();
const unlearnt = new WeakSet<Build>();

const unobserved = new WeakMap<Build, Build>();

/** The build as its parts' own figures have it, no scale read either. */
export function beforeObserving(build: Build): Build {
  const known = unobserved.get(build) ?? { ...build, observations: [] };
  unobserved.set(build, known);
  unlearnt.add(known);
  return known;
}

/** The build before anything was learnt; the same object each time, so that it is assessed once. */
export function beforeLearning(build: Build): Build {
  const known = unlearning.get(build) ?? { ...build };
  unlearning.set(build, known);
  unlearnt.add(known);
  return known;
}

/** Builds that differ from another one in nothing that measurements are about: in a duty limit, or in what is required. */
const alike = new WeakMap<Build, Build>();

/** Whatever is learnt of one is what is learnt of the other: it is then fitted once. */
export function learnsAs(build: Build, other: Build): void {
  alike.set(build, other);
}

const known = new WeakMap<Build, Learnt | undefined>();

/** Undefined where nothing that was measured counts. */
export function learntOf(build: Build, templateOf: TemplateOf): Learnt | undefined {
  if (unlearnt.has(build)) return undefined;
  const other = alike.get(build);
  if (other) return learntOf(other, templateOf);
  if (!known.has(build)) known.set(build, learn(measuredOf(build, templateOf).scenes));
  return known.get(build);
}

export interface Measured {
  readonly scenes: readonly AnyScene[];
  /** What cannot be: nothing is learnt from it. */
  readonly aside: readonly SetAside[];
}

const measured = new WeakMap<Build, Measured>();

/** All that was measured about a build. */
export function measuredOf(build: Build, templateOf: TemplateOf): Measured {
  const found = measured.get(build) ?? screened(build, templateOf);
  measured.set(build, found);
  return found;
}

function screened(build: Build, templateOf: TemplateOf): Measured {
  const all = [build, ...build.kin().map((kin) => kin.build)].flatMap(packsObserved);
  const flights = all.flatMap((seen): Screened[] => {
    const then = sinceThen(seen, all);
    const observed = then ? { ...seen, then } : seen;
    const template = asItWas(templateOf(observed.build, observed.option).template, then);
    const flight = screenedFlight(observed, template);
    return [flight, ...(observed.observation.log ? [screenedLog(observed, template, flight.isLeft)] : [])];
  });
  const found = [...flights, ...standsOf(build, templateOf)];
  return {
    scenes: found.flatMap(({ scene }) => scene ?? []),
    aside: found.flatMap(({ aside }) => aside),
  };
}

/** What was set aside of that. */
export function setAsideOf(build: Build, templateOf: TemplateOf): readonly SetAside[] {
  if (unlearnt.has(build)) return [];
  return measuredOf(alike.get(build) ?? build, templateOf).aside;
}

/** With the pack as it was on that day. */
function asItWas(template: Template<Setup>, then: Figure | undefined): Template<Setup> {
  const { craft } = template as { readonly craft?: Template<Craft> };
  if (!then || !craft) return template;
  const today = craft.pack.positionResistance;
  const positionResistance: Formula = (read) => (typeof today === 'number' ? today : today(read)) * read(then);
  return { ...template, craft: { ...craft, pack: { ...craft.pack, positionResistance } } } as Template<Setup>;
}

function standsOf(build: Build, templateOf: TemplateOf): Screened[] {
  const [option] = build.packs;
  const benches = build.benches.filter((bench) => isOfUse(build, bench));
  if (benches.length === 0) return [];
  if (!option) return [];
  const { partDuty } = templateOf(build, option);
  return benches.map((bench) => {
    const diameter = bench.part.part('propeller')?.figure('diameter');
    const inDuct = bench.part.part('airframe') !== undefined;
    const isCounted = (row: BenchRow) => {
      const coefficients = diameter && coefficientsOfRow(row, diameter);
      return !coefficients || faultOf(row, coefficients, inDuct) === undefined;
    };
    const terms = { partDuty, fullDuty: fullDutyOf(build) };
    return screenedStand((isLeft) => standScene(build, bench, isCounted, terms, isLeft));
  });
}

/** A stand in another craft's ducts is little evidence about this one. */
function isOfUse({ rotors, airframe }: Build, bench: Bench): boolean {
  const duct = bench.part.part('airframe');
  if (duct && !(airframe && isSamePart(airframe.part, duct))) return false;
  return rotors.some(({ propeller }) => isAbout(bench, propeller));
}

/** A line contradicts the others from so many standard deviations on. */
export const OUTLYING = 3;

/** Fits by the text of all that they depend on: an edit elsewhere in a file makes new objects with the same numbers. */
const kept = new Map<string, Learnt | undefined>();
const MOST_KEPT = 256;

function learn(scenes: readonly AnyScene[]): Learnt | undefined {
  if (scenes.length === 0) return undefined;
  const content = scenes.map((scene) => scene.content()).join('\n');
  const found = kept.get(content);
  if (found) return inPlace(found, scenes);
  const learnt = learnAnew(scenes);
  if (kept.size >= MOST_KEPT) kept.delete(kept.keys().next().value ?? '');
  kept.set(content, learnt);
  return learnt;
}

/** The same of objects made anew: an edit moves places, not numbers. */
function inPlace(learnt: Learnt, scenes: readonly AnyScene[]): Learnt {
  const lines = scenes.flatMap((scene) => scene.lines);
  const figures = new Map(scenes.flatMap((scene) => scene.inputs()).map((one) => [one.id, one]));
  return {
    ...learnt,
    figures: learnt.figures.map((figure) => figures.get(figure.id) ?? figure),
    lines: learnt.lines.map((line, i) => ({ ...line, ...lines[i] })),
    powers: learnt.powers.map((power) => ({
      ...power,
      line: lines.find(({ label, source }) => label === power.line.label && source === power.line.source) ?? power.line,
    })),
  };
}

/** @param rounds of the fit, and how many of them find every slope anew; more only to show that they change nothing */
export function learnAnew(scenes: readonly AnyScene[], rounds = ROUNDS, whole = WHOLE_ROUNDS): Learnt | undefined {
  const figures = [...new Map(scenes.flatMap((scene) => scene.inputs()).map((one) => [one.id, one])).values()];
  const index = new Map(figures.map(({ id }, i) => [id, i]));
  const lines = scenes.flatMap((scene) => scene.lines);
  if (lines.length === 0) return undefined;

  const deviationsAt = (z: Float64Array): Deviations =>
    new Map(figures.flatMap(({ id }, i) => (z[i] === 0 ? [] : [[id, z[i] ?? 0] as const])));
  const predict = (z: Float64Array, slopes: boolean) =>
    scenes.flatMap((scene) => scene.linearise(deviationsAt(z), slopes));
  const onScale = (i: number, value: number): number => (lines[i]?.isPlain ? value : Math.log(value));
  const residualOf = (i: number, { value }: Prediction): number => {
    const { value: read = 0, error = 1 } = lines[i] ?? {};
    const difference = value === undefined ? 0 : (onScale(i, read) - onScale(i, value)) / error;
    return Number.isFinite(difference) ? difference : 0;
  };
  const before = predict(new Float64Array(figures.length), true);
  const linearise = (z: Float64Array): Linearised => {
    const predictions = z.every((one) => one === 0) ? before : predict(z, true);
    return {
      residuals: Float64Array.from(predictions, (one, i) => residualOf(i, one)),
      gradients: predictions.map(({ slopes }, i) => {
        const gradient = new Float64Array(figures.length);
        const { error = 1 } = lines[i] ?? {};
        for (const [id, slope] of slopes) {
          const at = index.get(id);
          if (at !== undefined && Number.isFinite(slope)) gradient[at] = slope / error;
        }
        return gradient;
      }),
    };
  };
  // Where there was a point before any measurement, no measurement leads to where there is none.
  const residualsAt = (z: Float64Array): Float64Array =>
    Float64Array.from(predict(z, false), (one, i) =>
      one.value === undefined && before[i]?.value !== undefined ? NO_POINT : residualOf(i, one),
    );

  const fitted = (left?: number): Posterior =>
    gaussNewton(
      figures.length,
      (z) => without(left, linearise(z)),
      (z) => withoutOne(left, residualsAt(z)),
      rounds,
      whole,
    );
  const posterior = fitted();
  const after = predict(posterior.mean, false);
  const learntLines = lines.map(
    (line, i): LearntLine => ({
      ...line,
      before: before[i]?.value,
      beforeDeviation: Math.hypot(...(before[i]?.slopes.values() ?? [])),
      slopes: new Map([...(before[i]?.slopes ?? [])].map(([id, slope]) => [id, slope / line.error])),
      after: after[i]?.value,
      ...otherwiseOf(line, posterior, i),
      outlying: outlyingOf(posterior, i),
    }),
  );
  fitWithoutFarthest(learntLines, (i) => {
    const others = fitted(i);
    const prediction = predict(others.mean, true)[i];
    if (prediction?.value === undefined) return undefined;
    const slopes = figures.map(({ id }) => prediction.slopes.get(id) ?? 0);
    return { value: prediction.value, deviation: Math.hypot(...narrowedAlong(others.directions, slopes)) };
  });
  const isMoved = new Set<number>();
  for (const { along } of posterior.directions) for (const [i, x] of along.entries()) if (x !== 0) isMoved.add(i);
  return {
    from: [...new Set(lines.map(({ from }) => from))],
    deviations: deviationsAt(posterior.mean),
    figures: figures.filter((_, i) => isMoved.has(i)),
    narrowings: posterior.directions.map(({ along, share }) => ({
      along: new Map(figures.flatMap(({ id }, i) => (along[i] ? [[id, along[i] ?? 0] as const] : []))),
      share,
    })),
    lines: learntLines,
    powers: powersOf(posterior, lines),
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
    const { off, covariance } = leftOut(
      posterior,
      taken.map(({ index }) => index),
    );
    const weights = Float64Array.from(taken, ({ line: { error } }) => error / taken.length);
    const over = (values: Float64Array) => values.reduce((sum, value, i) => sum + value * (weights[i] ?? 0), 0);
    const deviation = Math.sqrt(over(Float64Array.from(covariance, over)));
    return [{ line: first.line, difference: over(off), deviation }];
  });
}

/** The prediction of a line by everything else: its residual grows by what it has decided about itself. */
function otherwiseOf(
  { value, error, isPlain }: MeasuredLine,
  { residuals, leverages }: Posterior,
  i: number,
): Pick<LearntLine, 'otherwise' | 'otherwiseDeviation'> {
  const left = Math.max(1e-9, 1 - (leverages[i] ?? 0));
  const difference = ((residuals[i] ?? 0) * error) / left;
  return {
    otherwise: isPlain ? value - difference : value * Math.exp(-difference),
    otherwiseDeviation: error * Math.sqrt((1 - left) / left),
  };
}

/** Of a residual, in the standard deviations that the fit leaves it: a line that decides everything about itself cannot lie off. */
function outlyingOf({ residuals, leverages }: Posterior, i: number): number {
  return (residuals[i] ?? 0) / Math.sqrt(Math.max(1e-9, 1 - (leverages[i] ?? 0)));
}

/** More are not fitted anew: only the farthest is ever reported. */
const MOST_ANEW = 4;

/**
 * A line far off has moved the fit to where the others would not be, and slopes change on the way: the farthest is compared with a fit without it, until
 * the farthest is one of these.
 */
function fitWithoutFarthest(
  lines: LearntLine[],
  othersOf: (index: number) => { readonly value: number; readonly deviation: number } | undefined,
): void {
  const isAnew = new Set<number>();
  while (isAnew.size < MOST_ANEW) {
    const index = lines.reduce((most, { outlying }, i) => (isFarther(outlying, lines[most]?.outlying) ? i : most), 0);
    const line = lines[index];
    if (!line || isAnew.has(index) || !isFarther(line.outlying, OUTLYING)) return;
    isAnew.add(index);
    // Where the others leave no such point, what was predicted before anything was measured is all there is.
    const others = othersOf(index) ?? { value: line.before ?? line.value, deviation: line.beforeDeviation };
    const difference = line.isPlain ? line.value - others.value : Math.log(line.value / others.value);
    lines[index] = {
      ...line,
      otherwise: others.value,
      otherwiseDeviation: others.deviation,
      outlying: difference / Math.hypot(line.error, others.deviation),
    };
  }
}

const isFarther = (one: number, other = 0): boolean => Math.abs(one) > Math.abs(other);

const withoutOne = (left: number | undefined, residuals: Float64Array): Float64Array =>
  left === undefined ? residuals : residuals.map((residual, i) => (i === left ? 0 : residual));

/** As if one line had never been measured. */
function without(left: number | undefined, { residuals, gradients }: Linearised): Linearised {
  if (left === undefined) return { residuals, gradients };
  return {
    residuals: withoutOne(left, residuals),
    gradients: gradients.map((gradient, i) => (i === left ? new Float64Array(gradient.length) : gradient)),
  };
}

/** A change along inputs, as measurements leave it. */
function narrowedAlong(directions: Posterior['directions'], slopes: ArrayLike<number>): Float64Array {
  const result = Float64Array.from(slopes);
  for (const { along, share } of directions) {
    let dot = 0;
    for (let i = 0; i < along.length; i++) dot += (along[i] ?? 0) * (result[i] ?? 0);
    for (let i = 0; i < along.length; i++) result[i] = (result[i] ?? 0) - share * dot * (along[i] ?? 0);
  }
  return result;
}

/** Contributions of all inputs, as measurements leave them. Inputs that only they have come last. */
export function narrowedContributions(
  learnt: Learnt,
  inputs: readonly Pick<Figure, 'id'>[],
): (contributions: Float64Array) => Float64Array {
  const vectors = learnt.narrowings.map(({ along, share }) => ({
    along: Float64Array.from(inputs, ({ id }) => along.get(id) ?? 0),
    share,
  }));
  return (contributions) => {
    const result = new Float64Array(inputs.length);
    result.set(contributions);
    return narrowedAlong(vectors, result);
  };
}

/** Deviation of an assessment's figures when its inputs deviate, each in its standard deviations. */
export function deviationsOf({ inputs, learnt }: Assessment, deviations: Float64Array): Deviations {
  const spread = learnt ? narrowedContributions(learnt, inputs)(deviations) : deviations;
  return new Map(inputs.map(({ id }, i) => [id, (spread[i] ?? 0) + (learnt?.deviations.get(id) ?? 0)]));
}
