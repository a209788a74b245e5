/** What checks compare with the limits of parts, each quantity computed when something reads it. */
import type {
  Assessment,
  Estimate,
  FlightResults,
  LegResults,
  LoadResults,
  RailResults,
  RotorResults,
} from '../assessment.ts';
import type { Readings } from './all-readings.ts';
import { PACK_MEASURES } from './part-measures.ts';
import type { Measure } from './reading.ts';

export type EstimateOf = (measure: Measure) => Estimate | undefined;

type Made<Base, Results> = (base: Base, estimateOf: EstimateOf) => Base & Results;

/** Something with a property for each of its measures, computed when it is read. */
function onDemand<Base extends object, Results>(measures: Readonly<Record<string, Measure>>): Made<Base, Results> {
  const prototype = {};
  for (const [key, measure] of Object.entries(measures))
    Object.defineProperty(prototype, key, {
      get(this: { readonly estimateOf: EstimateOf }) {
        return this.estimateOf(measure);
      },
    });
  return (base, estimateOf) => Object.assign(Object.create(prototype), base, { estimateOf });
}

export const packOnDemand = onDemand<object, Assessment['pack']>(PACK_MEASURES);

const known = new WeakMap<Readings, ReturnType<typeof makeParts>>();

/** Of what has the same measures: made once. */
export function partsIn(readings: Readings): ReturnType<typeof makeParts> {
  const found = known.get(readings) ?? makeParts(readings);
  known.set(readings, found);
  return found;
}

const makeParts = ({ rotors, loads, rails, flights }: Readings) => ({
  rotors: rotors.map((one) => onDemand<Pick<RotorResults, 'line'>, RotorResults>(one)),
  loads: loads.map((one) => onDemand<Pick<LoadResults, 'load'>, LoadResults>(one)),
  rails: rails.map((one) => onDemand<Pick<RailResults, 'rail' | 'dropsOut'>, RailResults>(one)),
  flights: flights.map(({ ofFlight, legs }) => ({
    ofFlight: onDemand<Pick<FlightResults, 'flight' | 'legs'>, FlightResults>(ofFlight),
    legs: legs.map((one) => onDemand<Pick<LegResults, 'leg'>, LegResults>(one)),
  })),
});
