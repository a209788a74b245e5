/** The results of each flight in legs, by the name behind `flight.<name>.`, and of each of its legs. */
import type { Craft } from '../../physics/craft.ts';
import { type FlightInLegs, isUnflyable, type LegEnd, type TurnBack } from '../../physics/legs.ts';
import type { FlightResultName } from '../../vocabulary/results.ts';
import type { FlightResults, LegResults } from '../assessment.ts';
import type { Evaluation } from '../evaluate/evaluation.ts';
import { type Flown, type FlownFlight, flownLegs } from '../evaluate/flown-legs.ts';
import { bestOf, levelOf } from './level-flight.ts';
import type { MeasuresOf } from './part-measures.ts';
import { type Measure, type Need, windCaseIn } from './reading.ts';

const NEEDS: readonly Need[] = ['dryMass', 'packMass', 'fullAtReserve', 'hoverTime', 'legs'];

/** Which flight of a setup, and which rotors lie in the shadow of others. */
export interface OfFlight {
  readonly index: number;
  readonly overlapping: readonly boolean[];
}

function flownOf(evaluation: Evaluation, { index, overlapping }: OfFlight): FlownFlight | undefined {
  const { flights } = evaluation.setup;
  return flights && flownLegs(evaluation, windCaseIn(evaluation, overlapping, flights.air))[index];
}

/** Read off a flight all of whose legs can be flown. */
const inLegs =
  (of: (flight: FlightInLegs, craft: Craft) => number | undefined) =>
  (one: OfFlight): Measure => ({
    needs: NEEDS,
    of: (evaluation) => {
      const flown = flownOf(evaluation, one);
      const craft = evaluation.craft?.craft;
      return flown && craft && !isUnflyable(flown) ? of(flown, craft) : undefined;
    },
  });

const atEnd = (of: (end: LegEnd, craft: Craft) => number | undefined) =>
  inLegs(({ legs }, craft) => {
    const end = legs.at(-1);
    return end && of(end, craft);
  });

const turned = (of: (turn: TurnBack) => number | undefined) => inLegs(({ turnBack }) => turnBack && of(turnBack));

export const FLIGHT_MEASURES: Readonly<Record<FlightResultName, (one: OfFlight) => Measure>> = {
  time: atEnd(({ time }) => time),
  charge: atEnd(({ charge }, { pack }) => pack.capacity * (1 - charge)),
  charge_left: atEnd(({ charge }) => charge),
  end_voltage: atEnd(({ cellVoltage }) => cellVoltage),
  turn_back_time: turned(({ time }) => time),
  turn_back_distance: turned(({ distance }) => distance),
  turn_back_voltage: turned(({ cellVoltage }) => cellVoltage),
};

/** What is read of a flight in addition to its named results. */
export interface FlightReadings {
  readonly ofFlight: MeasuresOf<FlightResults>;
  readonly legs: readonly MeasuresOf<LegResults>[];
}

/** Charge taken over what may be taken, where that is most. */
const demandOf = ({ legs }: FlightInLegs): number =>
  Math.max(...legs.map(({ charge, floor }) => (1 - charge) / Math.max(1e-3, 1 - floor)));

export function flightReadings(one: OfFlight, count: number): FlightReadings {
  const atLeg = (leg: number, of: (end: LegEnd, craft: Craft) => number | undefined): Measure =>
    inLegs(({ legs }, craft) => {
      const end = legs[leg];
      return end && of(end, craft);
    })(one);
  return {
    ofFlight: {
      demand: inLegs(demandOf)(one),
      limit: {
        needs: NEEDS,
        of: (evaluation) => {
          const flown = flownOf(evaluation, one);
          return flown && isUnflyable(flown) ? flown.limit : undefined;
        },
      },
    },
    legs: Array.from({ length: count }, (_, leg) => ({
      time: atLeg(leg, ({ time }) => time),
      charge: atLeg(leg, ({ charge }, { pack }) => pack.capacity * (1 - charge)),
      cellVoltage: atLeg(leg, ({ cellVoltage }) => cellVoltage),
      restingVoltage: atLeg(leg, ({ restingVoltage }) => restingVoltage),
      current: atLeg(leg, ({ current }) => current),
      mass: atLeg(leg, ({ mass }) => mass),
      cheapest: {
        needs: NEEDS,
        of: (evaluation) => cheapestOf(evaluation, one, leg),
      },
    })),
  };
}

/** The speed through the air at which a metre over the ground takes least charge, in this leg's wind. */
function cheapestOf(evaluation: Evaluation, { index, overlapping }: OfFlight, leg: number): number | undefined {
  const flown = evaluation.setup.flights?.plans[index]?.legs[leg];
  if (flown?.manner !== 'cruise') return undefined;
  const level = levelOf(evaluation, overlapping);
  return level && bestOf(level, 'range', flown.wind);
}

export function flownIn(evaluation: Evaluation, one: OfFlight): Flown | undefined {
  const flown = flownOf(evaluation, one);
  if (!flown) return undefined;
  if (isUnflyable(flown)) return { start: 1, ends: [], unflyable: flown, turnBack: undefined, moments: () => [] };
  const short = flown.legs.findIndex(({ charge, floor }) => charge < floor);
  return {
    start: flown.start,
    ends: flown.legs,
    moments: flown.moments,
    get turnBack() {
      return flown.turnBack;
    },
    ...(short >= 0 && { shortIn: short }),
  };
}

/** Why nothing of a flight has a value. */
export function notFlown(evaluation: Evaluation, one: OfFlight): string | undefined {
  const flown = flownOf(evaluation, one);
  if (!flown) return evaluation.craft?.flight ? 'it does not hover from the full pack to the reserve' : undefined;
  if (!isUnflyable(flown)) return 'the legs do not state the way home: `home at …`, or one way out';
  return `leg ${flown.leg + 1} cannot be flown`;
}
