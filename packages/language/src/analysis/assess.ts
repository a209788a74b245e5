/** One build on one pack option, computed: every result with its ±, or the reason why it does not exist. */
import type { Build, Flight, PackOption, Part } from '../model/build.ts';
import { STANDARD_GRAVITY } from '../physics/air.ts';
import { isImpossible } from '../physics/craft.ts';
import { statorVolumeOfMass } from '../vocabulary/estimators.ts';
import type { Assessment, Estimate, FlightResults, Learnt } from './assessment.ts';
import { assessmentOnDemand } from './assessment-on-demand.ts';
import { type Evaluation, evaluate, warmCraft } from './evaluate/evaluation.ts';
import { once } from './evaluate/once.ts';
import { evaluateUnder, FreePoints } from './evaluate/under-limit.ts';
import { learntOf, setAsideOf } from './learn/learn.ts';
import { narrowedContributions } from './learn/narrowing.ts';
import type { SetAside } from './learn/set-aside.ts';
import { flownIn } from './results/flight-results.ts';
import { overlappingOf } from './results/level-flight.ts';
import { namedResults, withPrice } from './results/named-results.ts';
import { PACK_MEASURES } from './results/part-measures.ts';
import type { EstimateOf } from './results/parts-on-demand.ts';
import type { Measure } from './results/reading.ts';
import { measuresOf, type Readings, readingsOf } from './results/readings.ts';
import { type SetupTemplate, setupTemplate } from './setup/craft-setup.ts';
import { dryMass, massLines } from './setup/mass.ts';
import { flightsOn } from './setup/optional.ts';
import { priceOf } from './setup/price-sum.ts';
import type { Setup } from './setup/setup.ts';
import { asItStands, type Deviations, fill, type Leaf, type Shifts, withDeviations } from './setup/template.ts';
import { exact } from './uncertainty/estimate.ts';
import { partDuty } from './uncertainty/model-form.ts';
import { finite, type Propagation, type Pulls, propagate, pullsOf } from './uncertainty/propagate.ts';

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

/** The latest ones: checks and searches need again what was just assessed. All of them would take too much memory. */
let latest: { readonly build: Build; readonly option: PackOption; readonly numbers: Numbers } | undefined;

export function numbersOf(build: Build, option: PackOption): Numbers {
  if (latest?.build === build && latest.option === option) return latest.numbers;
  const learnt = learntOn(build);
  const numbers = learnt
    ? { ...shiftedNumbers(build, option, learnt.deviations), learnt }
    : shiftedNumbers(build, option);
  latest = { build, option, numbers };
  return numbers;
}

/** How its numbers follow from its figures. */
export const templateOf = (build: Build, option: PackOption): SetupTemplate =>
  setupTemplate(build, option, partDuty(thrustPerRotor(build, option), statorVolume(build)));

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

export type Change = (setup: Setup) => Setup;

const UNCHANGED: Change = (setup) => setup;

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
export function assessChanged(build: Build, option: PackOption, change: Change, names: Iterable<string>): Assessment {
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
  change: Change,
  estimatesOf: (evaluation: Evaluation) => EstimateOf,
): Assessment {
  const evaluation = evaluateUnder(change(numbers.setup), new FreePoints());
  const estimateOf = estimatesOf(evaluation);
  const known = new Map<Measure, Estimate | undefined>();
  const { reasons, learnt } = numbers;
  return assessmentOnDemand(
    {
      build,
      option,
      readings: readingsOf(build, option),
      evaluation,
      reasons,
      learnt,
      masses: () => massesOf(build, option, numbers),
      price: () => priceOf(build, option),
      flights: () => flightsOn(build, option),
    },
    (measure) => {
      if (!known.has(measure)) known.set(measure, estimateOf(measure));
      return known.get(measure);
    },
  );
}

/** A craft that differs in figures of its parts, and in the values of its numbers. */
export interface Changed {
  readonly option: PackOption;
  readonly shifts?: Shifts;
  readonly change?: Change;
}

const NO_SHIFTS: Shifts = new Map();

/** With ±, of a craft that differs in figures; not remembered. Each figure keeps its own error: it is the same in both craft. */
export const assessShifted = (build: Build, { option, shifts = NO_SHIFTS, change }: Changed): Assessment =>
  compute(build, option, solved(numbersWith(build, option, shifts), change));

/** The same without any ±. */
export const assessShiftedPlainly = (build: Build, { option, shifts = NO_SHIFTS, change }: Changed): Assessment =>
  plainly(build, option, numbersWith(build, option, shifts), change);

function compute(build: Build, option: PackOption, { evaluation, ...numbers }: Prepared): Assessment {
  const { reasons, deviations, shifts, learnt } = numbers;
  const readings = readingsOf(build, option);
  const { inputs, estimates } = withErrors(numbers, evaluation, measuresOf(build, option, readings));
  return {
    build,
    option,
    inputs,
    ...(learnt && { learnt }),
    ...withPrice(priceOf(build, option), namedResults(readings, estimates, evaluation, reasons)),
    masses: massesOf(build, option, { ...(deviations && { deviations }), ...(shifts && { shifts }) }),
    ...ofParts(build, readings, estimates, evaluation),
    flights: flightsOn(build, option).map((flight, index) =>
      ofFlight(flight, index, build, readings, estimates, evaluation),
    ),
    evaluation,
    points: pointsOf(evaluation),
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
  const { formula } = dryMass(build, option);
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

function statorVolumeOf(motor: Part): number | undefined {
  const { diameter, height } = motor.size('stator')?.named ?? {};
  if (diameter !== undefined && height !== undefined) return diameter ** 2 * height;
  const mass = motor.figure('mass');
  return mass && statorVolumeOfMass(mass.value);
}

/** What has a value, under the same names. */
function present<Key extends string>(
  estimates: ReadonlyMap<Measure, Estimate>,
  measures: Readonly<Record<Key, Measure>>,
): Partial<Record<Key, Estimate>> {
  const found: Partial<Record<Key, Estimate>> = {};
  for (const key of Object.keys(measures) as Key[]) {
    const estimate = estimates.get(measures[key]);
    if (estimate) found[key] = estimate;
  }
  return found;
}

function ofParts(
  build: Build,
  { rotors, loads, rails }: Readings,
  estimates: ReadonlyMap<Measure, Estimate>,
  evaluation: Evaluation,
): Pick<Assessment, 'rotors' | 'loads' | 'rails' | 'pack'> {
  const burst = evaluation.craft?.flight?.burstAtReserve;
  const of = <Key extends string>(measures: Readonly<Record<Key, Measure>> | undefined) =>
    measures ? present(estimates, measures) : {};
  return {
    rotors: build.rotors.map((line, i) => ({ line, ...of(rotors[i]) })),
    loads: build.loads.map((load, i) => ({ load, ...of(loads[i]) })),
    rails: build.rails.map((rail, i) => ({
      rail,
      ...of(rails[i]),
      dropsOut: burst !== undefined && !isImpossible(burst) && burst.rails[i]?.droppedOut === true,
    })),
    pack: of(PACK_MEASURES),
  };
}

function ofFlight(
  flight: Flight,
  index: number,
  build: Build,
  { flights }: Readings,
  estimates: ReadonlyMap<Measure, Estimate>,
  evaluation: Evaluation,
): FlightResults {
  const readings = flights[index];
  const flown = flownIn(evaluation, { index, overlapping: overlappingOf(build) });
  return {
    flight,
    legs: flight.legs.map((leg, i) => ({ leg, ...(readings?.legs[i] && present(estimates, readings.legs[i])) })),
    ...(readings && present(estimates, readings.ofFlight)),
    ...(flown && { flown }),
  };
}

function pointsOf({ craft }: Evaluation): Assessment['points'] {
  if (!craft) return {};
  const { full, fullAtReserve, flight } = craft;
  if (!flight) return { full, fullAtReserve };
  const { hover, hoverAtReserve, burst, burstAtReserve } = flight;
  return { hover, hoverAtReserve, burst, burstAtReserve, full, fullAtReserve };
}
