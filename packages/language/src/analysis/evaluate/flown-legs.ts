/** The flights in legs of a solved setup; flown only when something of them is read. */
import { STANDARD_GRAVITY } from '../../physics/air.ts';
import { type Craft, isImpossible } from '../../physics/craft.ts';
import type { Unflyable } from '../../physics/leg-limits.ts';
import {
  type FlightInLegs,
  type FlightMoment,
  flyLegs,
  isUnflyable,
  type LegEnd,
  type TurnBack,
} from '../../physics/legs.ts';
import type { WindCase } from '../../physics/wind.ts';
import type { Evaluation } from './evaluation.ts';

export type FlownFlight = FlightInLegs | Unflyable;

/** The flight as it was flown, and the first of its legs that cannot be flown or is flown with less than has to be left. */
export interface Flown {
  /** State of charge at take-off. */
  readonly start: number;
  readonly ends: readonly LegEnd[];
  readonly turnBack: TurnBack | undefined;
  readonly moments: () => readonly FlightMoment[];
  readonly unflyable?: Unflyable;
  /** The leg in which it runs out. */
  readonly shortIn?: number;
}

const known = new WeakMap<Evaluation, readonly FlownFlight[]>();
const NONE: readonly FlownFlight[] = [];

/**
 * In the order of the setup's plans; none where it does not hover from the full pack to the reserve.
 * @param around the craft's own numbers for air that flows
 */
export function flownLegs(evaluation: Evaluation, around: Omit<WindCase, 'mass'> | undefined): readonly FlownFlight[] {
  const { setup, craft } = evaluation;
  if (!setup.flights || !around || !craft?.flight || isImpossible(craft.flight.hoverTime)) return NONE;
  // Whether it hovers to the end is another question, which has its own answer.
  if (around.availableThrust < craft.craft.mass * STANDARD_GRAVITY) return NONE;
  const found = known.get(evaluation) ?? sameAsNear(evaluation) ?? underLowerLimit(evaluation);
  if (found) return found;
  const air = { ...setup.flights.air, ...around };
  const flown = setup.flights.plans.map(({ legs }) => flyLegs(craft.craft, air, legs));
  known.set(evaluation, flown);
  keepUnlimited(evaluation, craft.craft, flown);
  return flown;
}

function underLowerLimit({ unlimited, setup }: Evaluation): readonly FlownFlight[] | undefined {
  const lower = unlimited?.known;
  return lower && lower.limit <= setup.dutyLimit ? lower.flown : undefined;
}

/** Each leg is fed down to the reserve: no limit cuts it off. */
function keepUnlimited({ unlimited, setup }: Evaluation, { pack }: Craft, flown: readonly FlownFlight[]): void {
  if (!unlimited || (unlimited.known && unlimited.known.limit <= setup.dutyLimit)) return;
  const areFed = flown.every(
    (one) =>
      !isUnflyable(one) &&
      one.legs.every(({ cellVoltage, floor }) => cellVoltage !== undefined && floor === pack.reserve),
  );
  if (areFed) unlimited.known = { limit: setup.dutyLimit, flown };
}

/** A number that no flight depends on may have moved. */
function sameAsNear({ setup, craft, near }: Evaluation): readonly FlownFlight[] | undefined {
  const isSame =
    near?.craft &&
    setup.flights === near.setup.flights &&
    craft?.craft === near.craft.craft &&
    setup.fullDutyFactor === near.setup.fullDutyFactor;
  return isSame ? known.get(near) : undefined;
}
