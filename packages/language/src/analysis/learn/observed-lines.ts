/**
 * An `observed` block as lines of the fit: a scale, a charger, and what a recorder read of one flight, with the pack that was on.
 *
 * What belongs to that day alone (air, warmth of pack and windings, charge at which hover was read) is an input of its own, and so is each
 * instrument: five readings of one recorder share its error.
 */
import type { Build, Figure, Observation, PackOption, Part } from '../../model/build.ts';
import { draftPart, partWith } from '../../model/made-parts.ts';
import { STANDARD_GRAVITY } from '../../physics/air.ts';
import { packRestingVoltage } from '../../physics/chemistry.ts';
import type { Craft } from '../../physics/craft.ts';
import { deviationOf } from '../../units/interval.ts';
import { type FigureName, schemaOf } from '../../vocabulary/properties.ts';
import type { ClauseWord } from '../../vocabulary/schema.ts';
import { flightIn } from '../log/flight-in-log.ts';
import { asRead } from '../setup/drive.ts';
import { isReadOffScale, packObserved } from '../setup/mass.ts';
import { cellResistanceOf, coldBetween, packsInParallel, reserveOf, wornBy } from '../setup/pack-setup.ts';
import type { Setup } from '../setup/setup.ts';
import { asItStands, type Formula, type Template } from '../setup/template.ts';
import { WINDING_TEMPERATURE } from '../uncertainty/model-form.ts';
import { type Circumstances, type FlightCircumstances, flightPoints } from './flight-points.ts';
import { type FlightReading, INSTRUMENTS, READING_NAMES, READINGS } from './flight-readings.ts';
import { type AnyScene, type Except, type MeasuredLine, nuisance, ownIdentity, sceneOf, withOwn } from './scene.ts';

/** Of the charge of the pack: how well it is known to whoever states it. */
export const STATED_CHARGE = 0.03;

/** What a charger loses on the way, and what labels understate. */
const OVERFULL = 1.25;

/** C that a charger put back and its pack's labels, where no pack so labelled can have taken it: a slip, which is not used. */
export function overfull({ part }: Observation, option: PackOption): { back: Figure; capacity: number } | undefined {
  const back = part.declared('put_back');
  const label = option.part.figure('capacity');
  const capacity = label && label.value * packsInParallel(option);
  return back && capacity && back.value > OVERFULL * capacity ? { back, capacity } : undefined;
}

/** An observation whose pack is known: named, or the only one. */
export interface PackObserved {
  readonly build: Build;
  readonly observation: Observation;
  readonly option: PackOption;
  /** Factor on the resistance of the pack as it was then over what it is, where it was observed again on a later day. */
  readonly then?: Figure;
}

export function packsObserved(build: Build): PackObserved[] {
  return build.observations.flatMap((observation) => {
    const option = packObserved(build, observation);
    return option ? [{ build, observation, option }] : [];
  });
}

interface ReadLine extends MeasuredLine {
  readonly reading: FlightReading;
  readonly figure: Figure;
}

/** The same without some readings. */
export function observedWithout(observed: PackObserved, isLeft: Except): PackObserved {
  const { observation } = observed;
  const { part } = observation;
  const declared = (property: FigureName<'observed'>) => (isLeft(property) ? undefined : part.declared(property));
  const draft = draftPart('observed', part.name, part.place, declared);
  const less = partWith(draft, { day: (name) => part.day(name) });
  return { ...observed, observation: { ...observation, part: less } };
}

/** @param template of the build with the option that was on; undefined where it lacks something that every line needs */
export function flightScene(
  { build, observation, option, then }: PackObserved,
  template: Template<Setup>,
): AnyScene | undefined {
  const { craft, fullDutyFactor, heat, airTemperature } = template;
  const label = option.part.figure('capacity');
  if (!craft || !label) return undefined;
  const { part } = observation;
  // A scale reading that already replaces the sum of the parts adds nothing.
  const readings = READING_NAMES.filter(
    (reading) =>
      (reading !== 'scale' || !isReadOffScale(build, option)) &&
      (reading !== 'put_back' || !overfull(observation, option)),
  );
  const lines = readings.flatMap((reading) => lineOf(reading, observation));
  if (lines.length === 0) return undefined;

  const inParallel = packsInParallel(option);
  const charge = chargeInHover(observation, reserveOf(build, option));
  const flight: Template<FlightCircumstances> = withOwn<FlightCircumstances>(
    {
      craft,
      heat,
      airTemperature,
      fullDutyFactor,
      label: (read) => inParallel * read(label),
      chargerShows: chargerShows(option, part.declared('cell_resistance'), then),
      charge: (read) => Math.min(1, Math.max(0, read(charge))),
      burstShare: asRead(burstShare(observation)),
      scales: lines.map((line) => scaleOf(line, observation)),
    },
    ownFigures(build, observation, option),
  );
  const needs = (point: 'hover' | 'burst') => readingsAt(point).some((reading) => part.declared(reading));
  const airborne = part.declared('airborne')?.value;
  const back = part.declared('put_back')?.value;
  const counted = part.declared('counted')?.value;
  const output = conditionAt('burst', part, 'at');
  const circumstances: Circumstances = {
    ...(airborne !== undefined && { airborne }),
    ...(back !== undefined && { back }),
    ...((back ?? counted) !== undefined && { used: back ?? counted }),
    ...(output && { output: output.value }),
    after: afterInHover(observation)?.value,
    flown: observation.flown.map(({ share, hoverMultiple }) => [share.value, hoverMultiple.value] as const),
    needs: { hover: needs('hover'), burst: needs('burst') },
  };
  return sceneOf<FlightCircumstances>({
    template: flight,
    lines,
    circumstances: [circumstances, lines.map(sharedPart)],
    predict: (numbers, near) => {
      const points = flightPoints(numbers, circumstances, near);
      return lines.map(({ reading }, i) => {
        const value = READINGS[reading].predict(points);
        return value === undefined ? undefined : value * (numbers.scales[i] ?? 1);
      });
    },
    least: ({ craft: numbers }) => {
      const current = leastCurrent(numbers);
      const charge = airborne !== undefined && observation.flown.length === 0 ? current * airborne : undefined;
      return lines.map(({ reading }) => READINGS[reading].least?.({ current, charge }));
    },
  });
}

/** Meters and scales are off, but not so far: of the ideal power. */
const SURELY = 0.8;

/**
 * A that no craft of this weight hovers on: less than moving the air takes of an ideal rotor, by momentum theory (J. G. Leishman, ch. 2), at the full
 * pack's voltage; in a duct √2 less.
 */
function leastCurrent({ mass, air, rotors, pack }: Craft): number {
  const discs = rotors.reduce((sum, { count, propeller }) => sum + (count * Math.PI * propeller.diameter ** 2) / 4, 0);
  const isDucted = rotors.some(({ thrustGain }) => thrustGain > 1);
  const weight = mass * STANDARD_GRAVITY;
  const ideal = weight * Math.sqrt(weight / (2 * air.density * discs)) * (isDucted ? Math.SQRT1_2 : 1);
  return (SURELY * ideal) / packRestingVoltage(pack, 1);
}

function lineOf(reading: FlightReading, observation: Observation): ReadLine[] {
  const { id, part, title } = observation;
  const figure = part.declared(reading);
  const { words, unit, isPlain = false } = READINGS[reading];
  if (!figure || figure.value <= 0) return [];
  // Without a charger a count is compared with the flight.
  const { alike } = READINGS[reading === 'counted' && !part.declared('put_back') ? 'put_back' : reading];
  const others: readonly FlightReading[] =
    reading === 'counted' ? ['put_back'] : reading === 'rested' ? ['put_back', 'counted'] : [];
  const against = others.find((other) => part.declared(other));
  const own = isPlain ? figure.standardUncertainty : figure.standardUncertainty / figure.value;
  // What is stated of an instrument is stated of all its readings: that is its scale, up to what such instruments are off at most.
  const { instrument: which } = READINGS[reading];
  const instrument =
    which && isStated(reading, figure) ? Math.sqrt(Math.max(0, own ** 2 - INSTRUMENTS[which] ** 2)) : own;
  return [
    {
      label: `${words} of “${title}”`,
      reading,
      from: title,
      source: id,
      figure,
      value: figure.value,
      unit,
      error: Math.max(Math.hypot(instrument, alike), LEAST_ERROR),
      isPlain,
      ...(against && { against }),
      place: figure.place ?? observation.place,
    },
  ];
}

/** Nobody reads closer than that. */
const LEAST_ERROR = 1e-3;

/** Whether its ± is in the text. */
function isStated(reading: FlightReading, { value, standardUncertainty: u }: Figure): boolean {
  const usual = schemaOf('observed').properties[reading]?.tolerance?.stated;
  return usual !== undefined && 'relative' in usual && Math.abs(u / value - deviationOf(usual.relative)) > 1e-9;
}

/** Factor of the instrument on a line's prediction; a ± that was stated takes the place of the usual one. */
function scaleOf(line: ReadLine, observation: Observation): Formula | number {
  const { instrument: which } = READINGS[line.reading];
  if (!which) return 1;
  const scale = instrumentOf(which, observation);
  const weight = sharedPart(line);
  // Compared with what a charger put back, it meets that charger's error as well.
  const charger = line.reading === 'counted' ? chargerBeside(observation) : 1;
  return (read) => read(scale) ** weight * (typeof charger === 'number' ? charger : charger(read));
}

/** What was truly put back over what the charger reads; 1 where nothing was. */
export function chargerBeside(observation: Observation): Formula | number {
  const back = observation.part.declared('put_back');
  if (!back) return 1;
  const scale = instrumentOf('charger', observation);
  const weight = sharedPart({ reading: 'put_back', figure: back });
  return (read) => read(scale) ** -weight;
}

/** The scale of an instrument: of all that it reads on a craft. */
export const instrumentOf = (which: keyof typeof INSTRUMENTS, { craft }: Observation): Figure =>
  nuisance(`instrument.${which} ${craft}`, INSTRUMENT_LABELS[which], 1, INSTRUMENTS[which]);

/** How much of what such instruments are usually off a line may be off: 1, or by its stated ±. */
function sharedPart({ reading, figure }: Pick<ReadLine, 'reading' | 'figure'>): number {
  const { instrument: which } = READINGS[reading];
  if (!which || !isStated(reading, figure)) return 1;
  return Math.min(1, figure.standardUncertainty / figure.value / INSTRUMENTS[which]);
}

const INSTRUMENT_LABELS: Readonly<Record<keyof typeof INSTRUMENTS, string>> = {
  current: 'scale of the recorder’s amperes',
  voltage: 'scale of the recorder’s volts',
  charger: 'scale of the charger’s count',
};

/** `hover_current: 6.4 A after 2 min`; a time at which the craft had landed does not count. */
const afterInHover = (observation: Observation): Figure | undefined =>
  afterLanding(observation) ? undefined : conditionAt('hover', observation.part, 'after');

/** Of a reading in hover, a time that is later than the flight lasted. */
export function afterLanding({ part }: Observation): { readonly after: Figure; readonly airborne: Figure } | undefined {
  const after = conditionAt('hover', part, 'after');
  const airborne = part.declared('airborne');
  return after && airborne && after.value > airborne.value ? { after, airborne } : undefined;
}

/** Of the readings at one point, the first that states it. */
export const conditionAt = (point: 'hover' | 'burst', part: Part<'observed'>, word: ClauseWord): Figure | undefined =>
  readingsAt(point).flatMap((reading) => part.declared(reading)?.conditions[word] ?? [])[0];

const readingsAt = (point: 'hover' | 'burst') => READING_NAMES.filter((reading) => READINGS[reading].point === point);

/** As reported; else anywhere between the full pack and the reserve. Behind a time it is what is off the charge by that time. */
function chargeInHover(observation: Observation, reserve: Figure): Figure {
  const { id, title, part } = observation;
  const at = conditionAt('hover', part, 'at');
  const after = afterInHover(observation);
  const kept = asItStands(reserve);
  const label = `charge at which hover of “${title}” was read`;
  if (at) return nuisance(`${id}.charge`, label, at.value, STATED_CHARGE, 'plain');
  if (after) return nuisance(`${id}.charge`, label, 1, 0.01, 'plain');
  return nuisance(`${id}.charge`, label, (1 + kept) / 2, (1 - kept) / 4, 'plain');
}

/** Part of the sag builds up over some ten seconds (Chen and Rincón-Mora, see `physics/chemistry.ts`); a burst is over before. Ours. */
export const SLOW_SAG = { share: 0.06, spread: 0.02, seconds: 10 };
const USUAL_BURST = 2;

function burstShare({ id, title, part }: Observation): Figure {
  const { share, spread, seconds } = SLOW_SAG;
  const lasted = conditionAt('burst', part, 'for')?.value ?? USUAL_BURST;
  const missing = Math.exp(-lasted / seconds);
  const label = `share of the sag that the burst of “${title}” met`;
  return nuisance(`${id}.burst_share`, label, 1 - share * missing, Math.max(0.005, spread * missing));
}

/** That day's air and warmth are not those of other days. */
export function ownFigures(
  { rules }: Build,
  { id, title, part, log }: Observation,
  option: PackOption,
): (figure: Figure) => Figure {
  const found = log && flightIn(log);
  const { airTemperature, packTemperature } = found && !('none' in found) ? found : {};
  const logged = (usual: Figure, value: number): Figure => {
    const { recompute: _, ...rest } = usual;
    return { ...rest, value, standardUncertainty: LOGGED_WARMTH, origin: 'measured' };
  };
  const air =
    part.declared('air') ?? (airTemperature === undefined ? undefined : logged(rules.airTemperature, airTemperature));
  const temperature = option.part.figure('temperature');
  const own = new Map<string, Figure>();
  const thatDay = (usual: Figure, name: string, label: string) =>
    own.set(usual.id, { ...usual, ...ownIdentity(`${id}.${name}`), label: `${label} at “${title}”` });
  thatDay(air ? { ...air, id: rules.airTemperature.id } : rules.airTemperature, 'air', 'air temperature');
  const altitude = air?.conditions.at;
  thatDay(altitude ? { ...altitude, id: rules.altitude.id } : rules.altitude, 'altitude', 'altitude');
  if (rules.humidity) thatDay(rules.humidity, 'humidity', 'humidity');
  const warmth =
    temperature && (packTemperature === undefined ? alike(temperature) : logged(temperature, packTemperature));
  if (warmth) thatDay(warmth, 'pack_temperature', `temperature of ${option.part.name}`);
  thatDay(WINDING_TEMPERATURE, 'winding_temperature', 'temperature of the windings');
  return (figure) => own.get(figure.id) ?? figure;
}

/** K, one standard deviation: a sensor on the craft, in the sun or on one side of the pack. Ours. */
const LOGGED_WARMTH = 1.5;

/** How alike the packs of one owner are in warmth from flight to flight, as a correlation: the same pocket, the same weather. Ours. */
export const ALIKE_IN_WARMTH = 0.5;

/** A figure of that day, of which a part goes with what is usual. */
function alike(usual: Figure): Figure {
  const { value, standardUncertainty } = usual;
  return {
    ...usual,
    standardUncertainty: standardUncertainty * Math.sqrt(1 - ALIKE_IN_WARMTH ** 2),
    recompute: (read) => value + ALIKE_IN_WARMTH * (read(usual) - value),
  };
}

/** Of one cell, or of the cells side by side that it measures as one; at the charger's temperature where that is stated. */
function chargerShows({ part }: PackOption, reading: Figure | undefined, then: Figure | undefined): Formula | number {
  const figure = part.figure('cell_resistance');
  if (!figure) return 0;
  const { own, shared } = cellResistanceOf(figure);
  const parallel = part.cells('cells')?.parallel ?? 1;
  const worn = wornBy(part);
  const cold = coldBetween(reading?.conditions.at, figure.conditions.at);
  const aged: Formula = (read) => (then ? read(then) : 1);
  return (read) => (read(own) * (shared ? read(shared) : 1) * worn(read) * cold(read) * aged(read)) / parallel;
}
