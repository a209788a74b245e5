/** Flights in legs as plain data: what the formats of a run, a sheet and a card print. Numbers are SI, ± is expanded (k = 2). */
import type { Assessment, FlightResults, LegResults } from '../../analysis/assessment.ts';
import type { Flown } from '../../analysis/evaluate/flown-legs.ts';
import { type PrintedEstimate, printedIn } from '../../analysis/uncertainty/print-estimate.ts';
import type { Place } from '../../syntax/place.ts';
import { type FlightResultName, flightResult } from '../../vocabulary/results.ts';
import { printedOf } from '../present/result-printed.ts';

/** A point of what is drawn. */
export type DrawnMoment = ReturnType<Flown['moments']>[number];

/** The state at the end of a leg. */
export interface LegData {
  /** As written. */
  readonly text: string;
  readonly place: Place;
  /** From take-off, and out of the full pack. */
  readonly time?: PrintedEstimate;
  readonly charge?: PrintedEstimate;
  /** Of one cell, in the air and with the motors off. */
  readonly cellVoltage?: PrintedEstimate;
  readonly restingVoltage?: PrintedEstimate;
  readonly mass?: PrintedEstimate;
  /** Of a way: the speed through the air at which a metre over the ground takes least. */
  readonly cheapest?: PrintedEstimate;
  /** Flown with less than has to be left. */
  readonly isShort: boolean;
}

export interface FlightData {
  readonly name: string;
  readonly title?: string;
  /** The `flight:` line of the build. */
  readonly place: Place;
  readonly legs: readonly LegData[];
  readonly time?: PrintedEstimate;
  readonly charge?: PrintedEstimate;
  readonly left?: PrintedEstimate;
  readonly turnBack?: {
    readonly time: PrintedEstimate;
    readonly distance: PrintedEstimate;
    readonly voltage?: PrintedEstimate;
    readonly leg: number;
  };
  /** Speeds at which it stays up longest, and flies farthest in still air. */
  readonly endurance?: PrintedEstimate;
  readonly range?: PrintedEstimate;
  /** Share of the charge that has to be left at the end. */
  readonly floor?: number;
  readonly moments: readonly DrawnMoment[];
  /** Why there is nothing of it. */
  readonly reason?: string;
}

export const flightDataOf = (assessment: Assessment): FlightData[] =>
  assessment.flights.map((one) => flightOf(one, assessment));

function flightOf({ flight, legs, flown }: FlightResults, assessment: Assessment): FlightData {
  const named = (name: FlightResultName) => printedOf(flightResult(flight.name, name), assessment);
  const [time, charge, left] = [named('time'), named('charge'), named('charge_left')];
  const [when, where, volts] = [named('turn_back_time'), named('turn_back_distance'), named('turn_back_voltage')];
  const [endurance, range] = [printedOf('endurance_speed', assessment), printedOf('range_speed', assessment)];
  const reason = charge ? undefined : assessment.missing.get(flightResult(flight.name, 'charge'))?.reason;
  const floor = flown?.ends.at(-1)?.floor;
  return {
    name: flight.name,
    ...(flight.title !== undefined && { title: flight.title }),
    place: flight.place,
    legs: legs.map((leg, i) => legOf(leg, flown?.shortIn === i)),
    ...(time && { time }),
    ...(charge && { charge }),
    ...(left && { left }),
    ...(when &&
      where &&
      flown?.turnBack && {
        turnBack: { time: when, distance: where, ...(volts && { voltage: volts }), leg: flown.turnBack.leg },
      }),
    ...(endurance && { endurance }),
    ...(range && { range }),
    ...(floor !== undefined && { floor }),
    moments: flown?.moments() ?? [],
    ...(reason !== undefined && { reason }),
  };
}

function legOf(results: LegResults, isShort: boolean): LegData {
  const { leg, time, charge, cellVoltage, restingVoltage, mass, cheapest } = results;
  return {
    text: leg.text,
    place: leg.place,
    ...(time && { time: printedIn('min', time) }),
    ...(charge && { charge: printedIn('mAh', charge) }),
    ...(cellVoltage && { cellVoltage: printedIn('V', cellVoltage) }),
    ...(restingVoltage && { restingVoltage: printedIn('V', restingVoltage) }),
    ...(mass && { mass: printedIn('g', mass) }),
    ...(cheapest && { cheapest: printedIn('m/s', cheapest) }),
    isShort,
  };
}
