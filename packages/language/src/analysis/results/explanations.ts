/** Formula, words, numbers and source of every result, one entry each. */
import type { Build, Figure, Use } from '../../model/build.ts';
import { STANDARD_GRAVITY } from '../../physics/air.ts';
import { type Craft, isImpossible } from '../../physics/craft.ts';
import { chargeAfterGround, type Endurance } from '../../physics/discharge.ts';
import { massFlow, windHeld } from '../../physics/wind.ts';
import { lossesOverFlight } from '../../physics/windings.ts';
import { formatValue } from '../../units/print.ts';
import type { Assessment, LoadResults } from '../assessment.ts';
import { gramsLeft } from '../decide/pack-grams.ts';
import type { DerivationTerm, Explanation } from '../explain/derivation.ts';
import {
  type At,
  airTerms,
  busTerm,
  cellTerms,
  leadTerms,
  type PointName,
  pointAt,
  restingTerms,
} from '../explain/derivation-points.ts';
import { RAIL_QUANTITIES, railExplanation } from '../explain/derivation-rails.ts';
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
  windingTerms,
} from '../explain/derivation-rotors.ts';
import {
  counted,
  DIGITS,
  indexed,
  ofFigure,
  ofNumber,
  ofResult,
  several,
  type Terms,
} from '../explain/derivation-terms.ts';
import { fullDutyOf } from '../setup/basis.ts';
import { cellsInSeries, flyingShare, packsInParallel, reserveOf, weakestBurst } from '../setup/craft-setup.ts';
import { isReadOffScale, massLines } from '../setup/mass.ts';
import { placedMasses, softestMount } from '../setup/optional.ts';
import { expanded } from '../uncertainty/estimate.ts';
import { windCaseOf } from './measures.ts';

/** Undefined where what it is read from does not exist. */
export type Explain = (assessment: Assessment) => Explanation | undefined;

export function explanationOf(name: string): Explain | undefined {
  const [, rail, asked] = /^rail\.(.+)\.(\w+)$/.exec(name) ?? [];
  const quantity = RAIL_QUANTITIES.find((one) => one === asked);
  if (rail !== undefined && quantity) return (assessment) => railExplanation(rail, quantity, assessment);
  return Object.hasOwn(EXPLANATIONS, name) ? EXPLANATIONS[name] : undefined;
}

const STATICS = 'statics';
const DEFINITION = 'definition';
const MOMENTUM = 'momentum theory: J. G. Leishman, Principles of Helicopter Aerodynamics, 2006, ch. 2';
const PROPELLER = 'definitions of the UIUC propeller database: J. B. Brandt and M. S. Selig, AIAA 2011-1255';
const MOTOR =
  'A. E. Fitzgerald, C. Kingsley, S. D. Umans, Electric Machinery, 6th ed. 2003, ch. 7; commutation as overlap of bridge converters';
const PWM = 'R. W. Erickson and D. Maksimovic, Fundamentals of Power Electronics, 2nd ed. 2001, ch. 2 (average value)';
const BATTERY =
  'form: M. Chen and G. A. Rincón-Mora, IEEE Trans. Energy Conversion 21 (2006) 504; end points: common practice';
const WIND = 'statics; induced velocity after H. Glauert, in Leishman 2006, sec. 2.14';
const HEAT = 'one-body thermal model of machine texts; IEC 60028 for copper';
const VIBRATION = 'J. P. Den Hartog, Mechanical Vibrations, 4th ed. 1956, ch. 2';

const STEADY = 'steady states: no acceleration, no recovery of the pack between bursts';
const STILL_AIR = 'still air, no ground effect; C_T and C_P do not change with speed';

/** Read off a solved point. */
const atPoint =
  (which: PointName, explain: (at: At) => Explanation | undefined): Explain =>
  (assessment) => {
    const at = pointAt(assessment, which);
    return at && explain(at);
  };

/** Which rotor a result is read off, where there are several lines. */
interface Choice {
  readonly most: (rotor: RotorAt) => number;
  /** Behind its name. */
  readonly says: string;
}

const HARDEST: Choice = { most: motorCurrentOf, says: 'which works hardest' };
const STRONGEST: Choice = {
  most: ({ rotor }) => rotor.motorVoltage * rotor.motorCurrent,
  says: 'which takes most power',
};
const FASTEST: Choice = { most: speedOf, says: 'which turns fastest' };
const FASTEST_TIP: Choice = {
  most: ({ group, rotor }) => rotor.speed * group.propeller.diameter,
  says: 'with the fastest tips',
};
/** All are at one duty. */
const LEAST_RESISTANCE: Choice = {
  most: ({ group }) => 1 / (group.motor.resistance + group.esc.resistance),
  says: 'which has the least resistance',
};

const atRotor = (which: PointName, { most, says }: Choice, explain: (at: At, rotor: RotorAt) => Explanation): Explain =>
  atPoint(which, (at) => {
    const rotor = rotorWithMost(at, most);
    if (!rotor) return undefined;
    const explanation = explain(at, rotor);
    const { motor, propeller } = rotor.line;
    const shown = rotorsAt(at).length > 1 ? ` Shown for ${motor.name} with ${propeller.name}, ${says}.` : '';
    return { ...explanation, says: `${explanation.says}${shown}` };
  });

const fullDutyTerm = ({ assessment, isFullDuty }: At): DerivationTerm | undefined =>
  isFullDuty ? ofFigure('f', fullDutyOf(assessment.build)) : undefined;

/** Share of the bus voltage that a hovering motor needs. */
const dutyIn = (which: PointName, says: string): Explain =>
  atRotor(which, HARDEST, (at, rotor) => ({
    formula: 'd = (v + i·R_on) / V, v = ω/K + i·(R_w + X)',
    says,
    terms: [
      busTerm('V', at),
      ofNumber('v', 'mean voltage at one motor', rotor.rotor.motorVoltage, 'V'),
      boardTerm(at.assessment, rotor),
      ...balanceTerms(at, rotor),
    ],
    source: `${MOTOR}. ${PWM}`,
    neglects: STILL_AIR,
  }));

/** All channels and all loads. */
function currentAt(at: At, says: string, duty: DerivationTerm | undefined): Explanation {
  const { sum, terms } = currentTerms(at, duty);
  return {
    formula: `I = ${at.isFullDuty ? `f·(${sum})` : sum}`,
    says,
    terms: [...terms, fullDutyTerm(at)],
    source: `${MOTOR}. ${PWM}`,
    neglects: at.isFullDuty ? `${STILL_AIR}; ${STEADY}` : STILL_AIR,
  };
}

/** Where a motor balances its propeller at the duty limit. */
const atDutyLimit = (choice: Choice, formula: string, says: string): Explain =>
  atRotor('full', choice, (at, rotor) => ({
    formula,
    says,
    terms: [
      fullDutyTerm(at),
      ofFigure('d', at.assessment.option.dutyLimit),
      busTerm('V', at),
      boardTerm(at.assessment, rotor),
      ofNumber('v', 'mean voltage at one motor: ω/K + i·(R_w + X)', rotor.rotor.motorVoltage, 'V'),
      ...balanceTerms(at, rotor),
    ],
    source: `${MOTOR}. ${PROPELLER}`,
    neglects: `${STILL_AIR}; ${STEADY}`,
  }));

/** Of all rotors at the duty limit. */
const thrustAt = (
  which: PointName,
  formulaOf: (thrust: string) => string,
  says: string,
  alsoNeeds: (at: At) => Terms,
): Explain =>
  atRotor(which, HARDEST, (at, rotor) => {
    const rotors = rotorsAt(at);
    const { factors, terms } = thrustTerms(at, rotor);
    const ofOne = `${factors}·ρ·n²·D⁴`;
    const isMixed = rotors.length > 1;
    return {
      formula: isMixed ? `${formulaOf('Σ N·T_r')}, T_r = ${ofOne}` : formulaOf(`N·${ofOne}`),
      says,
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
      source: `${MOTOR}. ${PROPELLER}`,
      neglects: `${STILL_AIR}; ${STEADY}`,
    };
  });

/**
 * Sag behind the pack's resistance.
 * @param current the result that it sags under, where there is one
 */
const ofCell = (which: PointName, says: string, current?: string): Explain =>
  atPoint(which, (at) => ({
    formula: current ? 'V_cell = u(z) − I·r(z)' : 'V_cell = u(z) − f·I·r(z)',
    says,
    terms: [
      ...(current
        ? [ofResult('I', current, at.assessment)]
        : [ofNumber('I', `current from the pack ${at.where}`, at.point.packCurrent, 'A'), fullDutyTerm(at)]),
      ...cellTerms(at),
    ],
    source: BATTERY,
    neglects: STEADY,
  }));

/** Read straight off other results. */
const ofResults =
  (formula: string, says: string, source: string, inputs: Readonly<Record<string, string>>): Explain =>
  (assessment) => ({
    formula,
    says,
    terms: Object.entries(inputs).map(([symbol, name]) => ofResult(symbol, name, assessment)),
    source,
  });

const fastestKv = ({ rotors }: Build): Figure | undefined =>
  rotors
    .map(({ motor }) => motor.figure('kv'))
    .reduce((most, kv) => ((kv?.value ?? 0) > (most?.value ?? 0) ? kv : most), undefined);
const packMass = ({ option }: Assessment) => ofFigure('m_p', option.part.figure('mass'));
const packCount = ({ option }: Assessment) => ofNumber('n', 'packs', option.count, '');

const reserveTerm = ({ build, option }: Assessment) => ofFigure('z_r', reserveOf(build, option));

// ---- time and charge ----

type Flight = 'hoverTime' | 'flightTime';

const HOW: Readonly<Record<Flight, string>> = { hoverTime: 'in hover', flightTime: 'as flown' };

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
function endOf(
  flight: Flight,
  { endedBy, finalStateOfCharge }: Endurance,
  assessment: Assessment,
): { readonly term: DerivationTerm | undefined; readonly says: string } {
  if (endedBy === 'reserve') return { term: reserveTerm(assessment), says: '' };
  const why =
    endedBy === 'brown-out'
      ? `${firstToBrownOut(assessment)?.load.name ?? 'a load'} browns out ${HOW[flight]}`
      : `the pack cannot supply the ${endedBy} that the flight needs`;
  const symbol = endedBy === 'brown-out' ? 'z_b' : 'z_e';
  return {
    term: ofNumber(symbol, `charge at which ${why}`, finalStateOfCharge, '%'),
    says: ` Here it ends before the reserve: ${why}.`,
  };
}

/** Charge as it is flown, in a formula. */
function chargeTerms({ option }: Assessment): { readonly charge: string; readonly terms: Terms } {
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

function flownOn(
  assessment: Assessment,
  flight: Flight,
): { readonly flown: Endurance; readonly craft: Craft } | undefined {
  const { craft } = assessment.evaluation;
  const flown = craft?.flight?.[flight];
  return craft && flown && !isImpossible(flown) ? { flown, craft: craft.craft } : undefined;
}

const endurance =
  (flight: Flight, says: string, mean: string, half: (assessment: Assessment) => Terms): Explain =>
  (assessment) => {
    const { flown, craft } = flownOn(assessment, flight) ?? {};
    if (!flown || !craft) return undefined;
    const end = endOf(flight, flown, assessment);
    const ground = flight === 'flightTime' ? craft.groundTime : 0;
    const start = chargeAfterGround(craft, ground);
    const charge = chargeTerms(assessment);
    const spent = craft.pack.capacity * (start - flown.finalStateOfCharge);
    return {
      formula: `t = ${charge.charge}·(${ground > 0 ? 'z_0' : '1'} − ${end.term?.symbol}) / I_m`,
      says: `${says}${end.says}`,
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
      source: BATTERY,
      neglects: STEADY,
    };
  };

/** What would be drawn where no time is left to fly. */
function fullestCurrent({ evaluation }: Assessment): number | undefined {
  const fresh = evaluation.craft?.flight?.hoverFresh;
  return fresh && !isImpossible(fresh) ? fresh.packCurrent : undefined;
}

/** Current of each phase of the flight, pack half used. */
function phaseTerms({ build, evaluation }: Assessment): Terms {
  const { craft, flight } = evaluation.craft ?? {};
  const { flown } = build.rules;
  return flown.flatMap(({ hoverMultiple }, i) => {
    const point = flight?.phases[i];
    const how = `at ${hoverMultiple.value} times hover thrust`;
    return [
      ofNumber(indexed('s', i, flown.length), `share of the flight ${how}`, craft?.flown[i]?.share, '%'),
      point && !isImpossible(point)
        ? ofNumber(
            indexed('I', i, flown.length),
            `current from the pack ${how}, pack half used`,
            point.packCurrent,
            'A',
          )
        : undefined,
    ];
  });
}

const landBy = (formula: string, says: string, terms: (at: At) => Terms): Explain =>
  atPoint('hoverAtLandBy', (at) => {
    const { assessment } = at;
    const [first] = assessment.loads
      .filter(({ burstBrownOut }) => burstBrownOut !== undefined)
      .sort((a, b) => (b.burstBrownOut?.value ?? 0) - (a.burstBrownOut?.value ?? 0));
    const until = first ? 'max(z_r, z_b)' : 'z_r';
    return {
      formula: `${formula}, z = ${until}`,
      says,
      terms: [
        ...terms(at),
        reserveTerm(assessment),
        ofNumber('z_b', `charge at which a burst browns ${first?.load.name} out`, first?.burstBrownOut?.value, '%'),
      ],
      source: BATTERY,
      neglects: STEADY,
    };
  });

/** "Weighed 900 g, 800 g added": nothing for a craft that was weighed as it is, or not at all. */
function sinceWeighed({ build: { dryMass, weighed }, masses, option }: Assessment): string | undefined {
  if (!dryMass || !weighed) return undefined;
  const changes = masses.slice(1).filter(({ label }) => label !== option.part.name);
  const sum = (sign: 1 | -1) => changes.reduce((total, { mass }) => total + Math.max(0, sign * mass.value), 0);
  const words = [
    [sum(1), 'added'],
    [sum(-1), 'taken out'],
  ] as const;
  const said = words.filter(([mass]) => mass > 0).map(([mass, done]) => `${formatValue(mass, 'g')} ${done}`);
  return [`${weighed.name} weighed ${formatValue(dryMass.value, 'g')}`, ...said].join(', ');
}

const said = (words: string | undefined): string => (words === undefined ? '' : ` (${words})`);

function saysDryMass(assessment: Assessment): string {
  if (assessment.build.dryMass) return `${sinceWeighed(assessment) ?? 'Weighed without a pack'}.`;
  return isReadOffScale(assessment.build, assessment.option)
    ? 'Weighed ready to fly, less the pack that was on it.'
    : 'The sum of all parts of the build but the pack, and small things.';
}

const EXPLANATIONS: Readonly<Record<string, Explain>> = {
  dry_mass: (assessment) => ({
    formula: 'm_d = Σ n·m_i',
    says: saysDryMass(assessment),
    // As stated or estimated, but for what follows from the others: what was learnt of each is put in with what it was before.
    terms: massLines(assessment.build, assessment.option)
      .map((line, i) => (line.place ? line : (assessment.masses[i] ?? line)))
      .filter(({ label }) => label !== assessment.option.part.name)
      .map(({ label, count, mass }) => {
        const term = ofFigure(counted(count, label), mass);
        return term && { ...term, count };
      }),
    source: STATICS,
  }),
  all_up_weight: (assessment) => ({
    formula: 'm = m_d + n·m_p',
    says: `The sum of dry mass${said(sinceWeighed(assessment))} and packs.`,
    terms: [ofResult('m_d', 'dry_mass', assessment), packCount(assessment), packMass(assessment)],
    source: STATICS,
  }),
  pack_mass_fraction: ofResults('φ = (m − m_d) / m', 'Mass of the pack over all-up mass.', DEFINITION, {
    m: 'all_up_weight',
    m_d: 'dry_mass',
  }),
  gram_cost_time: (assessment) => {
    const value = (name: string) => assessment.results.get(name)?.estimate.value ?? Number.NaN;
    const power = (value('gram_cost_time') * value('all_up_weight')) / value('hover_time');
    return {
      formula: 'c = x·t / m',
      says: 'The loss of hover time when the craft weighs one gram more, computed with and without that gram.',
      terms: [
        ofResult('t', 'hover_time', assessment),
        ofResult('m', 'all_up_weight', assessment),
        ofNumber('x', 'percent of hover time lost per percent of added mass', power, ''),
      ],
      source: MOMENTUM,
    };
  },
  effective_kv: ({ build, option }) => ({
    formula: 'K_eff = K·d',
    says: 'A motor at a duty limit turns as fast as a motor with this lower kv at full duty.',
    terms: [ofFigure('K', fastestKv(build)), ofFigure('d', option.dutyLimit)],
    source: PWM,
  }),
  no_load_speed: ({ build, option, evaluation: { setup } }) => {
    const cells = cellsInSeries(option) ?? 1;
    const full = setup.fullVoltage;
    return {
      formula: 'n_0 = K·d·V_full',
      says: 'No-load speed on the full pack at the duty limit; the small voltage drop by the no-load current is left out.',
      terms: [
        ofFigure('K', fastestKv(build)),
        ofFigure('d', option.dutyLimit),
        ofNumber(
          'V_full',
          `voltage of the full pack at rest: ${cells}·${formatValue((full ?? 0) / cells, 'V', DIGITS)}`,
          full,
          'V',
        ),
      ],
      source: MOTOR,
    };
  },

  hover_speed: atRotor('hover', FASTEST, (at, rotor) => {
    const { factors, terms } = thrustTerms(at, rotor);
    const isMixed = rotorsAt(at).length > 1;
    return {
      formula: `n = √(${isMixed ? `T_r / (${factors}` : `m·g / (N·${factors}`}·ρ·D⁴))`,
      says: 'The speed at which the thrust of all rotors equals the weight.',
      terms: [
        ...(isMixed
          ? [
              ofNumber(
                'T_r',
                'thrust of one rotor; all have the same duty, and their sum is m·g',
                rotor.rotor.thrust,
                'gf',
              ),
            ]
          : [ofNumber('N', 'rotors', rotor.line.count.value, '')]),
        ofResult('m', 'all_up_weight', at.assessment),
        ...terms,
        ...airTerms(at),
      ],
      source: PROPELLER,
      neglects: STILL_AIR,
    };
  }),
  hover_duty: dutyIn('hover', 'Mean voltage that the motors need over the bus voltage.'),
  hover_current: atPoint('hover', (at) =>
    currentAt(
      at,
      'The current that all channels and all loads draw from the pack.',
      ofResult('d', 'hover_duty', at.assessment),
    ),
  ),
  hover_power: atPoint('hover', (at) => ({
    formula: 'P = V·I',
    says: 'Bus voltage times pack current, with all loads.',
    terms: [busTerm('V', at), ofResult('I', 'hover_current', at.assessment)],
    source: DEFINITION,
  })),
  hover_efficiency: ofResults('e = m·g / P', 'Thrust per watt from the pack, with all loads.', DEFINITION, {
    m: 'all_up_weight',
    P: 'hover_power',
  }),
  hover_time: endurance(
    'hoverTime',
    'Charge from full to the reserve over the mean hover current. The current rises as the voltage falls; its mean is about the value at half charge.',
    'mean of the hover current over the charge',
    (assessment) => [ofResult('I', 'hover_current', assessment)],
  ),
  flight_time: endurance(
    'flightTime',
    'The same with the mean current of the flight as flown, about Σ s·I at half charge, after the time on the ground.',
    'mean of the current as flown over the charge',
    phaseTerms,
  ),
  charge_used: (assessment) => {
    const { flown } = flownOn(assessment, 'flightTime') ?? {};
    if (!flown) return undefined;
    const end = endOf('flightTime', flown, assessment);
    const charge = chargeTerms(assessment);
    return {
      formula: `Q_u = ${charge.charge}·(1 − ${end.term?.symbol})`,
      says: `Charge from the full pack to where the flight ends.${end.says}`,
      terms: [...charge.terms, end.term],
      source: BATTERY,
      neglects: STEADY,
    };
  },
  disc_loading: (assessment) => {
    const swept = assessment.build.rotors.filter(({ position }) => position !== 'lower');
    const isMixed = swept.length > 1;
    return {
      formula: isMixed ? 'm / (π/4·Σ N·D²)' : 'm / (N·π/4·D²)',
      says: 'All-up mass over the disc area of the rotors; a coaxial pair counts once.',
      terms: [
        ofResult('m', 'all_up_weight', assessment),
        ...swept.flatMap(({ count, propeller }, i) => [
          ofNumber(indexed('N', i, swept.length), `rotors${isMixed ? ` with ${propeller.name}` : ''}`, count.value, ''),
          ofFigure(indexed('D', i, swept.length), propeller.figure('diameter')),
        ]),
      ],
      source: MOMENTUM,
    };
  },

  full_voltage: atPoint('full', (at) => ({
    formula: 'V = S·u(z) − I·(S·r(z) + r_l)',
    says: 'Voltage of the full pack less its sag at full duty with all loads.',
    terms: [ofResult('I', 'full_current', at.assessment), ...cellTerms(at), ...leadTerms(at)],
    source: BATTERY,
    neglects: STEADY,
  })),
  full_cell_voltage: ofCell('full', 'Voltage of one cell of the full pack less its sag at full duty.', 'full_current'),
  full_current: atPoint('full', (at) =>
    currentAt(
      at,
      'Each motor balances its propeller at the duty limit, at the voltage to which the pack sags under the total current.',
      ofFigure('d', at.assessment.option.dutyLimit),
    ),
  ),
  full_motor_current: atDutyLimit(
    HARDEST,
    'I = f·i, where d·V = ω/K + i·(R_w + R_on + X)',
    'The operating point at which motor and propeller balance at the duty limit.',
  ),
  full_motor_power: atDutyLimit(STRONGEST, 'P = f·v·i', 'Mean voltage at the motor times its current.'),
  full_power: ofResults('P = V·I', 'Bus voltage times pack current at full duty.', DEFINITION, {
    V: 'full_voltage',
    I: 'full_current',
  }),
  full_thrust: thrustAt(
    'full',
    (thrust) => `T = f^⅔·${thrust}`,
    'Thrust of all rotors at the speed that they reach at the duty limit.',
    () => [],
  ),
  full_speed: atDutyLimit(
    FASTEST,
    'n = f^⅓·ω, where d·V = ω/K + i·(R_w + R_on + X)',
    'The operating point at which the fastest motor balances its propeller at the duty limit.',
  ),
  tip_speed: atRotor('full', FASTEST_TIP, (at, rotor) => ({
    formula: 'v_t = π·n·D',
    says: 'Speed of the fastest blade tip at full duty.',
    terms: [
      rotorWithMost(at, speedOf) === rotor
        ? ofResult('n', 'full_speed', at.assessment)
        : ofNumber('n', `speed of the rotor ${at.where}`, at.factor ** (1 / 3) * rotor.rotor.speed, 'rpm'),
      ofFigure('D', rotor.line.propeller.figure('diameter')),
    ],
    source: DEFINITION,
  })),
  tip_mach: atPoint('full', (at) => ({
    formula: 'M = v_t / a',
    says: 'Tip speed over the speed of sound.',
    terms: [
      ofResult('v_t', 'tip_speed', at.assessment),
      ofNumber('a', 'speed of sound: √(1.4·287·T_air) in dry air, T_air in kelvin', at.craft.air.speedOfSound, 'm/s'),
      ofFigure('T_air', at.assessment.build.rules.airTemperature),
      ofFigure('φ', at.assessment.build.rules.humidity),
    ],
    source: 'ISO 2533:1975',
  })),
  thrust_to_weight: ofResults('T / (m·g)', 'Full-duty thrust on the full pack over weight.', STATICS, {
    T: 'full_thrust',
    m: 'all_up_weight',
  }),
  reserve_cell_voltage: ofCell('fullAtReserve', 'Voltage of one cell at the reserve less its sag at full duty.'),
  reserve_thrust_to_weight: thrustAt(
    'fullAtReserve',
    (thrust) => `f^⅔·T / (m·g), T = ${thrust}`,
    'Full-duty thrust at the reserve over weight.',
    ({ assessment, point }) => [
      ofNumber('T', 'thrust of all rotors there', point.thrust, 'gf'),
      ofResult('m', 'all_up_weight', assessment),
    ],
  ),
  reserve_hover_duty: dutyIn(
    'hoverAtReserve',
    'Mean voltage that the motors need over the bus voltage of the pack at the reserve.',
  ),
  burst_current: atRotor('burst', HARDEST, (at, rotor) => {
    const duty = ofNumber('d', `duty ${at.where}`, rotor.rotor.duty, '%');
    const explanation = currentAt(
      at,
      'The current that a burst draws from the full pack, with loads at their peak; at most that of full duty.',
      duty,
    );
    const balance = balanceTerms(at, rotor);
    const [shared, further] = [true, false].map((isShared) =>
      balance.filter((term) => isShared === explanation.terms.some((one) => one?.symbol === term?.symbol)),
    );
    return {
      ...explanation,
      terms: [
        ofFigure('b', at.assessment.build.rules.burstMultiple),
        ...explanation.terms.map((term) => shared?.find((one) => one?.symbol === term?.symbol) ?? term),
        boardTerm(at.assessment, rotor),
        ...(further ?? []),
      ],
    };
  }),
  burst_cell_voltage: ofCell('burst', 'Voltage of one cell of the full pack less its sag in a burst.', 'burst_current'),

  stall_current: atRotor('hover', LEAST_RESISTANCE, (at, rotor) => ({
    formula: 'i = d·V / (R_w + R_on)',
    says: 'A stalled motor has no back-EMF; only resistance limits the current.',
    terms: [
      ofResult('d', 'hover_duty', at.assessment),
      busTerm('V', at),
      ...windingTerms(at, rotor),
      boardTerm(at.assessment, rotor),
    ],
    source: MOTOR,
    neglects: 'the board cuts off or the winding burns within moments',
  })),
  stall_ratio: (assessment) => ({
    formula: 'i / i_burst',
    says: 'Stall current over the burst rating of the weakest channel.',
    terms: [ofResult('i', 'stall_current', assessment), ofFigure('i_burst', weakestBurst(assessment.build.escs))],
    source: DEFINITION,
  }),
  land_by_hover_voltage: landBy(
    'V = u(z) − I·(r(z) + r_l/S)',
    'Volts per cell as read in hover, where the reserve begins or where a burst would brown out a load, whichever comes first.',
    (at) => [
      ofNumber('I', `current from the pack ${at.where}`, at.point.packCurrent, 'A'),
      ...cellTerms(at),
      ...leadTerms(at),
    ],
  ),
  land_by_resting_voltage: landBy('V = u(z)', 'The same with the motors off.', restingTerms),

  wind_held: (assessment) => {
    const { build, evaluation, results } = assessment;
    const windCase = windCaseOf(
      evaluation,
      build.rotors.map(({ position }) => position === 'lower'),
    );
    const held = windCase && windHeld(windCase);
    const at = pointAt(assessment, 'fullAtReserve');
    const speed = results.get('wind_held')?.estimate.value ?? 0;
    return {
      formula: 'v where m·g·tan θ = ½·ρ·C_dA·v² + k·ṁ·v',
      says: 'Wind speed at which the craft, tilted as far as allowed or as thrust allows, balances the drag of its body and the momentum drag of its rotors.',
      terms: [
        ofResult('m', 'all_up_weight', assessment),
        ofNumber('θ', 'tilt: θ_max, or arccos(1 / (T/W)) where that is less', held?.tilt, 'deg'),
        ofFigure('θ_max', build.rules.tilt) ?? ofNumber('θ_max', 'as far as is usual', windCase?.tiltLimit, 'deg'),
        ofResult('T/W', 'reserve_thrust_to_weight', assessment),
        ofFigure('C_dA', build.airframe?.part.figure('drag_area')),
        ofNumber(
          'k',
          'share of the momentum of the air through the rotors that acts as drag',
          windCase?.momentumShare,
          '',
        ),
        windCase && held
          ? ofNumber(
              'ṁ',
              'mass flow through the rotors at v',
              massFlow(windCase, (windCase.mass * STANDARD_GRAVITY) / Math.cos(held.tilt), speed),
              'kg/s',
            )
          : undefined,
        ...(at ? airTerms(at) : []),
      ],
      source: WIND,
      neglects: 'gusts; pitching moment of ducts; drag that changes with tilt',
    };
  },
  motor_temperature: (assessment) => {
    const { build, evaluation } = assessment;
    const hottest = hottestLine(evaluation.craft?.windings ?? []);
    const motor = hottest === undefined ? undefined : build.rotors[hottest]?.motor;
    const losses =
      evaluation.craft && hottest !== undefined ? lossesOverFlight(evaluation.craft.craft, hottest) : undefined;
    return {
      formula: 'T = T_air + R_th·(i²·R·(1 + 0.00393·(T − 20 °C)) + P_o)',
      says: 'The temperature at which the heat made as flown leaves through the declared thermal resistance.',
      terms: [
        ofFigure('T_air', build.rules.airTemperature),
        ofFigure('R_th', motor?.figure('thermal_resistance')),
        ofFigure('R', motor?.figure('resistance')),
        ofNumber('i', 'root mean square current of the hottest motor as flown', losses?.current, 'A'),
        ofNumber(
          'P_o',
          'its mean losses outside the copper: iron, friction, commutation, ripple',
          losses?.otherLosses,
          'W',
        ),
      ],
      source: HEAT,
      neglects: 'cooling that changes with speed; one body for winding and iron',
    };
  },
  pack_grams_left: (assessment) => ({
    formula: 'g = min over the requirements of g_i, where requirement i turns',
    says: 'The pack is made heavier, with all else equal, until a requirement fails. A value below zero means that one fails already: the pack is too heavy by that much.',
    terms: gramsLeft(assessment).map(
      ({ requirement, mass }, i) =>
        mass && {
          symbol: `g_${i + 1}`,
          label: requirement.text,
          value: mass.value,
          unit: 'g',
          plusMinus: expanded(mass),
          place: requirement.place,
        },
    ),
    source: STATICS,
    neglects: 'a heavier pack usually has more capacity: here its capacity and resistance stay the same',
  }),
  mount_frequency: ({ build }) => {
    const { mount, load } = softestMount(build.loads) ?? {};
    const [tapped, sag] = [mount?.figure('frequency'), mount?.figure('sag')];
    return {
      formula: tapped ? 'f = f_tap' : sag ? 'f = √(g/s) / 2π' : 'f = √(k/m) / 2π',
      says: 'Natural frequency of the softest mount: as measured, from its sag under the load, or from stiffness and load.',
      terms: tapped
        ? [ofFigure('f_tap', tapped)]
        : sag
          ? [ofFigure('s', sag)]
          : [ofFigure('k', mount?.figure('stiffness')), load && massOf(load)],
      source: VIBRATION,
    };
  },
  mount_transmissibility: (assessment) => ({
    formula: '√((1 + (2·ζ·r)²) / ((1 − r²)² + (2·ζ·r)²)), r = n/f',
    says: 'The share of a vibration at hover speed that the softest mount passes on.',
    terms: [
      ofResult('n', 'hover_speed', assessment),
      ofResult('f', 'mount_frequency', assessment),
      ofFigure('ζ', softestMount(assessment.build.loads)?.damping),
    ],
    source: VIBRATION,
    neglects: 'rotation and coupling of the motions; resonances of the frame',
  }),
  balance_offset: (assessment) => ({
    formula: onlyPackPlaced(assessment) ? 'x = n·m_p·x_p / m' : 'x = (Σ m_i·x_i + n·m_p·x_p) / m',
    says: 'Distance of the centre of mass ahead of the middle of the rotors; a part without a position counts as placed there.',
    terms: [
      ofResult('m', 'all_up_weight', assessment),
      ...placedTerms(assessment),
      packCount(assessment),
      packMass(assessment),
      ofFigure('x_p', assessment.option.position) ?? ofNumber('x_p', 'the pack is in the middle', 0, 'mm'),
    ],
    source: STATICS,
  }),
  front_thrust_share: (assessment) => ({
    formula: 's = ½ + x / 2x_f, with x_f = w / 2√2',
    says: 'The balance of moments between front and rear rotors of a frame with four evenly spaced arms.',
    terms: [
      ofResult('x', 'balance_offset', assessment),
      ofFigure('w', assessment.build.airframe?.part.figure('wheelbase')),
    ],
    source: STATICS,
    neglects: 'arms that are not evenly spaced; the duty of both pairs is taken as one everywhere else',
  }),
  pack_balance_position: (assessment) => ({
    formula: onlyPackPlaced(assessment) ? 'x_p = 0' : 'x_p = −Σ m_i·x_i / (n·m_p), over all but the pack',
    says: 'The position of the pack that brings the centre of mass to the middle of the rotors.',
    terms: [...placedTerms(assessment), packCount(assessment), packMass(assessment)],
    source: STATICS,
  }),
};

function hottestLine(windings: readonly (number | 'runaway' | undefined)[]): number | undefined {
  const known = windings.flatMap((temperature, line) =>
    typeof temperature === 'number' ? [{ temperature, line }] : [],
  );
  return known.toSorted((a, b) => b.temperature - a.temperature)[0]?.line;
}

const massOf = ({ part, count }: Use): DerivationTerm | undefined => {
  const mass = ofFigure('m', part.figure('mass'));
  return mass && several(mass, count);
};

const onlyPackPlaced = ({ build, option }: Assessment): boolean =>
  option.position !== undefined && placedMasses(build).length === 0;

function placedTerms({ build }: Assessment): Terms {
  const placed = placedMasses(build);
  return placed.flatMap(({ count, mass, position }, i) => {
    const term = ofFigure(indexed('m', i, placed.length), mass);
    return [term && several(term, count), ofFigure(indexed('x', i, placed.length), position)];
  });
}
