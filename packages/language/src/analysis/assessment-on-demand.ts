/** An assessment, put together piece by piece as something reads it: searches solve a craft a hundred times and read one result. */
import type { Build, PackOption } from '../model/build.ts';
import { isImpossible } from '../physics/craft.ts';
import type { ResultId } from '../vocabulary/results.ts';
import type { Assessment, FlightResults, Learnt, LoadResults, RailResults, RotorResults } from './assessment.ts';
import type { Evaluation, Point } from './evaluate/evaluation.ts';
import { once } from './evaluate/once.ts';
import type { Readings } from './results/all-readings.ts';
import { flownIn } from './results/flight-results.ts';
import { overlappingOf } from './results/level-flight.ts';
import { resultsOnDemand } from './results/named-results.ts';
import { type EstimateOf, packOnDemand, partsIn } from './results/parts-on-demand.ts';
import type { Measure } from './results/reading.ts';
import type { SetupTemplate } from './setup/craft-setup.ts';
import { flightsOn } from './setup/optional.ts';

/** What an assessment is made of. */
export interface Ingredients {
  readonly build: Build;
  readonly option: PackOption;
  readonly readings: Readings;
  readonly evaluation: Evaluation;
  readonly reasons: SetupTemplate['reasons'];
  readonly learnt?: Learnt | undefined;
  readonly masses: () => Assessment['masses'];
  /** None where nothing reads whose share of a ± is which. */
  readonly inputs?: Assessment['inputs'];
}

/** Is reported what something reads. */
interface Watch {
  measure(measure: Measure): void;
  /** Of the craft, its rails and flights, by name. */
  result(name: ResultId): void;
  /** Or the flights in legs; what is read of them. */
  points(which: 'hover' | 'burst' | 'legs' | 'all', point?: Point): void;
}

const NOBODY: Watch = { measure: () => undefined, result: () => undefined, points: () => undefined };

/** @param estimateOf remembers what it computed: a part returns it each time it is read */
export function assessmentOnDemand(
  { build, option, readings, evaluation, reasons, learnt, masses, inputs = [] }: Ingredients,
  estimateOf: EstimateOf,
  watch = NOBODY,
): Assessment {
  const of: EstimateOf =
    watch === NOBODY
      ? estimateOf
      : (measure) => {
          watch.measure(measure);
          return estimateOf(measure);
        };
  const seen = (which: 'hover' | 'all', point: Point | undefined) => {
    watch.points(which, point);
    return point;
  };
  const named = once(() => resultsOnDemand(readings, { build, option, evaluation }, reasons, estimateOf));
  const results = once(() =>
    watch === NOBODY ? named().results : named().results.watched((name) => watch.result(name)),
  );
  const flight = evaluation.craft?.flight;
  const parts = partsIn(readings);
  const massLines = once(masses);
  const rotors = once(() => build.rotors.map((line, i): RotorResults => parts.rotors[i]?.({ line }, of) ?? { line }));
  const loads = once(() => build.loads.map((load, i): LoadResults => parts.loads[i]?.({ load }, of) ?? { load }));
  const rails = once(() => {
    const burst = build.rails.length > 0 ? flight?.burstAtReserve : undefined;
    return build.rails.map((rail, i): RailResults => {
      const dropsOut = burst !== undefined && !isImpossible(burst) && burst.rails[i]?.droppedOut === true;
      return parts.rails[i]?.({ rail, dropsOut }, of) ?? { rail, dropsOut };
    });
  });
  const pack = once(() => packOnDemand({}, of));
  const flights = once(() => {
    const overlapping = overlappingOf(build);
    return flightsOn(build, option).map((one, index): FlightResults => {
      const read = parts.flights[index];
      const legs = one.legs.map((leg, i) => read?.legs[i]?.({ leg }, of) ?? { leg });
      const made = read?.ofFlight({ flight: one, legs }, of) ?? { flight: one, legs };
      return Object.defineProperty(made, 'flown', { get: once(() => flownIn(evaluation, { index, overlapping })) });
    });
  });
  return {
    build,
    option,
    inputs,
    ...(learnt && { learnt }),
    get results() {
      return results();
    },
    get missing() {
      return named().missing;
    },
    get masses() {
      return massLines();
    },
    get rotors() {
      return rotors();
    },
    get loads() {
      return loads();
    },
    get rails() {
      if (build.rails.length > 0) watch.points('burst');
      return rails();
    },
    get pack() {
      return pack();
    },
    get flights() {
      if (flights().length > 0) watch.points('legs');
      return flights();
    },
    get evaluation() {
      watch.points('all');
      return evaluation;
    },
    points: {
      get hover() {
        return seen('hover', flight?.hover);
      },
      get hoverAtReserve() {
        return seen('hover', flight?.hoverAtReserve);
      },
      get full() {
        return seen('all', evaluation.craft?.full);
      },
      get fullAtReserve() {
        return seen('all', evaluation.craft?.fullAtReserve);
      },
    } as Assessment['points'],
  };
}
