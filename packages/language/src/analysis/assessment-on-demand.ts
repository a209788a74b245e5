/** An assessment of which each number is computed when something reads it: searches solve a craft a hundred times and read one result. */
import type { Build, Flight, PackOption } from '../model/build.ts';
import { isImpossible } from '../physics/craft.ts';
import type { Assessment, FlightResults, Learnt, LoadResults, RailResults, RotorResults } from './assessment.ts';
import type { Evaluation, Point } from './evaluate/evaluation.ts';
import { once } from './evaluate/once.ts';
import { flownIn } from './results/flight-results.ts';
import { overlappingOf } from './results/level-flight.ts';
import { resultsOnDemand } from './results/named-results.ts';
import { type EstimateOf, packOnDemand, partsIn } from './results/parts-on-demand.ts';
import type { Measure } from './results/reading.ts';
import type { Readings } from './results/readings.ts';
import type { SetupTemplate } from './setup/craft-setup.ts';
import type { Price } from './setup/price-sum.ts';

/** What an assessment is made of. */
export interface Ingredients {
  readonly build: Build;
  readonly option: PackOption;
  readonly readings: Readings;
  readonly evaluation: Evaluation;
  readonly reasons: SetupTemplate['reasons'];
  readonly learnt?: Learnt | undefined;
  readonly masses: () => Assessment['masses'];
  readonly price: () => Price;
  readonly flights: () => readonly Flight[];
}

/** Is reported what something reads. */
interface Watch {
  measure(measure: Measure): void;
  /** Of the craft, its rails and flights, by name. */
  result(name: string): void;
  /** Or the flights in legs; what is read of them. */
  points(which: 'hover' | 'burst' | 'legs' | 'all', point?: Point): void;
}

const NOBODY: Watch = { measure: () => undefined, result: () => undefined, points: () => undefined };

export function assessmentOnDemand(
  { build, option, readings, evaluation, reasons, learnt, masses, price, flights }: Ingredients,
  estimateOf: EstimateOf,
  watch = NOBODY,
): Assessment {
  const of: EstimateOf = (measure) => {
    watch.measure(measure);
    return estimateOf(measure);
  };
  const seen = (which: 'hover' | 'burst' | 'all', point: Point | undefined) => {
    watch.points(which, point);
    return point;
  };
  const named = once(() => resultsOnDemand(readings, evaluation, reasons, estimateOf, price));
  const results = once(() =>
    watch === NOBODY ? named().results : named().results.watched((name) => watch.result(name)),
  );
  const flight = evaluation.craft?.flight;
  const parts = once(() => partsIn(readings));
  return {
    build,
    option,
    inputs: [],
    ...(learnt && { learnt }),
    get results() {
      return results();
    },
    get missing() {
      return named().missing;
    },
    get masses() {
      return masses();
    },
    get rotors() {
      return build.rotors.map((line, i): RotorResults => parts().rotors[i]?.({ line }, of) ?? { line });
    },
    get loads() {
      return build.loads.map((load, i): LoadResults => parts().loads[i]?.({ load }, of) ?? { load });
    },
    get rails() {
      const dropsOut = (i: number) => {
        const burst = flight?.burstAtReserve;
        watch.points('burst');
        return burst !== undefined && !isImpossible(burst) && burst.rails[i]?.droppedOut === true;
      };
      return build.rails.map(
        (rail, i): RailResults =>
          parts().rails[i]?.({ rail, dropsOut: dropsOut(i) }, of) ?? { rail, dropsOut: dropsOut(i) },
      );
    },
    get pack() {
      return packOnDemand({}, of);
    },
    get flights() {
      const all = flights();
      if (all.length > 0) watch.points('legs');
      const overlapping = overlappingOf(build);
      return all.map((one, index): FlightResults => {
        const read = parts().flights[index];
        const legs = one.legs.map((leg, i) => read?.legs[i]?.({ leg }, of) ?? { leg });
        const made = read?.ofFlight({ flight: one, legs }, of) ?? { flight: one, legs };
        return Object.defineProperty(made, 'flown', { get: once(() => flownIn(evaluation, { index, overlapping })) });
      });
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
      get burst() {
        return seen('burst', flight?.burst);
      },
      get burstAtReserve() {
        return seen('burst', flight?.burstAtReserve);
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
