/** A log compared with the model: what was read and what the model gives, line by line, and volts over the logged current, moment by moment. */
import type { Build, Figure, PackOption } from '../../model/build.ts';
import { packRestingVoltage } from '../../physics/chemistry.ts';
import { learntOn, setAsideOn, templateOf } from '../assess.ts';
import type { Learnt } from '../assessment.ts';
import { type HeldLog, heldLog, logScene } from '../learn/log-lines.ts';
import { type Logged, LoggedPack } from '../learn/log-predictions.ts';
import { LOG_READINGS, type LogReading } from '../learn/log-readings.ts';
import { narrowedContributions } from '../learn/narrowing.ts';
import { type PackObserved, packsObserved } from '../learn/observed-lines.ts';
import { readingPlusMinus } from '../learn/scene.ts';
import { type Deviations, fill, withDeviations } from '../setup/template.ts';
import type { Averages, FlightInLog } from './flight-series.ts';
import { indexAt } from './moments.ts';

/** Several stretches of one sort, taken together. SI. */
export interface ComparedStretches {
  readonly reading: LogReading;
  readonly words: string;
  readonly unit: string;
  readonly measured: number;
  readonly predicted: number;
  /** k = 2 */
  readonly plusMinus: number;
  readonly count: number;
}

export interface LoggedMoment {
  /** s from take-off */
  readonly time: number;
  /** V of the pack. */
  readonly logged: number;
  readonly modelled: number;
}

export interface LogComparison {
  readonly observed: PackObserved;
  readonly flight: FlightInLog;
  readonly compared: readonly ComparedStretches[];
  /** From shortly before take-off to shortly after landing; none where no current was logged. */
  readonly moments: readonly LoggedMoment[];
  /** Root mean square of what the volts differ in the air, relative; and the largest of averages over a few seconds. */
  readonly volts?: { readonly rms: number; readonly mean: number };
}

/** All logs of a build that were flown on an option and are learnt from, as the build knows them now. */
export function comparisonsOf(build: Build, option: PackOption): LogComparison[] {
  const learnt = learntOn(build);
  const aside = setAsideOn(build);
  const isAside = ({ observation }: PackObserved) =>
    aside.some(({ line, what }) => what === 'log' && line.source === observation.id);
  return packsObserved(build)
    .filter((observed) => observed.option === option && !isAside(observed))
    .flatMap((observed) => comparisonOf(observed, learnt) ?? []);
}

/**
 * @param learnt what is known: of the log itself, or of all but it
 * @param isNew whether nothing was learnt from the log itself: then its resting volts alone determine the charge at its beginning
 */
export function comparisonOf(
  observed: PackObserved,
  learnt: Learnt | undefined,
  isNew = false,
): LogComparison | undefined {
  const { template } = templateOf(observed.build, observed.option);
  const held = heldLog(observed, template);
  const scene = held && logScene(observed, template);
  if (!held || !scene) return undefined;
  const known: Deviations = learnt?.deviations ?? new Map();
  const deviations = isNew ? startedBy(held, known) : known;
  const lines = scene.linearise(deviations, true);
  const spread = spreadOf(learnt, isNew && held.flight.restBefore ? held.start : undefined);
  const kinds = [...new Set(held.lines.map(({ kind }) => kind))];
  const compared = kinds.flatMap((reading): ComparedStretches[] => {
    const of = held.lines.flatMap((line, i) => {
      const prediction = lines[i];
      return line.kind === reading && prediction?.value !== undefined
        ? [{ measured: line.value, predicted: prediction.value, spread: spread(prediction.slopes) }]
        : [];
    });
    if (of.length === 0) return [];
    const average = (which: 'measured' | 'predicted' | 'spread') =>
      of.reduce((sum, one) => sum + one[which], 0) / of.length;
    const { words, unit } = LOG_READINGS[reading];
    const predicted = average('predicted');
    return [
      {
        reading,
        words,
        unit,
        measured: average('measured'),
        predicted,
        plusMinus: readingPlusMinus(LOG_READINGS[reading], average('spread'), predicted),
        count: of.length,
      },
    ];
  });
  const moments = momentsOf(held, deviations);
  const volts = voltsOf(moments, held.flight);
  return { observed, flight: held.flight, compared, moments, ...(volts && { volts }) };
}

/** Charge at the beginning, where the volts at rest determine it. */
const NARROWED = 0.02;

/** One standard deviation of a prediction, on its scale. @param narrowed what is known better than it was before the log was read */
function spreadOf(learnt: Learnt | undefined, reported?: Figure): (slopes: ReadonlyMap<string, number>) => number {
  return (slopes) => {
    const ids = [...slopes.keys()];
    const contributions = Float64Array.from(slopes, ([id, slope]) =>
      id === reported?.id ? (slope * NARROWED) / reported.standardUncertainty : slope,
    );
    if (!learnt) return Math.hypot(...contributions);
    const others = learnt.figures.filter(({ id }) => !slopes.has(id));
    const inputs = [...ids.map((id) => ({ id })), ...others];
    const all = new Float64Array(inputs.length);
    all.set(contributions);
    return Math.hypot(...narrowedContributions(learnt, inputs)(all));
  };
}

/** The charge at the beginning by the volts at rest before take-off, with the pack as it is known. */
function startedBy({ template, start, flight: { restBefore } }: HeldLog, known: Deviations): Deviations {
  const volts = restBefore?.voltage;
  if (volts === undefined) return known;
  const at = (charge: number): Deviations =>
    new Map(known).set(start.id, (charge - start.value) / start.standardUncertainty);
  const excess = (charge: number): number => {
    const { filled } = fill<Logged>(template, withDeviations(at(charge)));
    return filled.volts * packRestingVoltage(filled.craft.pack, charge) - volts;
  };
  let [low, high] = [0.02, 1];
  for (let i = 0; i < 30; i++) {
    const middle = (low + high) / 2;
    if (excess(middle) > 0) high = middle;
    else low = middle;
  }
  return at((low + high) / 2);
}

/** So many points are drawn at most. */
const MOST_DRAWN = 600;
/** s before take-off and after landing. */
const AROUND = 8;

function momentsOf({ flight, template, observed }: HeldLog, deviations: Deviations): LoggedMoment[] {
  const { log } = flight;
  const voltage = log.series('voltage');
  const current = log.series('current');
  if (!voltage || !current) return [];
  const { filled } = fill<Logged>(template, withDeviations(deviations));
  const pack = new LoggedPack(filled.craft, filled, flight);
  const first = flight.legs[0]?.from ?? 0;
  const last = flight.legs.at(-1)?.to ?? 0;
  const { from, to } = runAround(observed, first);
  const times = log.recording.times.subarray(from, to);
  const start = indexAt(times, Math.max(flight.whole.from, first - AROUND));
  const end = indexAt(times, Math.min(flight.whole.to, last + AROUND));
  const step = Math.max(1, Math.ceil((end - start) / MOST_DRAWN));
  const moments: LoggedMoment[] = [];
  let used = 0;
  let before = indexAt(times, flight.whole.from);
  let [sumLogged, sumModelled, count] = [0, 0, 0];
  for (let i = before; i < end; i++) {
    const [volts, amps] = [voltage[from + i] ?? Number.NaN, current[from + i] ?? Number.NaN];
    if (!Number.isFinite(amps)) continue;
    const time = times[i] ?? 0;
    used += ((amps + (current[from + before] ?? amps)) / 2) * (time - (times[before] ?? time));
    before = i;
    if (i < start || !Number.isFinite(volts)) continue;
    const at: Averages = { from: time, to: time, used };
    sumLogged += volts;
    sumModelled += filled.volts * pack.voltageUnder(amps, pack.chargeAt(at));
    count++;
    if (count < step) continue;
    moments.push({ time: time - first, logged: sumLogged / count, modelled: sumModelled / count });
    [sumLogged, sumModelled, count] = [0, 0, 0];
  }
  return moments;
}

function runAround(
  { observation: { log } }: PackObserved,
  time: number,
): { readonly from: number; readonly to: number } {
  const { runs = [], times } = log?.recording ?? { times: new Float64Array(0) };
  const around = runs.find(({ from, to }) => (times[from] ?? 0) <= time && time <= (times[to - 1] ?? 0));
  return around ?? { from: 0, to: times.length };
}

function voltsOf(moments: readonly LoggedMoment[], { legs }: FlightInLog): LogComparison['volts'] {
  const first = legs[0]?.from ?? 0;
  const flown = moments.filter(({ time }) => legs.some(({ from, to }) => time >= from - first && time <= to - first));
  if (flown.length === 0) return undefined;
  const differences = flown.map(({ logged, modelled }) => modelled / logged - 1);
  const mean = differences.reduce((sum, one) => sum + one, 0) / differences.length;
  return { rms: Math.sqrt(differences.reduce((sum, one) => sum + one ** 2, 0) / differences.length), mean };
}
