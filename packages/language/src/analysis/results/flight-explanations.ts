/** How the results of a flight in legs come about: what each leg takes, one after the other. */
import type { FlightResultName } from '../../vocabulary/results.ts';
import type { Assessment, FlightResults } from '../assessment.ts';
import { indexed, ofFigure, ofNumber, type Terms } from '../explain/derivation-terms.ts';
import type { Explanation } from '../explain/explanation.ts';
import { INDUCED_FACTOR, LEVEL_FLIGHT } from '../uncertainty/model-form.ts';
import { dragAreaIn } from './air-figures.ts';
import { BATTERY, chargeTerms } from './explaining.ts';
import { LEVEL_FLIGHT_SOURCE } from './level-flight.ts';

const LEGS_NEGLECT =
  'speeding up and slowing down, turns, gusts, thinner air on the way up; a descent takes what hovering takes, and power does not depend on how the rotors lie in the wake of others';

const SOURCE = `${LEVEL_FLIGHT_SOURCE}; climb: Leishman 2006, sec. 2.13. ${BATTERY}`;

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
  const last = ends.length - 1;
  const charges = legTerms(one, assessment);
  const capacity = chargeTerms(assessment);
  switch (result) {
    case 'time':
      return {
        formula: 't = Σ t_k, of a way s_k / (v_k − w_k)',
        description: 'The times of all legs, one after the other.',
        terms: timeTerms(one),
      };
    case 'charge':
      return {
        formula: 'Q = Q_g + Σ I_k·t_k',
        description: `Mean current of each leg times how long it lasts${groundWords(one)}.`,
        terms: charges,
      };
    case 'charge_left':
      return {
        formula: `z = 1 − (Q_g + Σ I_k·t_k) / (${capacity.charge})`,
        description: 'What the legs take, off the charge at flying rates.',
        terms: [...charges, ...capacity.terms],
      };
    case 'end_voltage':
      return {
        formula: 'V = u(z) − I·r(z)',
        description:
          'Resting voltage at the charge that is left, less what the current of the last leg takes over the cell’s resistance.',
        terms: [
          ofNumber('z', 'charge that is left', ends[last]?.charge, '%'),
          ofNumber('u', 'resting voltage of one cell there', ends[last]?.restingVoltage, 'V'),
          ofNumber('I', 'current of the last leg', ends[last]?.current, 'A'),
        ],
      };
    default:
      return {
        formula: 'z(t_b) − (z_home + z_rest) = z_r: t_b where nothing is to spare at the end',
        description:
          'The last leg before the way home is flown longer or cut short until the way home, from where the craft then is, and all that follows end with just what has to be left.',
        terms: [
          ofNumber('t_b', 'when to be on the way home, from take-off', turnBack?.time, 'min'),
          ofNumber('z(t_b)', 'charge that is left then', turnBack?.charge, '%'),
          ofNumber('s_b', 'distance from where the legs began', turnBack?.distance, 'm'),
          ofNumber('V_b', 'voltage of one cell then, in the air', turnBack?.cellVoltage, 'V'),
          ofNumber('z_r', 'charge that has to be left', ends[last]?.floor, '%'),
          ...charges,
        ],
      };
  }
}

function timeTerms({ flight, flown }: FlightResults): Terms {
  const ends = flown?.ends ?? [];
  return flight.legs.map((leg, i) =>
    ofNumber(indexed('t', i, ends.length), leg.text, (ends[i]?.time ?? 0) - (ends[i - 1]?.time ?? 0), 's'),
  );
}

function legTerms({ flight, flown }: FlightResults, { evaluation }: Assessment): Terms {
  const ends = flown?.ends ?? [];
  const capacity = evaluation.craft?.craft.pack.capacity ?? 0;
  const ground = capacity * (1 - startOf(flown));
  return [
    ground > 0 ? ofNumber('Q_g', 'charge taken on the ground before', ground, 'mAh') : undefined,
    ...flight.legs.flatMap((leg, i) => {
      const time = (ends[i]?.time ?? 0) - (ends[i - 1]?.time ?? 0);
      if (time <= 0) return [];
      const taken = capacity * ((ends[i - 1]?.charge ?? startOf(flown)) - (ends[i]?.charge ?? 0));
      return [
        ofNumber(indexed('t', i, ends.length), leg.text, time, 's'),
        ofNumber(indexed('I', i, ends.length), `mean current: ${leg.text}`, taken / time, 'A'),
      ];
    }),
  ];
}

const startOf = (flown: FlightResults['flown']): number => flown?.start ?? 1;

const groundWords = ({ flown }: FlightResults): string =>
  startOf(flown) < 1 ? ', after what the time on the ground took' : '';
