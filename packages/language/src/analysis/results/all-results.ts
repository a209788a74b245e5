/** All results of a build: what is read off a solved setup under a public name, and how it is explained. */
import type { Build, PackOption } from '../../model/build.ts';
import {
  FLIGHT_RESULTS,
  RAIL_RESULTS,
  RESULT_NAMES,
  type ResultId,
  type ResultKey,
  type ResultSchema,
  schemaOfResult,
} from '../../vocabulary/results.ts';
import type { Evaluation } from '../evaluate/evaluation.ts';
import { flightsOn } from '../setup/optional.ts';
import { explainFlight } from './flight-explanations.ts';
import { FLIGHT_MEASURES, notFlown } from './flight-results.ts';
import { RESULT_COMPUTATIONS } from './generated/result-files.ts';
import { overlappingOf } from './level-flight.ts';
import { RAIL_COMPUTATIONS } from './rail-results.ts';
import type { Measure } from './reading.ts';
import type { DerivedComputation, Explain, ResultComputation } from './result.ts';

export interface NamedMeasure extends Measure, Pick<ResultSchema, 'name' | 'label' | 'unit'> {
  /** Why it has no value, where that does not follow from what it needs. */
  readonly reason?: (evaluation: Evaluation) => string | undefined;
}

/** How results are derived from others, in the order in which a sheet lists them. */
export const DERIVATIONS: ReadonlyMap<ResultId, DerivedComputation & Pick<ResultComputation, 'needs'>> = new Map(
  RESULT_NAMES.flatMap((name) => {
    const { needs, of } = RESULT_COMPUTATIONS[name];
    return typeof of === 'object' ? [[name, { needs, ...of }] as const] : [];
  }),
);

/** The results that are read off a setup for this one: itself, or those from which it is derived. */
export const readFor = (name: ResultId): readonly ResultId[] =>
  DERIVATIONS.get(name)?.from.flatMap((source) => readFor(source)) ?? [name];

/** What is read off a setup, those of rails and of the flights on a pack last; what is derived or searched for is not among them. */
export function resultMeasures(build: Build, option?: PackOption): NamedMeasure[] {
  const { rails } = build;
  const overlapping = overlappingOf(build);
  const own = RESULT_NAMES.flatMap((name): NamedMeasure[] => {
    const { needs, of } = RESULT_COMPUTATIONS[name];
    return typeof of === 'function'
      ? [named({ of: 'craft', result: name }, { needs, of: (evaluation) => of(evaluation, overlapping) })]
      : [];
  });
  const ofRails = rails.flatMap((rail, i) =>
    RAIL_RESULTS.map(({ name: result }) =>
      named({ of: 'rail', owner: [rail.name], result }, RAIL_COMPUTATIONS[result].measure(i)),
    ),
  );
  const ofFlights = (option ? flightsOn(build, option) : []).flatMap(({ name }, index) =>
    FLIGHT_RESULTS.map(({ name: result }): NamedMeasure => {
      const one = { index, overlapping };
      const measure = named({ of: 'flight', owner: name, result }, FLIGHT_MEASURES[result](one));
      return { ...measure, reason: (evaluation) => notFlown(evaluation, one) };
    }),
  );
  return [...own, ...ofRails, ...ofFlights];
}

function named(key: ResultKey, measure: Measure): NamedMeasure {
  const { name, label, unit } = schemaOfResult(key);
  return { ...measure, name, label, unit };
}

export function explanationOf(key: ResultKey): Explain {
  switch (key.of) {
    case 'craft':
      return RESULT_COMPUTATIONS[key.result].explain;
    case 'rail':
      return (assessment) => RAIL_COMPUTATIONS[key.result].explain(key.owner.join('.'), assessment);
    case 'flight':
      return (assessment) => explainFlight(key.owner, key.result, assessment);
  }
}
