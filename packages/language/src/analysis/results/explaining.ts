/** What the explanations of several results have in common. */

import type { Build, Figure } from '../../model/build.ts';
import { type Craft, isImpossible } from '../../physics/craft.ts';
import { chargeAfterGround, type Endurance } from '../../physics/discharge.ts';
import { formatValue } from '../../units/print.ts';
import type { ResultName } from '../../vocabulary/results.ts';
import type { Assessment, LoadResults } from '../assessment.ts';
import {
  airTerms,
  busTerm,
  cellTerms,
  type ExplainedPoint,
  type PointName,
  pointAt,
} from '../explain/derivation-points.ts';
import {
  balanceTerms,
  boardTerm,
  currentTerms,
  motorCurrentOf,
  type RotorAt,
  rotorsAt,
  rotorWithMost,
  speedOf,
  speedTerm,
  thrustTerms,
} from '../explain/derivation-rotors.ts';
import { indexed, ofFigure, ofNumber, ofResult, several, type Terms } from '../explain/derivation-terms.ts';
import type { DerivationTerm, Explanation } from '../explain/explanation.ts';
import { fullDutyOf } from '../setup/basis.ts';
import { placedMasses } from '../setup/optional.ts';
import { flyingShare, packsInParallel, reserveOf } from '../setup/pack-setup.ts';
import type { Explain } from './result.ts';

export const STATICS = 'statics';

export const DEFINITION = 'definition';

export const MOMENTUM_SOURCE = 'momentum theory: J. G. Leishman, Principles of Helicopter Aerodynamics, 2006, ch. 2';

export const PROPELLER_SOURCE =
  'definitions of the UIUC propeller database: J. B. Brandt and M. S. Selig, AIAA 2011-1255';

export const MOTOR_SOURCE =
  'A. E. Fitzgerald, C. Kingsley, S. D. Umans, Electric Machinery, 6th ed. 2003, ch. 7; commutation as overlap of bridge converters';

export const PWM_SOURCE =
  'R. W. Erickson and D. Maksimovic, Fundamentals of Power Electronics, 2nd ed. 2001, ch. 2 (average value)';

export const BATTERY_SOURCE =
  'form: M. Chen and G. A. Rincón-Mora, IEEE Trans. Energy Conversion 21 (2006) 504; end points: common practice';

export const VIBRATION_SOURCE = 'J. P. Den Hartog, Mechanical Vibrations, 4th ed. 1956, ch. 2';

export const STEADY = 'steady states: no acceleration, no recovery of the pack between bursts';

export const STILL_AIR = 'still air, no ground effect; C_T and C_P do not change with the tip Mach number';

/** Read off a solved point. */
export const atPoint =
  (which: PointName, explain: (at: ExplainedPoint) => Explanation | undefined): Explain =>
  (assessment) => {
    const at = pointAt(assessment, which);
    return at && explain(at);
  };

/** Which rotor a result is read off, where there are several lines. */
export interface RotorChoice {
  readonly most: (rotor: RotorAt) => number;
  /** Behind its name. */
  readonly description: string;
}

export const HARDEST: RotorChoice = { most: motorCurrentOf, description: 'which works hardest' };

export const FASTEST: RotorChoice = { most: speedOf, description: 'which turns fastest' };

export const atRotor = (
  which: PointName,
  { most, description }: RotorChoice,
  explain: (at: ExplainedPoint, rotor: RotorAt) => Explanation,
): Explain =>
  atPoint(which, (at) => {
    const rotor = rotorWithMost(at, most);
    if (!rotor) return undefined;
    const explanation = explain(at, rotor);
    const { motor, propeller } = rotor.line;
    const shown = rotorsAt(at).length > 1 ? ` Shown for ${motor.name} with ${propeller.name}, ${description}.` : '';
    return { ...explanation, description: `${explanation.description}${shown}` };
  });

const fullDutyTerm = ({ assessment, isFullDuty }: ExplainedPoint): DerivationTerm | undefined =>
  isFullDuty ? ofFigure('f', fullDutyOf(assessment.build)) : undefined;

/** Share of the bus voltage that a hovering motor needs. */
export const dutyIn = (which: PointName, description: string): Explain =>
  atRotor(which, HARDEST, (at, rotor) => ({
    formula: 'd = (v + i·R_on) / V, v = ω/K + i·(R_w + X)',
    description,
    terms: [
      busTerm('V', at),
      ofNumber('v', 'mean voltage at one motor', rotor.rotor.motorVoltage, 'V'),
      boardTerm(at.assessment, rotor),
      ...balanceTerms(at, rotor),
    ],
    source: `${MOTOR_SOURCE}. ${PWM_SOURCE}`,
    neglects: STILL_AIR,
  }));

/** All channels and all loads. */
export function currentAt(at: ExplainedPoint, description: string, duty: DerivationTerm | undefined): Explanation {
  const { sum, terms } = currentTerms(at, duty);
  return {
    formula: `I = ${at.isFullDuty ? `f·(${sum})` : sum}`,
    description,
    terms: [...terms, fullDutyTerm(at)],
    source: `${MOTOR_SOURCE}. ${PWM_SOURCE}`,
    neglects: at.isFullDuty ? `${STILL_AIR}; ${STEADY}` : STILL_AIR,
  };
}

/** Where a motor balances its propeller at the duty limit. */
export const atDutyLimit = (choice: RotorChoice, formula: string, description: string): Explain =>
  atRotor('full', choice, (at, rotor) => ({
    formula,
    description,
    terms: [
      fullDutyTerm(at),
      ofFigure('d', at.assessment.option.dutyLimit),
      busTerm('V', at),
      boardTerm(at.assessment, rotor),
      ofNumber('v', 'mean voltage at one motor: ω/K + i·(R_w + X)', rotor.rotor.motorVoltage, 'V'),
      ...balanceTerms(at, rotor),
    ],
    source: `${MOTOR_SOURCE}. ${PROPELLER_SOURCE}`,
    neglects: `${STILL_AIR}; ${STEADY}`,
  }));

/** Of all rotors at the duty limit. */
export const thrustAt = (
  which: PointName,
  formulaOf: (thrust: string) => string,
  description: string,
  alsoNeeds: (at: ExplainedPoint) => Terms,
): Explain =>
  atRotor(which, HARDEST, (at, rotor) => {
    const rotors = rotorsAt(at);
    const { factors, terms } = thrustTerms(at, rotor);
    const ofOne = `${factors}·ρ·n²·D⁴`;
    const isMixed = rotors.length > 1;
    return {
      formula: isMixed ? `${formulaOf('Σ N·T_r')}, T_r = ${ofOne}` : formulaOf(`N·${ofOne}`),
      description,
      terms: [
        ...alsoNeeds(at),
        fullDutyTerm(at),
        ...rotors.flatMap(({ line, rotor: { thrust }, index }) => {
          const { motor, propeller } = line;
          const number = ofNumber(indexed('N', index, rotors.length), 'rotors', line.count.value, '');
          if (!isMixed || !number) return [number];
          const pair = `${motor.name} with ${propeller.name}`;
          return [
            { ...number, label: `rotors of ${pair}` },
            ofNumber(indexed('T_r', index, rotors.length), `thrust of one rotor of ${pair}`, thrust, 'gf'),
          ];
        }),
        speedTerm('n', at, rotor),
        ...terms,
        ...airTerms(at),
      ],
      source: `${MOTOR_SOURCE}. ${PROPELLER_SOURCE}`,
      neglects: `${STILL_AIR}; ${STEADY}`,
    };
  });

/**
 * Sag behind the pack's resistance.
 * @param current the result that it sags under, where there is one
 */
export const ofCell = (which: PointName, description: string, current?: ResultName): Explain =>
  atPoint(which, (at) => ({
    formula: current ? 'V_cell = u(z) − I·r(z)' : 'V_cell = u(z) − f·I·r(z)',
    description,
    terms: [
      ...(current
        ? [ofResult('I', current, at.assessment)]
        : [ofNumber('I', `current from the pack ${at.where}`, at.point.packCurrent, 'A'), fullDutyTerm(at)]),
      ...cellTerms(at),
    ],
    source: BATTERY_SOURCE,
    neglects: STEADY,
  }));

/** Read straight off other results. */
export const ofResults =
  (formula: string, description: string, source: string, inputs: Readonly<Record<string, ResultName>>): Explain =>
  (assessment) => ({
    formula,
    description,
    terms: Object.entries(inputs).map(([symbol, name]) => ofResult(symbol, name, assessment)),
    source,
  });

export const fastestKv = ({ rotors }: Build): Figure | undefined =>
  rotors
    .map(({ motor }) => motor.figure('kv'))
    .reduce((most, kv) => ((kv?.value ?? 0) > (most?.value ?? 0) ? kv : most), undefined);

export const packMass = ({ option }: Assessment) => ofFigure('m_p', option.part.figure('mass'));

export const packCount = ({ option }: Assessment) => ofNumber('n', 'packs', option.count, '');

const reserveTerm = ({ build, option }: Assessment) => ofFigure('z_r', reserveOf(build, option));

// ---- time and charge ----

export type TimedFlight = 'hoverTime' | 'flightTime';

const HOW: Readonly<Record<TimedFlight, string>> = { hoverTime: 'in hover', flightTime: 'as flown' };

/** The load that browns out first: in hover, or where none does then, in a burst. */
function firstToBrownOut({ loads }: Assessment): LoadResults | undefined {
  const [first] = loads.toSorted(
    (a, b) =>
      (b.hoverBrownOut?.value ?? 0) - (a.hoverBrownOut?.value ?? 0) ||
      (b.burstBrownOut?.value ?? 0) - (a.burstBrownOut?.value ?? 0),
  );
  return first;
}

/** Where a flight ends: at the reserve, or before it, and why. */
export function flightEndOf(
  flight: TimedFlight,
  { endedBy, finalStateOfCharge }: Endurance,
  assessment: Assessment,
): { readonly term: DerivationTerm | undefined; readonly description: string } {
  if (endedBy === 'reserve') return { term: reserveTerm(assessment), description: '' };
  const why =
    endedBy === 'brown-out'
      ? `${firstToBrownOut(assessment)?.load.name ?? 'a load'} browns out ${HOW[flight]}`
      : `the pack cannot supply the ${endedBy} that the flight needs`;
  const symbol = endedBy === 'brown-out' ? 'z_b' : 'z_e';
  return {
    term: ofNumber(symbol, `charge at which ${why}`, finalStateOfCharge, '%'),
    description: ` Here it ends before the reserve: ${why}.`,
  };
}

/** Charge as it is flown, in a formula. */
export function chargeTerms({ option }: Assessment): { readonly charge: string; readonly terms: Terms } {
  const capacity = option.part.figure('capacity');
  const share = capacity && flyingShare(capacity);
  const sideBySide = packsInParallel(option);
  return {
    charge: `${sideBySide > 1 ? 'n·' : ''}Q${share ? '·q' : ''}`,
    terms: [
      sideBySide > 1 ? ofNumber('n', 'packs in parallel', sideBySide, '') : undefined,
      ofFigure('Q', capacity),
      ofFigure('q', share),
    ],
  };
}

export function flownOn(
  assessment: Assessment,
  flight: TimedFlight,
): { readonly flown: Endurance; readonly craft: Craft } | undefined {
  const { craft } = assessment.evaluation;
  const flown = craft?.flight?.[flight];
  return craft && flown && !isImpossible(flown) ? { flown, craft: craft.craft } : undefined;
}

export const ofTimedFlight =
  (flight: TimedFlight, description: string, mean: string, half: (assessment: Assessment) => Terms): Explain =>
  (assessment) => {
    const { flown, craft } = flownOn(assessment, flight) ?? {};
    if (!flown || !craft) return undefined;
    const end = flightEndOf(flight, flown, assessment);
    const ground = flight === 'flightTime' ? craft.groundTime : 0;
    const start = chargeAfterGround(craft, ground);
    const charge = chargeTerms(assessment);
    const spent = craft.pack.capacity * (start - flown.finalStateOfCharge);
    return {
      formula: `t = ${charge.charge}·(${ground > 0 ? 'z_0' : '1'} − ${end.term?.symbol}) / I_m`,
      description: `${description}${end.description}`,
      terms: [
        ...charge.terms,
        ground > 0
          ? ofNumber('z_0', `charge at take-off, after ${formatValue(ground, 'min')} on the ground`, start, '%')
          : undefined,
        end.term,
        flown.time > 0
          ? ofNumber('I_m', mean, spent / flown.time, 'A')
          : ofNumber('I_m', mean, fullestCurrent(assessment), 'A'),
        ...half(assessment),
      ],
      source: BATTERY_SOURCE,
      neglects: STEADY,
    };
  };

/** What would be drawn where no time is left to fly. */
function fullestCurrent({ evaluation }: Assessment): number | undefined {
  const fresh = evaluation.craft?.flight?.hoverFresh;
  return fresh && !isImpossible(fresh) ? fresh.packCurrent : undefined;
}

export const landBy = (formula: string, description: string, terms: (at: ExplainedPoint) => Terms): Explain =>
  atPoint('hoverAtLandBy', (at) => {
    const { assessment } = at;
    const [first] = assessment.loads
      .filter(({ burstBrownOut }) => burstBrownOut !== undefined)
      .sort((a, b) => (b.burstBrownOut?.value ?? 0) - (a.burstBrownOut?.value ?? 0));
    const until = first ? 'max(z_r, z_b)' : 'z_r';
    return {
      formula: `${formula}, z = ${until}`,
      description,
      terms: [
        ...terms(at),
        reserveTerm(assessment),
        ofNumber('z_b', `charge at which a burst browns ${first?.load.name} out`, first?.burstBrownOut?.value, '%'),
      ],
      source: BATTERY_SOURCE,
      neglects: STEADY,
    };
  });

/** "Weighed 900 g, 800 g added": nothing for a craft that was weighed as it is, or not at all. */
export function sinceWeighed({ build: { dryMass, weighed }, masses, option }: Assessment): string | undefined {
  if (!dryMass || !weighed) return undefined;
  const changes = masses.slice(1).filter(({ label }) => label !== option.part.name);
  const sum = (sign: 1 | -1) => changes.reduce((total, { mass }) => total + Math.max(0, sign * mass.value), 0);
  const words = [
    [sum(1), 'added'],
    [sum(-1), 'taken out'],
  ] as const;
  const printed = words.filter(([mass]) => mass > 0).map(([mass, done]) => `${formatValue(mass, 'g')} ${done}`);
  return [`${weighed.name} weighed ${formatValue(dryMass.value, 'g')}`, ...printed].join(', ');
}

export const printed = (words: string | undefined): string => (words === undefined ? '' : ` (${words})`);

export const onlyPackPlaced = ({ build, option }: Assessment): boolean =>
  option.position !== undefined && placedMasses(build).length === 0;

export function placedTerms({ build }: Assessment): Terms {
  const placed = placedMasses(build);
  return placed.flatMap(({ count, mass, position }, i) => {
    const term = ofFigure(indexed('m', i, placed.length), mass);
    return [term && several(term, count), ofFigure(indexed('x', i, placed.length), position)];
  });
}
