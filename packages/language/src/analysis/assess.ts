/** One build on one pack option, computed: every result with its ±, or the reason why it does not exist. */
import type { Build, PackOption, Part } from '../model/build.ts';
import { STANDARD_GRAVITY } from '../physics/air.ts';
import { statorVolumeOfMass } from '../vocabulary/estimators.ts';
import type { ResultId } from '../vocabulary/results.ts';
import type { Assessment, Estimate, Learnt } from './assessment.ts';
import { assessmentOnDemand } from './assessment-on-demand.ts';
import { type Evaluation, evaluate, warmCraft } from './evaluate/evaluation.ts';
import { once } from './evaluate/once.ts';
import { evaluateUnder, FreePoints } from './evaluate/under-limit.ts';
import { finite } from './finite.ts';
import { learntOf, setAsideOf } from './learn/learn.ts';
import { narrowedContributions } from './learn/narrowing.ts';
import type { SetAside } from './learn/set-aside.ts';
import { measuresOf, readingsOf } from './results/all-readings.ts';
import type { EstimateOf } from './results/parts-on-demand.ts';
import type { Measure } from './results/reading.ts';
import { type SetupTemplate, setupTemplate } from './setup/craft-setup.ts';
import { dryMassOf, massLines } from './setup/mass.ts';
import type { Setup } from './setup/setup.ts';
import { asItStands, type Deviations, fill, type Leaf, type Shifts, withDeviations } from './setup/template.ts';
import { exact } from './uncertainty/estimate.ts';
import { partDuty } from './uncertainty/model-form.ts';
import { type Propagation, type Pulls, propagate, pullsOf } from './uncertainty/propagate.ts';

const known = new WeakMap<Build, Map<PackOption, Assessment>>();

/** Computed once for each build object and option; a changed file makes new objects. */
export function assess(build: Build, option: PackOption): Assessment {
  const ofBuild = known.get(build) ?? new Map<PackOption, Assessment>();
  known.set(build, ofBuild);
  const found = ofBuild.get(option) ?? compute(build, option, prepare(build, option));
  ofBuild.set(option, found);
  return found;
}

/** A build and option as numbers, and the formulas they came from. */
export interface Numbers {
  readonly setup: Setup;
  /** Of the figures, by what was learnt. */
  readonly deviations?: Deviations;
  readonly shifts?: Shifts;
  readonly learnt?: Learnt;
  readonly leaves: readonly Leaf[];
  readonly reasons: SetupTemplate['reasons'];
}

/** Keeps the latest one: checks and searches need again what was just assessed. All of them would take too much memory. */
function keepingLatest<T>(make: (build: Build, option: PackOption) => T): (build: Build, option: PackOption) => T {
  let latest: { readonly build: Build; readonly option: PackOption; readonly made: T } | undefined;
  return (build, option) => {
    if (latest?.build !== build || latest.option !== option) latest = { build, option, made: make(build, option) };
    return latest.made;
  };
}

export const numbersOf = keepingLatest((build, option): Numbers => {
  const learnt = learntOn(build);
  return learnt ? { ...shiftedNumbers(build, option, learnt.deviations), learnt } : shiftedNumbers(build, option);
});

/** How its numbers follow from its figures. */
export const templateOf = keepingLatest(
  (build, option): SetupTemplate =>
    setupTemplate(build, option, partDuty(thrustPerRotor(build, option), statorVolume(build))),
);

function shiftedNumbers(build: Build, option: PackOption, deviations?: Deviations, shifts?: Shifts): Numbers {
  const { template, reasons } = templateOf(build, option);
  const isMoved = deviations !== undefined || shifts !== undefined;
  const { filled, leaves } = fill<Setup>(template, isMoved ? withDeviations(deviations, shifts) : undefined);
  return { setup: filled, leaves, reasons, ...(deviations && { deviations }), ...(shifts && { shifts }) };
}

function numbersWith(build: Build, option: PackOption, shifts: Shifts): Numbers {
  const learnt = learntOn(build);
  return { ...shiftedNumbers(build, option, learnt?.deviations, shifts), ...(learnt && { learnt }) };
}

/** What was learnt about a build from measurements. */
export const learntOn = (build: Build): Learnt | undefined => learntOf(build, templateOf);

/** Measurements that cannot be right. */
export const setAsideOn = (build: Build): readonly SetAside[] => setAsideOf(build, templateOf);

/** Build and option before any point is solved; windings as warm as they settle. */
export function setupOf(build: Build, option: PackOption): Setup {
  const { setup } = numbersOf(build, option);
  const warm = warmCraft(setup);
  return warm ? { ...setup, craft: warm.craft } : setup;
}

export interface Prepared extends Numbers {
  readonly evaluation: Evaluation;
}

export type SetupChange = (setup: Setup) => Setup;

const UNCHANGED: SetupChange = (setup) => setup;

/** The physics without any ±. */
export const prepare = (build: Build, option: PackOption): Prepared => solved(numbersOf(build, option));

const solved = (numbers: Numbers, change = UNCHANGED): Prepared => ({
  ...numbers,
  evaluation: evaluate(change(numbers.setup)),
});

/**
 * The same without any ±, each number computed when something reads it and not remembered: for searches that try many changes of a setup, many
 * times as fast.
 */
export const assessPlainly = (build: Build, option: PackOption, change = UNCHANGED): Assessment =>
  plainly(build, option, numbersOf(build, option), change);

const plainly = (build: Build, option: PackOption, numbers: Numbers, change = UNCHANGED): Assessment =>
  readOnDemand(build, option, numbers, change, (evaluation) => (measure) => {
    const value = finite(measure.of(evaluation));
    return value === undefined ? undefined : exact(value);
  });

/**
 * With ±, of a changed setup, each result when something reads it; not remembered. A change must leave the setup's shape as it is.
 * @param names of results that will be read: together they take little longer than one
 */
export function assessChanged(
  build: Build,
  option: PackOption,
  change: SetupChange,
  names: Iterable<ResultId>,
): Assessment {
  const numbers = numbersOf(build, option);
  const { byName } = readingsOf(build, option);
  const expected: readonly Measure[] = [...names].flatMap((name) => byName.get(name) ?? []);
  return readOnDemand(build, option, numbers, change, (evaluation) => {
    const errorsOf = once(() => withErrors(numbers, evaluation, expected).estimates);
    return (measure) =>
      expected.includes(measure)
        ? errorsOf().get(measure)
        : withErrors(numbers, evaluation, [measure]).estimates.get(measure);
  });
}

function readOnDemand(
  build: Build,
  option: PackOption,
  numbers: Numbers,
  change: SetupChange,
  estimatesOf: (evaluation: Evaluation) => EstimateOf,
): Assessment {
  const evaluation = evaluateUnder(change(numbers.setup), new FreePoints());
  const estimateOf = estimatesOf(evaluation);
  const known = new Map<Measure, Estimate | undefined>();
  return assessmentOnDemand({ ...ingredientsOf(build, option, numbers), evaluation }, (measure) => {
    if (!known.has(measure)) known.set(measure, estimateOf(measure));
    return known.get(measure);
  });
}

/** A craft that differs in figures of its parts, and in the values of its numbers. */
export interface Changed {
  readonly option: PackOption;
  readonly shifts?: Shifts;
  readonly change?: SetupChange;
}

const NO_SHIFTS: Shifts = new Map();

/** With ±, of a craft that differs in figures; not remembered. Each figure keeps its own error: it is the same in both craft. */
export const assessShifted = (build: Build, { option, shifts = NO_SHIFTS, change }: Changed): Assessment =>
  compute(build, option, solved(numbersWith(build, option, shifts), change));

/** The same without any ±. */
export const assessShiftedPlainly = (build: Build, { option, shifts = NO_SHIFTS, change }: Changed): Assessment =>
  plainly(build, option, numbersWith(build, option, shifts), change);

function compute(build: Build, option: PackOption, { evaluation, ...numbers }: Prepared): Assessment {
  const { inputs, estimates } = withErrors(numbers, evaluation, measuresOf(build, option));
  return assessmentOnDemand({ ...ingredientsOf(build, option, numbers), evaluation, inputs }, (measure) =>
    estimates.get(measure),
  );
}

/** Without its leaves, which would stay in memory as long as the assessment. */
function ingredientsOf(build: Build, option: PackOption, { reasons, learnt, deviations, shifts }: Numbers) {
  return {
    build,
    option,
    readings: readingsOf(build, option),
    reasons,
    learnt,
    masses: () => massesOf(build, option, { ...(deviations && { deviations }), ...(shifts && { shifts }) }),
  };
}

/** With what measurements leave of each ±. */
const withErrors = (numbers: Numbers, evaluation: Evaluation, measures: readonly Measure[]): Propagation =>
  narrowed(propagate(numbers.leaves, evaluation, measures, pullsIn(numbers)), numbers.learnt);

export const pullsIn = ({ leaves, deviations, shifts }: Numbers): Pulls => pullsOf(leaves, deviations, shifts);

export const massesOf = (
  build: Build,
  option: PackOption,
  { deviations, shifts }: Pick<Numbers, 'deviations' | 'shifts'>,
) => massLines(build, option, deviations || shifts ? withDeviations(deviations, shifts) : undefined);

/** With the ± after what was observed. */
export function narrowed({ inputs, estimates }: Propagation, learnt: Learnt | undefined): Propagation {
  if (!learnt || inputs.length === 0) return { inputs, estimates };
  const own = new Set(inputs.map(({ id }) => id));
  const all = [...inputs, ...learnt.figures.filter(({ id }) => !own.has(id))];
  const narrow = narrowedContributions(learnt, all);
  return {
    inputs: all,
    estimates: new Map(
      [...estimates].map(([measure, { value, contributions }]) => [
        measure,
        { value, contributions: narrow(contributions) },
      ]),
    ),
  };
}

/** Weight over the number of rotors, N; of a craft of unknown mass, that of a small one (the wider ±). */
function thrustPerRotor(build: Build, option: PackOption): number {
  const { formula } = dryMassOf(build, option);
  const pack = option.part.figure('mass');
  const rotors = build.rotors.reduce((sum, { count }) => sum + count.value, 0);
  if (!formula || !pack || rotors === 0) return 0.1;
  return ((formula(asItStands) + option.count * asItStands(pack)) * STANDARD_GRAVITY) / rotors;
}

/** Diameter² · height, m³, in the geometric mean over the motors; undefined where one states neither its stator nor its mass. */
function statorVolume({ rotors }: Build): number | undefined {
  let [logarithms, motors] = [0, 0];
  for (const { motor, count } of rotors) {
    const volume = statorVolumeOf(motor);
    if (volume === undefined) return undefined;
    logarithms += count.value * Math.log(volume);
    motors += count.value;
  }
  return motors > 0 ? Math.exp(logarithms / motors) : undefined;
}

function statorVolumeOf(motor: Part<'motor'>): number | undefined {
  const { diameter, height } = motor.size('stator')?.named ?? {};
  if (diameter !== undefined && height !== undefined) return diameter ** 2 * height;
  const mass = motor.figure('mass');
  return mass && statorVolumeOfMass(mass.value);
}
