/**
 * A pack over the dates on which it was observed: its resistance as a charger showed it, or as it follows from the sag of a full burst.
 * An old reading has less weight for the pack of today, see `sinceThen`.
 */

import type { Build, Figure, Part } from '../../model/build.ts';
import { isSamePart } from '../../model/identities.ts';
import { coldFactor, restingVoltage } from '../../physics/chemistry.ts';
import type { Place } from '../../syntax/place.ts';
import { plusMinusOf } from '../../units/interval.ts';
import { cellsInSeries, chemistryOf, packsInParallel } from '../setup/pack-setup.ts';
import { type PackObserved, packsObserved } from './observed-lines.ts';
import { nuisance } from './scene.ts';

export interface PackOnDay {
  /** `2026-10-04` */
  readonly day: string;
  /** Of one cell, or of the cells side by side that a charger shows as one, at 20 °C; ohm. */
  readonly resistance: number;
  /** One standard deviation, relative. */
  readonly error: number;
  readonly title: string;
  readonly place: Place;
}

/** At which a charger's figure is stated. */
const ROOM = 293.15;
const SECONDS_PER_YEAR = 365.25 * 24 * 3600;

/** Dated readings of a pack, the first day first; of one day the best. */
export function packOverDays(build: Build, pack: Part<'pack'>): PackOnDay[] {
  const ofPack = observedOf(build).filter(({ option }) => isSamePart(option.part, pack));
  const readings = ofPack.flatMap((observed) => readingOf(observed) ?? []);
  const best = new Map<string, PackOnDay>();
  for (const reading of readings) {
    const known = best.get(reading.day);
    if (!known || reading.error < known.error) best.set(reading.day, reading);
  }
  return [...best.values()].sort((a, b) => (a.day < b.day ? -1 : 1));
}

/** First and last, where they surely differ (k = 2). */
export function agedOf(
  days: readonly PackOnDay[],
): { readonly first: PackOnDay; readonly last: PackOnDay } | undefined {
  const [first] = days;
  const last = days.at(-1);
  if (!first || !last || first === last) return undefined;
  const grown = Math.log(last.resistance / first.resistance);
  return grown > plusMinusOf(Math.hypot(first.error, last.error)) ? { first, last } : undefined;
}

const observedOf = (build: Build): PackObserved[] =>
  [build, ...build.kin().map((kin) => kin.build)].flatMap(packsObserved);

function readingOf(observed: PackObserved): PackOnDay | undefined {
  const { observation } = observed;
  const { part, title } = observation;
  const day = part.day('on');
  const shown = part.declared('cell_resistance');
  const found = shown ? byCharger(shown) : byBurst(observed);
  if (day === undefined || !found) return undefined;
  const place = shown?.place ?? part.declared('burst_voltage')?.place ?? observation.place;
  return { day, title, place, ...found };
}

type Resistance = Pick<PackOnDay, 'resistance' | 'error'>;

function byCharger({ value, standardUncertainty, conditions }: Figure): Resistance {
  const at = conditions.at?.value ?? ROOM;
  return { resistance: (value * coldFactor(ROOM)) / coldFactor(at), error: standardUncertainty / value };
}

/** Of what a burst's volts and amperes are off together, one standard deviation, over the volts. */
const OFF_IN_A_BURST = 0.012;
/** Relative, of what leads and plug take and of the warmth of the day. */
const BESIDE_THE_CELLS = 0.1;

/** Of a full burst on a fresh pack; leads and plug, which do not age, are in it. */
function byBurst({ observation: { part }, option }: PackObserved): Resistance | undefined {
  const volts = part.declared('burst_voltage');
  const amperes = part.declared('burst_current');
  const cells = cellsInSeries(option);
  if (!volts || !amperes || !cells || volts.conditions.at) return undefined;
  const full = cells * restingVoltage(chemistryOf(option.part), 1);
  const sag = full - volts.value;
  if (sag <= 0 || amperes.value <= 0) return undefined;
  const resistance = (sag / amperes.value / cells) * packsInParallel(option);
  return { resistance, error: Math.hypot((OFF_IN_A_BURST * volts.value) / sag, BESIDE_THE_CELLS) };
}

/** How much less a pack resisted a year before, as a logarithm: what is flown through a year; and how unlike packs are in that, as a walk at random; years
 * beyond which a reading counts as one of then, for a pack is retired by then, and a longer time is likelier a mistyped year. Ours. */
export const GROWTH_PER_YEAR = { mean: 0.2, spread: 0.35, longest: 4 };

/**
 * Factor on the resistance of a pack at an observation, where it was observed on a later day as well: the fit then knows the pack of the latest day, and
 * the older a reading, the less its weight. Undefined where there is nothing later.
 */
export function sinceThen(observed: PackObserved, all: readonly PackObserved[]): Figure | undefined {
  const { observation, option } = observed;
  const day = observation.part.day('on');
  const days = all
    .filter((other) => isSamePart(other.option.part, option.part))
    .flatMap((other) => other.observation.part.day('on') ?? []);
  const latest = days.sort().at(-1);
  if (day === undefined || latest === undefined || latest <= day) return undefined;
  const { mean, spread, longest } = GROWTH_PER_YEAR;
  const years = Math.min(longest, (Date.parse(latest) - Date.parse(day)) / 1000 / SECONDS_PER_YEAR);
  const factor = Math.exp(-mean * years);
  const label = `resistance of ${option.part.name} at “${observation.title}” over that of later days`;
  return nuisance(`${observation.id}.since_then`, label, factor, spread * Math.sqrt(years) * factor);
}
