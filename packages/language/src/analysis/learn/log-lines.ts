/**
 * A log as lines of the fit. What the recorder read is averaged over stretches: volts are compared with the amperes that were logged with them, so that
 * they concern the pack alone; amperes, output and speed in steady stretches are compared with hover.
 *
 * What only this flight has is an input of its own: the charge at its beginning, how much more than hovering its steady stretches take. Scale
 * and zero of the recorder are shared by all logs of a craft.
 */

import type { Figure } from '../../model/build.ts';
import { partId } from '../../model/identities.ts';
import { restingVoltage } from '../../physics/chemistry.ts';
import { flightIn } from '../log/flight-in-log.ts';
import type { Averages, FlightInLog, SteadyStretch } from '../log/flight-series.ts';
import { mean } from '../log/moments.ts';
import { asRead } from '../setup/drive.ts';
import { chemistryOf, packsInParallel } from '../setup/pack-setup.ts';
import type { Setup } from '../setup/setup.ts';
import type { Template } from '../setup/template.ts';
import { type Logged, predictionsOf, QUICK } from './log-predictions.ts';
import { LOG_READINGS, type LogReading, type MeasuredLogLine } from './log-readings.ts';
import { chargerBeside, instrumentOf, ownFigures, type PackObserved } from './observed-lines.ts';
import { type AnyScene, type Except, NOTHING, nuisance, sceneOf, withOwn } from './scene.ts';

/** One standard deviation of the zero of the recorder’s amperes: of those in flight, and on top, A. */
const ZERO = { relative: 0.01, absolute: 0.01 };
/** Power of a steady stretch over hovering, by how well it is known to be hover: one standard deviation. */
const OVER_HOVER: Readonly<Record<SteadyStretch['kind'], number>> = { hover: 0.012, level: 0.04, cruise: 0.06 };
/** How much one stretch draws more than another of the same flight, one standard deviation, relative. */
const WANDERING: Readonly<Record<SteadyStretch['kind'], number>> = { hover: 0, level: 0.03, cruise: 0.03 };
/** Mean power in the air over hovering, of all flights of a craft, bursts left out: climbs, turns and gusts; and one standard deviation. */
const FLOWN_OVER_HOVER = [1.04, 0.05] as const;
/** V per cell at rest above what its chemistry allows: another chemistry, or a recorder that is off. */
const TOO_FULL = 0.02;
/** Charge at the beginning of a log without it. */
const UNKNOWN_START = [0.75, 0.2] as const;
/** Wide, where the resting voltage determines it. */
const STATED_START = 0.3;
/** V per cell that the resting curve in the part that was flown departs from what is true elsewhere, one standard deviation. Ours. */
const CURVE = 0.012;

/** W that electronics take which the build does not list, one standard deviation. Ours. */
const UNLISTED = 3;

/**
 * Of the sag: how far it wanders in one flight, as a pack warms up; one standard deviation. In the published flights of a craft of 3.7 kg
 * (`test/reference/flight-logs`) apparent resistances fall from 0.095 to 0.075 ohm.
 */
const WARMING = 0.12;

/** Steady stretches by how much charge was used, so many. */
const THIRDS = 3;

/** What was found in the log of an observation; why nothing was. */
export function flightFound({
  observation: { log },
}: Pick<PackObserved, 'observation'>): FlightInLog | string | undefined {
  const found = log && flightIn(log);
  return found && 'none' in found ? found.none : found;
}

/** Volts per cell that the log shows at rest above what the pack's chemistry allows. */
export function tooFull({
  observation,
  option,
}: PackObserved): { readonly cell: number; readonly full: number } | undefined {
  const flight = flightFound({ observation });
  const cells = option.part.cells('cells')?.series;
  if (!flight || typeof flight === 'string' || !cells || flight.restBefore?.voltage === undefined) return undefined;
  const inSeries = cells * (option.arrangement === 'series' ? option.count : 1);
  const cell = flight.restBefore.voltage / inSeries;
  const full = restingVoltage(chemistryOf(option.part), 1);
  return cell > full + TOO_FULL ? { cell, full } : undefined;
}

/** A log that can be compared with the craft: what was found in it, and the numbers that its lines need. */
export interface HeldLog {
  readonly observed: PackObserved;
  readonly flight: FlightInLog;
  readonly lines: readonly MeasuredLogLine[];
  readonly template: Template<Logged>;
  /** The charge at its beginning. */
  readonly start: Figure;
}

/** @param template of the build with the option that was on; undefined where it lacks something that every line needs, or no flight was found */
export function heldLog(
  observed: PackObserved,
  template: Template<Setup>,
  isLeft: Except = NOTHING,
): HeldLog | undefined {
  const { build, observation, option } = observed;
  const { craft, fullDutyFactor, heat, airTemperature } = template;
  const flight = flightFound(observed);
  const label = option.part.figure('capacity');
  if (!craft || !label || !flight || typeof flight === 'string') return undefined;
  const isTooFull = tooFull(observed) !== undefined;
  const lines = linesOf(observed, flight, isTooFull).filter(({ kind }) => !isLeft(kind));
  if (lines.length === 0) return undefined;

  const { id, title, craft: owner } = observation;
  const flies = mean(flight.windows.map(({ current }) => current ?? Number.NaN));
  const zero = ZERO.relative * (Number.isFinite(flies) ? flies : 0) + ZERO.absolute;
  const [kind = 'level'] = steadyStretches(flight).map((one) => one.kind);
  const start = startOf(observed, flight, isTooFull);
  const inParallel = packsInParallel(option);
  const own = (
    name: string,
    of: string,
    value: number,
    deviation: number,
    spread: NonNullable<Figure['spread']> = 'log',
  ) => asRead(nuisance(name, of, value, deviation, spread));
  const logged: Template<Logged> = withOwn<Logged>(
    {
      craft,
      heat,
      airTemperature,
      fullDutyFactor,
      label: (read) => inParallel * read(label),
      start: (read) => Math.min(1, Math.max(0.02, read(start))),
      overHover: own(`${id}.over_hover`, `power in steady flight over hover at “${title}”`, 1, OVER_HOVER[kind]),
      curve: own(`${id}.curve`, `resting curve of the pack in the part flown at “${title}”`, 0, CURVE, 'plain'),
      quick: own(
        `quick ${partId(option.part)}`,
        `share of the resistance of ${option.part.name} that quick changes of the current meet`,
        QUICK.share,
        QUICK.spread,
        'share',
      ),
      flownOverHover: own(`flown ${owner}`, 'mean power in flight over hover', ...FLOWN_OVER_HOVER),
      amperes: asRead(instrumentOf('current', observation)),
      volts: asRead(instrumentOf('voltage', observation)),
      zero: own(`instrument.zero ${owner}`, 'zero of the recorder’s amperes', 0, zero, 'plain'),
      charger: chargerBeside(observation),
    },
    ownFigures(build, observation, option),
  );
  return { observed, flight, lines, template: logged, start };
}

/** @param isLeft readings that it is made without */
export function logScene(
  observed: PackObserved,
  template: Template<Setup>,
  isLeft: Except = NOTHING,
): AnyScene | undefined {
  const held = heldLog(observed, template, isLeft);
  if (!held) return undefined;
  const { flight, lines } = held;
  const back = observed.observation.part.declared('put_back')?.value;
  return sceneOf<Logged>({
    template: held.template,
    lines,
    circumstances: [flight.charge, flight.burstPower, back, lines.map(({ kind, at }) => [kind, at])],
    predict: (numbers, near) => predictionsOf(numbers, lines, flight, back, near),
  });
}

/** What is hover where it is known; else what is as steady and draws about as much as most of the flight: a steady climb does not. */
function steadyStretches({ steady }: FlightInLog): readonly SteadyStretch[] {
  const secondsOf = ({ from, to }: SteadyStretch) => to - from;
  const lasting = (kind: SteadyStretch['kind']) =>
    steady.filter((one) => one.kind === kind).reduce((sum, one) => sum + secondsOf(one), 0);
  const kind = lasting('hover') >= LEAST_HOVER ? 'hover' : lasting('level') > 0 ? 'level' : 'cruise';
  const alike = steady.filter((one) => one.kind === kind);
  if (kind === 'hover') return alike;
  const drawn = ({ voltage = 1, current, output, speed }: SteadyStretch) =>
    current === undefined ? (output ?? speed ?? 1) : voltage * current;
  const half = lasting(kind) / 2;
  let before = 0;
  const middle = alike
    .toSorted((a, b) => drawn(a) - drawn(b))
    .find((one) => {
      before += secondsOf(one);
      return before >= half;
    });
  return alike.filter((one) => middle && Math.abs(drawn(one) / drawn(middle) - 1) <= ALIKE);
}

/** Of what most steady stretches draw: farther off, it does something else. */
const ALIKE = 0.08;
/** s of hover that count for themselves. */
const LEAST_HOVER = 8;

function startOf(
  { observation: { id, title }, option }: PackObserved,
  flight: FlightInLog,
  isTooFull: boolean,
): Figure {
  const label = `charge at the beginning of “${title}”`;
  if (isTooFull) return nuisance(`${id}.start`, label, 1, 0.03, 'plain');
  const volts = flight.restBefore?.voltage;
  const cells = (option.part.cells('cells')?.series ?? 1) * (option.arrangement === 'series' ? option.count : 1);
  if (volts === undefined) return nuisance(`${id}.start`, label, ...UNKNOWN_START, 'plain');
  return nuisance(`${id}.start`, label, chargeAt(chemistryOf(option.part), volts / cells), STATED_START, 'plain');
}

function chargeAt(chemistry: Parameters<typeof restingVoltage>[0], volts: number): number {
  let [low, high] = [0, 1];
  for (let i = 0; i < 30; i++) {
    const middle = (low + high) / 2;
    if (restingVoltage(chemistry, middle) > volts) high = middle;
    else low = middle;
  }
  return (low + high) / 2;
}

// ---- lines ----

function linesOf({ observation, option }: PackObserved, flight: FlightInLog, isTooFull: boolean): MeasuredLogLine[] {
  const { title, id, log } = observation;
  if (!log) return [];
  const steady = steadyStretches(flight);
  const wandering = WANDERING[steady[0]?.kind ?? 'level'];
  const resistance = flight.sag?.resistance ?? 0;
  const line = (kind: LogReading, value: number | undefined, at: Averages, seconds?: number): MeasuredLogLine[] => {
    const { words, unit, error: least, isPlain = false } = LOG_READINGS[kind];
    if (value === undefined || !Number.isFinite(value) || (!isPlain && value <= 0)) return [];
    const more =
      kind === 'logged_voltage' || kind === 'burst_voltage'
        ? (WARMING * resistance * (at.current ?? 0)) / value
        : kind === 'rest_current'
          ? UNLISTED / (at.voltage ?? 1)
          : seconds === undefined
            ? 0
            : kind === 'hover_current'
              ? wandering
              : wandering / 3;
    const error = Math.hypot(least, more);
    return [
      {
        label: `${words} of “${title}”`,
        reading: kind,
        kind,
        at,
        from: title,
        source: id,
        value,
        unit,
        error: error * (seconds === undefined ? 1 : Math.max(1, Math.sqrt(SHORT / seconds))),
        isPlain,
        ...(kind === 'counted' && { against: 'put_back' }),
        ...(kind === 'rested' && { against: 'logged current' }),
        place: log.place,
      },
    ];
  };
  const whole: Averages = { ...flight.whole };
  const used = flight.charge?.whole;
  const back = observation.part.declared('put_back');
  const hasCurrent = log.series('current') !== undefined;
  const { restBefore, restAfter, sag } = flight;
  // Stated as full, the volts at the very beginning add nothing about the charge.
  const windows = isTooFull ? flight.windows.slice(1) : flight.windows;
  return [
    ...(restBefore && !isTooFull ? line('rested_before', restBefore.voltage, restBefore) : []),
    ...(restAfter && hasCurrent ? line('rested', restAfter.voltage, restAfter) : []),
    ...(restBefore ? line('rest_current', restBefore.current, restBefore) : []),
    ...(hasCurrent ? windows.flatMap((one) => line('logged_voltage', one.voltage, one)) : []),
    ...(sag ? line('sag', sag.resistance, whole) : []),
    ...(observation.flown.length === 0 ? line('flown_power', flight.power, whole) : []),
    ...byCharge(steady).flatMap((one) => [
      ...line('hover_current', one.current, one, one.seconds),
      ...line('hover_output', one.output, one, one.seconds),
      ...line('hover_speed', one.speed, one, one.seconds),
      ...(hasCurrent ? [] : line('logged_voltage', one.voltage, one)),
    ]),
    ...flight.bursts.flatMap((one) => [
      ...(one.output === undefined ? [] : line('burst_current', one.current, one)),
      ...(hasCurrent || one.output !== undefined ? line('burst_voltage', one.voltage, one) : []),
    ]),
    ...(back && !isFull(option, back) && flight.restAfter ? line('counted', used, whole) : []),
  ];
}

/** s: shorter stretches are known less well. */
const SHORT = 10;

const isFull = (option: PackObserved['option'], back: Figure): boolean => {
  const label = option.part.figure('capacity');
  return label !== undefined && back.value > 1.25 * label.value * packsInParallel(option);
};

/** Averages of stretches of alike charge, each with the seconds that it is of. */
function byCharge(steady: readonly SteadyStretch[]): (Averages & { readonly seconds: number })[] {
  if (steady.length === 0) return [];
  const at = ({ used, from, to }: Averages) => used ?? (from + to) / 2;
  const [first, last] = [Math.min(...steady.map(at)), Math.max(...steady.map(at))];
  const third = (one: SteadyStretch) =>
    Math.min(THIRDS - 1, Math.floor((THIRDS * (at(one) - first)) / (last - first || 1)));
  return Array.from({ length: THIRDS }, (_, i) => steady.filter((one) => third(one) === i))
    .filter((group) => group.length > 0)
    .map((group) => {
      const seconds = group.reduce((sum, { from, to }) => sum + to - from, 0);
      const average = (name: 'voltage' | 'current' | 'output' | 'speed' | 'used') => {
        const known = group.filter((one) => one[name] !== undefined);
        if (known.length === 0) return {};
        const whole = known.reduce((sum, { from, to }) => sum + to - from, 0);
        return { [name]: known.reduce((sum, one) => sum + (one[name] ?? 0) * (one.to - one.from), 0) / whole };
      };
      const middle = group.reduce((sum, { from, to }) => sum + ((from + to) / 2) * (to - from), 0) / seconds;
      return {
        from: middle - seconds / 2,
        to: middle + seconds / 2,
        seconds,
        ...average('voltage'),
        ...average('current'),
        ...average('output'),
        ...average('speed'),
        ...average('used'),
      };
    });
}
