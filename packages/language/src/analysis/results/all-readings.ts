/** Everything that is read off an evaluation of a build on a pack. */
import type { Build, PackOption } from '../../model/build.ts';
import type { ResultId } from '../../vocabulary/results.ts';
import type { LoadResults, RailResults, RotorResults } from '../assessment.ts';
import { flightsOn } from '../setup/optional.ts';
import { DERIVATIONS, type NamedMeasure, resultMeasures } from './all-results.ts';
import { type FlightReadings, flightReadings } from './flight-results.ts';
import { overlappingOf } from './level-flight.ts';
import { loadMeasures, type MeasuresOf, PACK_MEASURES, railMeasures, rotorMeasures } from './part-measures.ts';
import type { Measure } from './reading.ts';

/** All that is read off an evaluation of a build: its results, and what the limits of its parts are compared with. */
export interface Readings {
  readonly results: readonly NamedMeasure[];
  readonly byName: ReadonlyMap<ResultId, NamedMeasure>;
  /** Of all results, those that are derived last. */
  readonly names: readonly ResultId[];
  readonly rotors: readonly MeasuresOf<RotorResults>[];
  readonly loads: readonly MeasuresOf<LoadResults>[];
  readonly rails: readonly MeasuresOf<RailResults>[];
  readonly flights: readonly FlightReadings[];
}

/** Candidates by the thousand have the same rails, as many rotors and loads, and the same flights. */
const knownReadings = new WeakMap<Build['rails'], Map<string, Readings>>();

export function readingsOf(build: Build, option: PackOption): Readings {
  const { rails, rotors, loads } = build;
  const ofRails = knownReadings.get(rails) ?? new Map<string, Readings>();
  knownReadings.set(rails, ofRails);
  const flights = flightsOn(build, option);
  const flown = flights.map(({ name, legs }) => `${name} ${legs.length}`);
  const shape = [loads.length, ...rotors.map(({ position }) => position), ...flown].join();
  const found = ofRails.get(shape) ?? makeReadings(build, option);
  ofRails.set(shape, found);
  return found;
}

function makeReadings(build: Build, option: PackOption): Readings {
  const { rails, rotors, loads } = build;
  const results = resultMeasures(build, option);
  return {
    results,
    byName: new Map(results.map((measure) => [measure.name, measure])),
    names: [...results.map(({ name }) => name), ...DERIVATIONS.keys()],
    rotors: rotors.map((_, i) => rotorMeasures(i)),
    loads: loads.map((_, i) => loadMeasures(i)),
    rails: rails.map((rail, i) => railMeasures(i, rail)),
    flights: flightsOn(build, option).map(({ legs }, index) =>
      flightReadings({ index, overlapping: overlappingOf(build) }, legs.length),
    ),
  };
}

const knownMeasures = new WeakMap<Readings, readonly Measure[]>();

/** Quantities of parts behind the results. */
export function measuresOf(build: Build, option: PackOption, readings = readingsOf(build, option)): readonly Measure[] {
  const { results, flights } = readings;
  const all = knownMeasures.get(readings) ?? [
    ...results,
    ...flights.flatMap(({ ofFlight, legs }) => [ofFlight, ...legs].flatMap((one) => Object.values<Measure>(one))),
    ...measuresOfParts(readings),
  ];
  knownMeasures.set(readings, all);
  return all;
}

/** What the limits of parts are compared with, without the results. */
const measuresOfParts = ({ rotors, loads, rails }: Readings): Measure[] =>
  [...rotors, ...loads, ...rails, PACK_MEASURES].flatMap((measures) => Object.values<Measure>(measures));
