/** How the results of a flight in legs come about: what each leg takes, one after the other. */
import type { Leg } from '../../model/build.ts';
import { packCellResistance } from '../../physics/chemistry.ts';
import type { LegEnd, TurnBack } from '../../physics/legs.ts';
import { formatShare } from '../../units/print.ts';
import type { FlightResultName } from '../../vocabulary/results.ts';
import type { Assessment, FlightResults } from '../assessment.ts';
import { indexed, ofFigure, ofNumber, type Terms } from '../explain/derivation-terms.ts';
import type { Explanation } from '../explain/explanation.ts';
import { INDUCED_FACTOR, LEVEL_FLIGHT } from '../uncertainty/model-form.ts';
import { dragAreaIn } from './air-figures.ts';
import { BATTERY_SOURCE, chargeTerms } from './explaining.ts';
import { LEVEL_FLIGHT_SOURCE } from './level-flight.ts';

const LEGS_NEGLECT =
  'speeding up and slowing down, turns, gusts, thinner air on the way up; a descent takes what hovering takes, and power does not depend on how the rotors lie in the wake of others';

const SOURCE = `${LEVEL_FLIGHT_SOURCE}; climb: Leishman 2006, sec. 2.13. ${BATTERY_SOURCE}`;

/** Undefined where nothing of it was flown. */
export function explainFlight(name: string, result: FlightResultName, assessment: Assessment): Explanation | undefined {
  const one = assessment.flights.find(({ flight }) => flight.name === name);
  if (!one?.flown || one.flown.ends.length === 0) return undefined;
  const air = [ofFigure('C_dA', dragAreaIn(assessment)), ofFigure('κ', INDUCED_FACTOR), ofFigure('f', LEVEL_FLIGHT)];
  const { formula, description, terms } = partsOf(result, one, assessment);
  return { formula, description, terms: [...terms, ...air], source: SOURCE, neglects: LEGS_NEGLECT };
}

type Parts = Pick<Explanation, 'formula' | 'description' | 'terms'>;

function partsOf(result: FlightResultName, one: FlightResults, assessment: Assessment): Parts {
  const { ends = [], turnBack } = one.flown ?? {};
  const last = ends.at(-1);
  const taken = startOf(one.flown) < 1 ? 'Q_g + Σ I·t' : 'Σ I·t';
  const capacity = chargeTerms(assessment);
  switch (result) {
    case 'time':
      return {
        formula: 't_f = Σ t',
        description: 'The times of all legs, one after the other; of a way its length over the speed over the ground.',
        terms: timeTerms(one),
      };
    case 'charge':
      return {
        formula: `Q_f = ${taken}`,
        description: `Mean current of each leg times how long it lasts${groundWords(one)}.`,
        terms: legTerms(one, assessment),
      };
    case 'charge_left':
      return {
        formula: `z = 1 − (${taken}) / (${capacity.charge})`,
        description: 'What the legs take, off the charge at flying rates.',
        terms: [...legTerms(one, assessment), ...capacity.terms],
      };
    case 'end_voltage':
      return {
        formula: 'V = u − I·r',
        description:
          'Resting voltage at the charge that is left, less what the current of the last leg takes over the resistance of a cell there.',
        terms: voltageTerms(last, assessment),
      };
    case 'turn_back_voltage':
      return {
        formula: 'V = u − I·r',
        description: `The same when it is time to turn back. ${TURNING}`,
        terms: voltageTerms(turnBack, assessment),
      };
    case 'turn_back_distance':
      return {
        formula: 's = Σ v·t',
        description: `The ways out until then, at the speed over the ground. ${TURNING}`,
        terms: wayTerms(one),
      };
    case 'turn_back_time':
      return {
        formula: 't_b = Σ t',
        description: `The times of the legs until then. ${TURNING}`,
        terms: timeTerms(one, turnBack),
      };
  }
}

const TURNING =
  'The last leg before the way home is flown longer or cut short until the way home, from where the craft then is, and all that follows end with just what has to be left.';

/** One after the other; up to when it turns back, where that is requested. */
function timesOf(
  { flight, flown }: FlightResults,
  until?: TurnBack,
): readonly { readonly leg: Leg; readonly time: number }[] {
  const ends = flown?.ends ?? [];
  return flight.legs.flatMap((leg, i) => {
    if (until && i > until.leg) return [];
    const end = until?.leg === i ? until.time : (ends[i]?.time ?? 0);
    const time = end - (ends[i - 1]?.time ?? 0);
    return time > 0 ? [{ leg, time }] : [];
  });
}

function timeTerms(one: FlightResults, until?: TurnBack): Terms {
  const times = timesOf(one, until);
  return times.map(({ leg, time }, i) => ofNumber(indexed('t', i, times.length), leg.text, time, 's'));
}

/** Since the last way home, up to when it turns back. */
function wayTerms(one: FlightResults): Terms {
  const until = one.flown?.turnBack;
  const flown = timesOf(one, until);
  const since = flown.slice(flown.findLastIndex(({ leg }) => leg.manner === 'home') + 1);
  const ways = since.filter(({ leg }) => leg.manner === 'cruise');
  if (ways.length === 0) return [ofNumber('v', 'no way out', 0, 'm/s'), ofNumber('t', 'no way out', 0, 's')];
  return ways.flatMap(({ leg, time }, i) => [
    ofNumber(indexed('v', i, ways.length), `over the ground: ${leg.text}`, (leg.speed ?? 0) - leg.wind, 'm/s'),
    ofNumber(indexed('t', i, ways.length), `so long: ${leg.text}`, time, 's'),
  ]);
}

/** What is read of one cell at a charge and a current. */
function voltageTerms(
  at: Pick<LegEnd, 'charge' | 'restingVoltage' | 'current'> | undefined,
  { evaluation }: Assessment,
): Terms {
  const pack = evaluation.craft?.craft.pack;
  if (!at || !pack) return [];
  return [
    ofNumber('u', `resting voltage of one cell with ${formatShare(at.charge)} left`, at.restingVoltage, 'V'),
    ofNumber('I', 'current of the pack', at.current, 'A'),
    ofNumber(
      'r',
      'resistance of one position in series there',
      packCellResistance(pack, at.charge) / pack.cellsInSeries,
      'mohm',
    ),
  ];
}

function legTerms(one: FlightResults, { evaluation }: Assessment): Terms {
  const { flight, flown } = one;
  const ends = flown?.ends ?? [];
  const capacity = evaluation.craft?.craft.pack.capacity ?? 0;
  const ground = capacity * (1 - startOf(flown));
  const lasting = flight.legs.flatMap((leg, i) => {
    const time = (ends[i]?.time ?? 0) - (ends[i - 1]?.time ?? 0);
    const taken = capacity * ((ends[i - 1]?.charge ?? startOf(flown)) - (ends[i]?.charge ?? 0));
    return time > 0 ? [{ leg, time, taken }] : [];
  });
  return [
    ground > 0 ? ofNumber('Q_g', 'charge taken on the ground before', ground, 'mAh') : undefined,
    ...lasting.flatMap(({ leg, time, taken }, i) => [
      ofNumber(indexed('t', i, lasting.length), leg.text, time, 's'),
      ofNumber(indexed('I', i, lasting.length), `mean current: ${leg.text}`, taken / time, 'A'),
    ]),
  ];
}

const startOf = (flown: FlightResults['flown']): number => flown?.start ?? 1;

const groundWords = ({ flown }: FlightResults): string =>
  startOf(flown) < 1 ? ', after what the time on the ground took' : '';
