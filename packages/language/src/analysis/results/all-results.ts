/** All results of a build: what is read off a solved setup under a public name, and how it is explained. */
import type { Build, PackOption } from '../../model/build.ts';
import { FLIGHT_RESULTS, isResultName, RAIL_RESULTS, RESULT_NAMES } from '../../vocabulary/results.ts';
import type { Evaluation } from '../evaluate/evaluation.ts';
import { flightsOn } from '../setup/optional.ts';
import { explainFlight } from './flight-explanations.ts';
import { FLIGHT_MEASURES, notFlown } from './flight-results.ts';
import { RESULT_COMPUTATIONS } from './generated/results.ts';
import { overlappingOf } from './level-flight.ts';
import { RAIL_COMPUTATIONS } from './rail-results.ts';
import type { Measure } from './reading.ts';
import type { Explain } from './result.ts';

export interface NamedMeasure extends Measure {
  /** `all_up_weight`, `rail.video.burst_voltage` … */
  readonly name: string;
  /** Why it has no value, where that does not follow from what it needs. */
  readonly reason?: (evaluation: Evaluation) => string | undefined;
}

/** What is read off a setup, those of rails and of the flights on a pack last; what is derived or searched for is not among them. */
export function resultMeasures(build: Build, option?: PackOption): NamedMeasure[] {
  const { rails } = build;
  const overlapping = overlappingOf(build);
  const own = RESULT_NAMES.flatMap((name): NamedMeasure[] => {
    const { needs, of } = RESULT_COMPUTATIONS[name];
    return typeof of === 'string' ? [] : [{ name, needs, of: (evaluation) => of(evaluation, overlapping) }];
  });
  const ofRails = rails.flatMap((rail, i) =>
    RAIL_RESULTS.map((name) => ({ name: `rail.${rail.name}.${name}`, ...RAIL_COMPUTATIONS[name].measure(i) })),
  );
  const ofFlights = (option ? flightsOn(build, option) : []).flatMap(({ name }, index) =>
    FLIGHT_RESULTS.map((result): NamedMeasure => {
      const one = { index, overlapping };
      return {
        name: `flight.${name}.${result}`,
        ...FLIGHT_MEASURES[result](one),
        reason: (evaluation) => notFlown(evaluation, one),
      };
    }),
  );
  return [...own, ...ofRails, ...ofFlights];
}

export function explanationOf(name: string): Explain | undefined {
  if (isResultName(name)) return RESULT_COMPUTATIONS[name].explain;
  const [, flight, ofFlight] = /^flight\.([^.]+)\.(\w+)$/.exec(name) ?? [];
  const flown = FLIGHT_RESULTS.find((one) => one === ofFlight);
  if (flight !== undefined && flown) return (assessment) => explainFlight(flight, flown, assessment);
  const [, rail, asked] = /^rail\.(.+)\.(\w+)$/.exec(name) ?? [];
  const known = RAIL_RESULTS.find((one) => one === asked);
  if (rail === undefined || !known) return undefined;
  return (assessment) => RAIL_COMPUTATIONS[known].explain(rail, assessment);
}
