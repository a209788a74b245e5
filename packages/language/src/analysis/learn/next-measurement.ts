/**
 * What to measure next: each measurement that some tools allow, and the ± that it would leave of a result. It is taken as one more scene of the fit with
 * every reading at its prediction: how wide the posterior is does not depend, to first order, on what is read.
 */
import { isAbout } from '../../model/benches.ts';
import type { Bench, Build, Figure, Observation, PackOption, Part } from '../../model/build.ts';
import { draftPart, partWith } from '../../model/made-parts.ts';
import { namedByLabel } from '../../model/named.ts';
import type { Chemistry } from '../../physics/craft.ts';
import { NONE } from '../../units/dimension.ts';
import { deviationOf, plusMinusOf } from '../../units/interval.ts';
import { COLUMNS } from '../../vocabulary/columns.ts';
import { MEASURING_TOOLS, type MeasuringTool as Tool } from '../../vocabulary/measuring.ts';
import { schemaOf } from '../../vocabulary/properties.ts';
import { learntOn, templateOf } from '../assess.ts';
import type { Assessment, Estimate } from '../assessment.ts';
import { fullDutyOf } from '../setup/basis.ts';
import { cellsInSeries, chemistryOf, flyingShare } from '../setup/pack-setup.ts';
import type { Setup } from '../setup/setup.ts';
import type { Template } from '../setup/template.ts';
import { ends, expanded } from '../uncertainty/estimate.ts';
import { worthMeasuring } from '../uncertainty/sensitivity.ts';
import { type FlightReading, isReading, READINGS } from './flight-readings.ts';
import {
  type ExpectedLine,
  MEASUREMENT_KINDS,
  type Measurement,
  type MeasurementKind,
  USUAL_TOOLS,
} from './measurement-kinds.ts';
import { narrowedContributions } from './narrowing.ts';
import { flightScene } from './observed-lines.ts';
import type { AnyScene } from './scene.ts';
import { standScene } from './stand-lines.ts';
import { cholesky, solveLower } from './symmetric.ts';

export interface Ranked extends Measurement {
  /** Of the estimate, k = 2, once it is taken. */
  readonly plusMinusThen: number;
  /** By how much of itself the ± narrows, 0 … 1. */
  readonly narrowing: number;
}

/** Of a flight that is still to come: of the shortest time that hovering may last, or a craft known badly would fly past its reserve. */
const FLOWN = 0.8;
const CHARGE = 0.6;

/** Less is not worth a word. */
export const WORTH = 0.1;

/** In the order of what a builder has: what needs no more than scale, charger and stopwatch; a recorder in addition. */
const AT_HAND: readonly (readonly Tool[])[] = [USUAL_TOOLS, [...USUAL_TOOLS, 'voltmeter', 'recorder']];

export interface Next extends Pick<Measurement, 'names'> {
  /** In a builder’s words: "the cell resistance of Mast1050_4S, as the charger shows it". */
  readonly what: string;
  /** Of the estimate, k = 2. */
  readonly plusMinusThen: number;
}

/** What narrows an estimate most of what a builder can do; else the one figure that is worth measuring, on a stand if need be. */
export function nextMeasurement(assessment: Assessment, estimate: Estimate): Next | undefined {
  for (const tools of AT_HAND) {
    const [best] = measurementsFor(assessment, estimate, tools);
    if (best) return best;
  }
  const advised = worthMeasuring(estimate, assessment.inputs);
  if (!advised) return undefined;
  const { how, inputs, plusMinusWithout } = advised;
  // Each of them is measured in the same words.
  const names = inputs.slice(0, 1).flatMap((input) => namedByLabel(assessment.build, input));
  return { what: how, names, plusMinusThen: plusMinusWithout };
}

/** Measurements that tools allow and that narrow an estimate by a tenth or more, the best first. */
export function measurementsFor(
  assessment: Assessment,
  estimate: Estimate,
  tools: readonly Tool[] = MEASURING_TOOLS,
): Ranked[] {
  const now = expanded(estimate);
  if (!(now > 0)) return [];
  return takenOn(assessment, (kind) => kind.tools.every((tool) => tools.includes(tool)))
    .map(({ measurement, slopes }): Ranked => {
      const plusMinusThen = plusMinusOf(Math.sqrt(varianceWith(estimate, slopes)));
      return { ...measurement, plusMinusThen, narrowing: 1 - plusMinusThen / now };
    })
    .filter(({ narrowing }) => narrowing >= WORTH)
    .sort((a, b) => a.plusMinusThen - b.plusMinusThen || a.tools.length - b.tools.length)
    .filter((one, _, all) => !all.some((other) => isSimpler(other, one)));
}

/** Hardly less is had with fewer tools. */
const isSimpler = (one: Ranked, other: Ranked): boolean =>
  one.tools.length < other.tools.length &&
  one.tools.every((tool) => other.tools.includes(tool)) &&
  one.plusMinusThen < (1 + WORTH) * other.plusMinusThen;

/** What a scale, a charger and a stopwatch are expected to read. */
export function readingsExpected(assessment: Assessment): readonly ExpectedLine[] {
  return takenOn(assessment, ({ id }) => id === 'scale' || id === 'charger').flatMap(
    ({ measurement: { lines } }) => lines,
  );
}

interface Taken {
  readonly measurement: Measurement;
  /** Of each line over its own error, along the inputs as they are known now; the assessment's inputs come first. */
  readonly slopes: readonly Float64Array[];
}

/** What of a measurement is known before it is taken. */
type Offered = Pick<Measurement, 'id' | 'tools'>;

interface Offer extends Offered {
  readonly take: (assessment: Assessment) => Taken | undefined;
}

const OFFERS: readonly Offer[] = [
  ...MEASUREMENT_KINDS.map(
    (kind): Offer => ({ id: kind.id, tools: kind.tools, take: (assessment) => take(kind, assessment) }),
  ),
  { id: 'capacity', tools: ['charger'], take: capacityOf },
  { id: 'stand', tools: ['stand'], take: standRows },
];

const taken = new WeakMap<Assessment, Map<string, Taken | undefined>>();

/** Each is taken once, when somebody first has the tools for it: that takes as long as an assessment. */
function takenOn(assessment: Assessment, isWanted: (offer: Offered) => boolean): Taken[] {
  const known = taken.get(assessment) ?? new Map<string, Taken | undefined>();
  taken.set(assessment, known);
  return OFFERS.filter(isWanted).flatMap(({ id, take }) => {
    if (!known.has(id)) known.set(id, take(assessment));
    return known.get(id) ?? [];
  });
}

function take(kind: MeasurementKind, assessment: Assessment): Taken | undefined {
  const { build, option } = assessment;
  const time = assessment.results.get('hover_time')?.estimate;
  if (kind.isFlight && !(time && time.value > 0)) return undefined;
  const airborne = time ? FLOWN * ends(time).low : 0;
  const { template: whole } = templateOf(build, option);
  const template = isAtRest(kind) ? withoutDrive(whole) : whole;
  const learnt = learntOn(build);
  const deviations = learnt?.deviations ?? new Map<string, number>();
  const sceneOf = (values: ReadonlyMap<FlightReading, number>) => {
    const drafted = draft(build, option, kind, values, airborne);
    return flightScene({ build, option, observation: drafted }, template);
  };
  // Any numbers do to find out which are expected; what depends on the charge used is right once that is known.
  const rounds = kind.readings.some((reading) => reading === 'put_back' || reading === 'counted') ? 2 : 1;
  let expected = new Map<FlightReading, number>(kind.readings.map((reading) => [reading, 1]));
  for (let round = 0; round < rounds; round++) {
    const scene = sceneOf(expected);
    if (!scene) return undefined;
    const next = new Map<FlightReading, number>();
    for (const [i, { value }] of scene.linearise(deviations, false).entries()) {
      const reading = scene.lines[i]?.reading as FlightReading | undefined;
      if (reading && value !== undefined && value > 0) next.set(reading, value);
    }
    const used = next.get('put_back') ?? next.get('counted');
    if (used !== undefined && kind.readings.includes('counted')) next.set('counted', used);
    expected = next;
  }
  const scene = sceneOf(expected);
  if (!scene || scene.lines.length === 0) return undefined;
  return {
    measurement: {
      id: kind.id,
      tools: kind.tools,
      what: kind.what(option.name),
      names: [option],
      how: kind.how(option.name),
      lines: [
        ...(kind.isFlight ? [{ property: 'airborne' as const, value: airborne, unit: 'min' }] : []),
        ...[...expected].map(
          ([property, value]): ExpectedLine => ({
            property,
            value,
            unit: READINGS[property].unit,
            ...(READINGS[property].point === 'hover' && kind.conditions && { clause: kind.conditions }),
          }),
        ),
      ],
    },
    slopes: slopesOf(scene, deviations, assessment, learnt),
  };
}

/** Nothing turns while it is read. */
const isAtRest = ({ isFlight, readings }: MeasurementKind): boolean =>
  isFlight !== true && readings.every((reading) => READINGS[reading].point === undefined);

/** Such readings depend on what the craft weighs and on its pack alone: nothing else is computed for them. */
function withoutDrive({ craft, ...others }: Template<Setup>): Template<Setup> {
  return { ...others, ...(craft && { craft: { ...craft, rotors: [], rails: [], loads: [] } }), heat: [] };
}

/** One standard deviation of a charge that a charger counted, relative. */
const COUNTED = 0.015;

/** V of a cell at flying current: what is left then, a few per cent at most, no flight uses (common practice). */
const FLAT_UNDER_LOAD: Readonly<Record<Chemistry, string>> = { lipo: '3.2', lihv: '3.2', liion: '2.7' };

/** What a pack delivers, as its charger counts it, replaces its label and what is off between label and flight. */
function capacityOf(assessment: Assessment): Taken | undefined {
  const { build, option, inputs } = assessment;
  const label = option.part.figure('capacity');
  const share = label && flyingShare(label);
  if (!label || !share || option.beside) return undefined;
  const along = new Float64Array(inputs.length);
  for (const [i, { id, value, standardUncertainty: u }] of inputs.entries())
    if (id === label.id || id === share.id) along[i] = u / value / COUNTED;
  const learnt = learntOn(build);
  const narrowed = learnt ? narrowedContributions(learnt, inputs)(along) : along;
  const { name } = option.part;
  const measurement: Measurement = {
    id: 'capacity',
    tools: ['charger'],
    what: `the capacity of ${name}, as the charger counts it`,
    names: [option.part],
    how: `Charge ${name} full, discharge it at about the current of hover until its cells are down to ${FLAT_UNDER_LOAD[chemistryOf(option.part)]} V under that load, and charge it full again: what goes in is its capacity as flown. Write that into the pack, not into a flight.`,
    lines: [{ property: 'capacity', value: label.value * share.value, unit: 'mAh', clause: 'measured' }],
  };
  return { measurement, slopes: [narrowed] };
}

/** Duties of the rows to measure on a stand. */
const DUTIES = [0.3, 0.6, 1];

function standRows(assessment: Assessment): Taken | undefined {
  const { build, option } = assessment;
  const [rotor] = build.rotors;
  const cells = cellsInSeries(option);
  if (!rotor || !cells || build.benches.some((bench) => isAbout(bench, rotor.propeller))) return undefined;
  const { partDuty } = templateOf(build, option);
  const parts = new Map<string, Part | undefined>([
    ['motor', rotor.motor],
    ['propeller', rotor.propeller],
    ['esc', build.escs[0]?.part],
  ]);
  const draft = draftPart('bench', 'Stand', build.place, () => undefined);
  const part = partWith(draft, { part: (name) => parts.get(name) });
  const columns = (['duty', 'voltage', 'current', 'thrust'] as const).map((name) => {
    const { unit, dimension } = COLUMNS[name];
    return { name, unit, dimension, place: build.place };
  });
  const voltage = NOMINAL * cells;
  const sceneOf = (rows: readonly (readonly number[])[]) => {
    const bench: Bench = { part, columns, rows, rowPlaces: rows.map(() => build.place), place: build.place };
    return standScene(build, bench, () => true, { partDuty, fullDuty: fullDutyOf(build) });
  };
  const learnt = learntOn(build);
  const deviations = learnt?.deviations ?? new Map<string, number>();
  const blank = sceneOf(DUTIES.map((duty) => [duty, voltage, 1, 1]));
  const expected = blank?.linearise(deviations, false).map(({ value }) => value ?? 0);
  if (!blank || !expected || expected.some((value) => !(value > 0))) return undefined;
  const perRow = blank.lines.length / DUTIES.length;
  const value = (row: number, reading: string) =>
    expected[blank.lines.findIndex((line, i) => Math.floor(i / perRow) === row && line.reading === reading)] ?? 0;
  const rows = DUTIES.map((duty, i) => [duty, voltage, value(i, 'current'), value(i, 'thrust')]);
  const scene = sceneOf(rows);
  if (!scene) return undefined;
  const measurement: Measurement = {
    id: 'stand',
    tools: ['stand'],
    what: `thrust and current of ${rotor.motor.name} with ${rotor.propeller.name} on a test stand, at 30, 60 and 100 % duty`,
    names: [rotor.motor, rotor.propeller],
    how: 'Mount one motor with its propeller on the stand, away from walls and people, and note voltage, current and thrust at each duty, for a bench block.',
    lines: [],
  };
  return { measurement, slopes: slopesOf(scene, deviations, assessment, learnt) };
}

/** V per cell of a pack in use. */
const NOMINAL = 3.8;

function slopesOf(
  scene: AnyScene,
  deviations: ReadonlyMap<string, number>,
  { inputs }: Assessment,
  learnt: Assessment['learnt'],
): Float64Array[] {
  const own = new Set(inputs.map(({ id }) => id));
  const others = [...new Map([...(learnt?.figures ?? []), ...scene.inputs()].map((one) => [one.id, one])).values()];
  const all = [...inputs, ...others.filter(({ id }) => !own.has(id))];
  const index = new Map(all.map(({ id }, i) => [id, i]));
  const narrow = learnt ? narrowedContributions(learnt, all) : (one: Float64Array) => one;
  return scene.linearise(deviations, true).map(({ slopes }, i) => {
    const along = new Float64Array(all.length);
    for (const [id, slope] of slopes) {
      const at = index.get(id);
      if (at !== undefined && Number.isFinite(slope)) along[at] = slope / (scene.lines[i]?.error ?? 1);
    }
    return narrow(along);
  });
}

/** r·r − rᵀGᵀ(1 + G·Gᵀ)⁻¹G·r */
function varianceWith({ contributions }: Estimate, slopes: readonly Float64Array[]): number {
  const dot = (a: Float64Array, b: Float64Array): number => {
    let sum = 0;
    for (let i = 0; i < Math.min(a.length, b.length); i++) sum += (a[i] ?? 0) * (b[i] ?? 0);
    return sum;
  };
  const products = slopes.map((one, i) => Float64Array.from(slopes, (other, j) => dot(one, other) + (i === j ? 1 : 0)));
  const along = Float64Array.from(slopes, (one) => dot(one, contributions));
  const known = solveLower(cholesky(products), along);
  return Math.max(0, dot(contributions, contributions) - known.reduce((sum, one) => sum + one ** 2, 0));
}

/** An observation that nobody has made yet. */
function draft(
  build: Build,
  option: PackOption,
  { id, conditions, isFlight }: MeasurementKind,
  values: ReadonlyMap<FlightReading, number>,
  airborne: number,
): Observation {
  const craft = build.observations[0]?.craft ?? `${build.uri}#build ${build.name}`;
  const own = `${craft}.draft ${id}`;
  const { properties } = schemaOf('observed');
  const figureOf = (property: string, value: number): Figure => {
    const { dimension, unit = '', tolerance } = properties[property] ?? {};
    const stated = tolerance?.stated ?? { relative: 0 };
    const half = 'relative' in stated ? stated.relative * value : stated.absolute * (unit === '%' ? 0.01 : 1);
    const at: Figure = { ...plain(`${own}.at`, CHARGE), unit: '%' };
    return {
      ...plain(`${own}.${property}`, value),
      ...(dimension && { dimension }),
      unit,
      standardUncertainty: deviationOf(half),
      conditions: isReading(property) && READINGS[property].point === 'hover' && conditions ? { at } : {},
    };
  };
  const figures = new Map<string, Figure>([...values].map(([reading, value]) => [reading, figureOf(reading, value)]));
  if (isFlight) figures.set('airborne', figureOf('airborne', airborne));
  const part = draftPart('observed', id, build.place, (property) => figures.get(property));
  return { id: own, craft, title: id, pack: option.name, part, flown: [], place: build.place };
}

const plain = (id: string, value: number): Figure => ({
  id,
  label: id,
  whose: { sort: 'other' },
  value,
  dimension: NONE,
  unit: '',
  standardUncertainty: 0,
  origin: 'measured',
  conditions: {},
});
