/** One build on one pack option, computed: every result with its ±, or the reason why it does not exist. */
import type { Build, Flight, PackOption, Part } from '../model/build.ts';
import { STANDARD_GRAVITY } from '../physics/air.ts';
import { isImpossible } from '../physics/craft.ts';
import { statorVolumeOfMass } from '../vocabulary/estimators.ts';
import { resultOf } from '../vocabulary/results.ts';
import type {
  Assessment,
  Estimate,
  FlightResults,
  Learnt,
  LoadResults,
  NoResult,
  RailResults,
  Result,
  RotorResults,
} from './assessment.ts';
import { type Evaluation, evaluate, warmCraft } from './evaluate/evaluation.ts';
import { hoverTimeCost } from './evaluate/nearby.ts';
import { reasonFor } from './explain/reasons.ts';
import { learntOf, narrowedContributions } from './learn/learn.ts';
import { type NamedMeasure, resultMeasures } from './results/all-results.ts';
import { type FlightReadings, flightReadings, flownIn } from './results/flight-results.ts';
import { RESULT_COMPUTATIONS } from './results/generated/results.ts';
import { overlappingOf } from './results/level-flight.ts';
import { loadMeasures, type MeasuresOf, PACK_MEASURES, railMeasures, rotorMeasures } from './results/part-measures.ts';
import type { Measure } from './results/reading.ts';
import { type SetupTemplate, setupTemplate } from './setup/craft-setup.ts';
import { dryMass, massLines } from './setup/mass.ts';
import { flightsOn } from './setup/optional.ts';
import { type Price, priceOf } from './setup/price-sum.ts';
import type { Setup } from './setup/setup.ts';
import { asItStands, type Deviations, fill, type Leaf, type Shifts, withDeviations } from './setup/template.ts';
import { exact } from './uncertainty/estimate.ts';
import { partDuty } from './uncertainty/model-form.ts';
import { type Propagation, propagate, withoutUncertainty } from './uncertainty/propagate.ts';

const known = new WeakMap<Build, Map<PackOption, Assessment>>();

/** Computed once for each build object and option; a changed file makes new objects. */
export function assess(build: Build, option: PackOption): Assessment {
  const ofBuild = known.get(build) ?? new Map<PackOption, Assessment>();
  known.set(build, ofBuild);
  const found = ofBuild.get(option) ?? compute(build, option, prepare(build, option), propagate);
  ofBuild.set(option, found);
  return found;
}

/** A build and option as numbers, and the formulas they came from. */
interface Numbers {
  readonly setup: Setup;
  /** Of the figures, by what was learnt. */
  readonly deviations?: Deviations;
  readonly shifts?: Shifts;
  readonly learnt?: Learnt;
  readonly leaves: readonly Leaf[];
  readonly reasons: SetupTemplate['reasons'];
}

/** The latest ones: checks and searches need again what was just assessed. All of them would take too much room. */
let latest: { readonly build: Build; readonly option: PackOption; readonly numbers: Numbers } | undefined;

function numbersOf(build: Build, option: PackOption): Numbers {
  if (latest?.build === build && latest.option === option) return latest.numbers;
  const learnt = learntOn(build);
  const numbers = learnt
    ? { ...shiftedNumbers(build, option, learnt.deviations), learnt }
    : shiftedNumbers(build, option);
  latest = { build, option, numbers };
  return numbers;
}

/** How its numbers arise from its figures. */
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

/** What measurements have taught a build. */
export const learntOn = (build: Build): Learnt | undefined => learntOf(build, templateOf);

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

/** A result that is read off, with what it is called. */
interface NamedReading {
  readonly measure: NamedMeasure;
  readonly label: string;
  readonly unit: string;
}

/** All that is read off an evaluation of a build: its results, and what the limits of its parts are held against. */
interface Readings {
  readonly results: readonly NamedReading[];
  readonly rotors: readonly MeasuresOf<RotorResults>[];
  readonly loads: readonly MeasuresOf<LoadResults>[];
  readonly rails: readonly MeasuresOf<RailResults>[];
  readonly flights: readonly FlightReadings[];
}

/** Candidates by the thousand have the same rails, as many rotors and loads, and the same flights. */
const knownReadings = new WeakMap<Build['rails'], Map<string, Readings>>();

function readingsOf(build: Build, option: PackOption): Readings {
  const { rails, rotors, loads } = build;
  const ofRails = knownReadings.get(rails) ?? new Map<string, Readings>();
  knownReadings.set(rails, ofRails);
  const flights = flightsOn(build, option);
  const flown = flights.map(({ name, legs }) => `${name} ${legs.length}`);
  const shape = [loads.length, ...rotors.map(({ position }) => position), ...flown].join();
  const found = ofRails.get(shape) ?? {
    results: resultMeasures(build, option).flatMap((measure) => {
      const { label, unit } = resultOf(measure.name) ?? {};
      return label === undefined || unit === undefined ? [] : [{ measure, label, unit }];
    }),
    rotors: rotors.map((_, i) => rotorMeasures(i)),
    loads: loads.map((_, i) => loadMeasures(i)),
    rails: rails.map((rail, i) => railMeasures(i, rail)),
    flights: flights.map(({ legs }, index) =>
      flightReadings({ index, overlapping: overlappingOf(build) }, legs.length),
    ),
  };
  ofRails.set(shape, found);
  return found;
}

const knownMeasures = new WeakMap<Readings, readonly Measure[]>();

/** Quantities of parts behind the results. */
export function measuresOf(build: Build, option: PackOption, readings = readingsOf(build, option)): readonly Measure[] {
  const { results, rotors, loads, rails, flights } = readings;
  const all = knownMeasures.get(readings) ?? [
    ...results.map(({ measure }) => measure),
    ...flights.flatMap(({ ofFlight, legs }) => [ofFlight, ...legs].flatMap((one) => Object.values<Measure>(one))),
    ...[...rotors, ...loads, ...rails, PACK_MEASURES].flatMap((measures) => Object.values<Measure>(measures)),
  ];
  knownMeasures.set(readings, all);
  return all;
}

/** The same without any ±, many times as fast and not remembered: for searches that try many changes of a setup. */
export const assessPlainly = (build: Build, option: PackOption, change = UNCHANGED): Assessment =>
  compute(build, option, solved(numbersOf(build, option), change), withoutUncertainty);

/** How much of a craft is computed. */
export interface Extent {
  /** What a gram costs takes a flight more to compute. */
  readonly gramCost: boolean;
  /** These results alone, with their ±; everything without any ± where it is absent. */
  readonly only?: ReadonlySet<string>;
}

/** A known craft under another duty limit: its numbers are read once, and so is what its lines weigh. Not remembered. */
export function assessLimited({ build, option: full }: Known, option: PackOption, extent: Extent): Assessment {
  const { gramCost, only } = extent;
  const numbers = numbersOf(build, full);
  const { leaves, deviations, shifts, learnt, reasons } = numbers;
  const { evaluation } = solved(numbers, withDuty(option.dutyLimit.value));
  const all = readingsOf(build, full);
  const readings = only ? { ...all, results: all.results.filter(({ measure }) => only.has(measure.name)) } : all;
  const measures = only ? readings.results.map(({ measure }) => measure) : measuresOf(build, full, readings);
  const { inputs, estimates } = only
    ? narrowed(propagate(leaves, evaluation, measures, deviations, shifts), learnt)
    : withoutUncertainty(leaves, evaluation, measures);
  return {
    build,
    option,
    inputs,
    ...(learnt && { learnt }),
    ...withPrice(knownPrice({ build, option: full }), namedResults(readings, estimates, evaluation, reasons, gramCost)),
    get masses() {
      return massesOf(build, full, numbers);
    },
    ...ofParts(build, readings, estimates, evaluation),
    get flights() {
      return flightsOn(build, full).map((flight, index) =>
        ofFlight(flight, index, build, readings, estimates, evaluation),
      );
    },
    evaluation,
    points: pointsOf(evaluation),
  };
}

export interface Known {
  readonly build: Build;
  readonly option: PackOption;
}

const withDuty =
  (dutyLimit: number): Change =>
  ({ craft, ...setup }) => ({ ...setup, dutyLimit, ...(craft && { craft: { ...craft, dutyLimit } }) });

/** With ±, of a changed setup; not remembered. A change must leave the setup's shape as it is. */
export const assessChanged = (build: Build, option: PackOption, change: Change): Assessment =>
  compute(build, option, solved(numbersOf(build, option), change), propagate);

/** A craft that differs in figures of its parts, and in what its numbers then come to. */
export interface Changed {
  readonly option: PackOption;
  readonly shifts?: Shifts;
  readonly change?: Change;
}

const NO_SHIFTS: Shifts = new Map();

/** With ±, of a craft that differs in figures; not remembered. Each figure keeps its own error: it is the same in both craft. */
export const assessShifted = (build: Build, { option, shifts = NO_SHIFTS, change }: Changed): Assessment =>
  compute(build, option, solved(numbersWith(build, option, shifts), change), propagate);

/** The same without any ±. */
export const assessShiftedPlainly = (build: Build, { option, shifts = NO_SHIFTS, change }: Changed): Assessment =>
  compute(build, option, solved(numbersWith(build, option, shifts), change), withoutUncertainty);

function compute(
  build: Build,
  option: PackOption,
  { evaluation, leaves, reasons, deviations, shifts, learnt }: Prepared,
  propagation: typeof propagate,
): Assessment {
  const readings = readingsOf(build, option);
  const { inputs, estimates } = narrowed(
    propagation(leaves, evaluation, measuresOf(build, option, readings), deviations, shifts),
    learnt,
  );
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

const massesOf = (build: Build, option: PackOption, { deviations, shifts }: Pick<Numbers, 'deviations' | 'shifts'>) =>
  massLines(build, option, deviations || shifts ? withDeviations(deviations, shifts) : undefined);

/** With the ± that observations leave. */
function narrowed({ inputs, estimates }: Propagation, learnt: Learnt | undefined): Propagation {
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

/**
 * Hover time goes nearly as a power of the mass, so what a gram costs goes as time over mass, and so do its errors.
 * (The slope of the slope is left out.)
 */
function gramCostTime(evaluation: Evaluation, results: ReadonlyMap<string, Result>): Estimate | undefined {
  const value = evaluation.craft && hoverTimeCost(evaluation.craft);
  const time = results.get('hover_time')?.estimate;
  const mass = results.get('all_up_weight')?.estimate;
  if (value === undefined || !time?.value || !mass) return undefined;
  return {
    value,
    contributions: time.contributions.map(
      (share, i) => value * (share / time.value - (mass.contributions[i] ?? 0) / mass.value),
    ),
  };
}

function namedResults(
  readings: Readings,
  estimates: ReadonlyMap<Measure, Estimate>,
  evaluation: Evaluation,
  reasons: SetupTemplate['reasons'],
  gramCost = true,
): Pick<Assessment, 'results' | 'missing'> {
  const results = new Map<string, Result>();
  const missing = new Map<string, NoResult>();
  const tell = (
    { name, label, unit }: Pick<Result, 'name' | 'label' | 'unit'>,
    { needs, reason }: Pick<NamedMeasure, 'needs' | 'reason'>,
    estimate: Estimate | undefined,
  ) => {
    if (estimate) results.set(name, { name, label, unit, estimate });
    else missing.set(name, { name, label, reason: reason?.(evaluation) ?? reasonFor(needs, evaluation, reasons) });
  };
  for (const { measure, label, unit } of readings.results)
    tell({ name: measure.name, label, unit }, measure, estimates.get(measure));
  const cost = gramCost ? resultOf('gram_cost_time') : undefined;
  if (cost) tell(cost, RESULT_COMPUTATIONS.gram_cost_time, gramCostTime(evaluation, results));
  return { results, missing };
}

const knownPrices = new WeakMap<Build, { readonly option: PackOption; readonly price: Price }>();

function knownPrice({ build, option }: Known): Price {
  const found = knownPrices.get(build);
  if (found?.option === option) return found.price;
  const price = priceOf(build, option);
  knownPrices.set(build, { option, price });
  return price;
}

/** It takes no physics, and has no ±. */
function withPrice<T extends Pick<Assessment, 'results' | 'missing'>>(price: Price, named: T): T {
  const { label = '' } = resultOf('price') ?? {};
  if ('unknown' in price) return named;
  if ('reason' in price)
    return { ...named, missing: new Map(named.missing).set('price', { name: 'price', label, reason: price.reason }) };
  const { value, currency } = price;
  const result = { name: 'price', label, unit: currency, estimate: exact(value) };
  return { ...named, results: new Map(named.results).set('price', result) };
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
