/** Formula, words, numbers and source of every result, one entry each. */
import type { PackOption } from '../model/build.ts';
import type { Assessment, LoadResults } from './assessment.ts';
import { fullDutyOf } from './basis.ts';
import { cellsInSeries, chemistryOf } from './craft.ts';
import type { Derivation, DerivationTerm } from './derivation.ts';
import {
  airTerms,
  boardTerm,
  hardest,
  motorTerms,
  ofFigure,
  ofNumber,
  ofResult,
  type PointName,
  packTerms,
  pointOf,
  propellerTerms,
  rotorCount,
  rotorTerms,
} from './derivation-terms.ts';
import { expanded } from './estimate.ts';
import { FLYING_CAPACITY, reserve } from './model-form.ts';
import { gramsLeft } from './pack-grams.ts';

export interface Explanation extends Omit<Derivation, 'name' | 'terms'> {
  readonly terms: readonly (DerivationTerm | undefined)[];
}

export type Explain = (assessment: Assessment) => Explanation;

export function explanationOf(name: string): Explain | undefined {
  const [, rail, quantity] = /^rail\.(.+)\.(voltage|burst_voltage|current)$/.exec(name) ?? [];
  if (rail !== undefined && quantity !== undefined) return ofRail(rail, quantity);
  return Object.hasOwn(EXPLANATIONS, name) ? EXPLANATIONS[name] : undefined;
}

const STATICS = 'statics';
const DEFINITION = 'definition';
const MOMENTUM = 'momentum theory: J. G. Leishman, Principles of Helicopter Aerodynamics, 2006, ch. 2';
const PROPELLER = 'definitions of the UIUC propeller database: J. B. Brandt and M. S. Selig, AIAA 2011-1255';
const MOTOR =
  'A. E. Fitzgerald, C. Kingsley, S. D. Umans, Electric Machinery, 6th ed. 2003, ch. 7; commutation as overlap of bridge converters';
const CHOPPER =
  'R. W. Erickson and D. Maksimovic, Fundamentals of Power Electronics, 2nd ed. 2001, ch. 2 (average value)';
const BATTERY =
  'form: M. Chen and G. A. Rincón-Mora, IEEE Trans. Energy Conversion 21 (2006) 504; end points: common practice';
const REGULATOR = 'S. Franco, Design with Operational Amplifiers and Analog Integrated Circuits, 3rd ed., ch. 11';
const WIND = 'statics; induced velocity after H. Glauert, in Leishman 2006, sec. 2.14';
const HEAT = 'one-body thermal model of machine texts; IEC 60028 for copper';
const VIBRATION = 'J. P. Den Hartog, Mechanical Vibrations, 4th ed. 1956, ch. 2';

const STEADY = 'steady states: no acceleration, no recovery of the pack between bursts';
const STILL_AIR = 'still air, no ground effect; C_T and C_P do not change with speed';

/** Everything that settles a hovering rotor. */
const inHover =
  (formula: string, says: string, source: string): Explain =>
  (assessment) => {
    const { line, rotor } = hardest(assessment, 'hover') ?? {};
    return {
      formula,
      says,
      terms: [
        ofResult('m', 'all_up_weight', assessment),
        ofNumber('N', 'rotors', rotorCount(assessment), ''),
        ofNumber('V', 'bus voltage, pack half used', pointOf(assessment, 'hover')?.busVoltage, 'V'),
        ...rotorTerms(rotor),
        ...propellerTerms(assessment),
        ...(line ? motorTerms(line) : []),
        boardTerm(assessment),
        ...airTerms(assessment),
      ],
      source,
      neglects: STILL_AIR,
    };
  };

/** Everything that settles a rotor at the duty limit. */
const atFullDuty =
  (which: PointName, formula: string, says: string): Explain =>
  (assessment) => {
    const { line, rotor } = hardest(assessment, which) ?? {};
    return {
      formula,
      says,
      terms: [
        ofFigure('d', assessment.option.dutyLimit),
        ofNumber('V', 'bus voltage there', pointOf(assessment, which)?.busVoltage, 'V'),
        ...rotorTerms(rotor),
        ...propellerTerms(assessment),
        ...(line ? motorTerms(line) : []),
        boardTerm(assessment),
        ...packTerms(assessment),
        ...airTerms(assessment),
        ofFigure('f', fullDutyOf(assessment.build)),
      ],
      source: `${MOTOR}. ${PROPELLER}`,
      neglects: `${STILL_AIR}; ${STEADY}`,
    };
  };

/** Sag behind the pack's resistance. */
const ofCell =
  (which: PointName, current: string, says: string): Explain =>
  (assessment) => ({
    formula: 'V_cell = u(z) − I·r',
    says,
    terms: [
      ofResult('I', current, assessment) ??
        ofNumber('I', 'current there', pointOf(assessment, which)?.packCurrent, 'A'),
      ...packTerms(assessment),
    ],
    source: BATTERY,
    neglects: STEADY,
  });

/** Read straight off other results. */
const ofResults =
  (formula: string, says: string, source: string, inputs: Readonly<Record<string, string>>): Explain =>
  (assessment) => ({
    formula,
    says,
    terms: Object.entries(inputs).map(([symbol, name]) => ofResult(symbol, name, assessment)),
    source,
  });

const discTerms = (assessment: Assessment): DerivationTerm[] => {
  const term = ofFigure('D', hardest(assessment, 'hover')?.line.propeller.figure('diameter'));
  return term ? [term] : [];
};

const packMass = ({ option }: Assessment) => ofFigure('m_p', option.part.figure('mass'));

const reserveTerm = ({ build, option }: Assessment) =>
  ofFigure('z_r', build.rules.reserve ?? reserve(chemistryOf(option.part)));

/** The load that ends a flight in hover before the reserve does. */
function endedByLoad(assessment: Assessment): LoadResults | undefined {
  const reserved = reserveTerm(assessment)?.value ?? 0;
  return assessment.loads
    .filter(({ hoverBrownOut }) => hoverBrownOut !== undefined && hoverBrownOut.value > reserved)
    .sort((a, b) => (b.hoverBrownOut?.value ?? 0) - (a.hoverBrownOut?.value ?? 0))[0];
}

/** @param draws what empties the pack, where the formula has it: hovering alone, or the flight as flown */
const endurance =
  (formula: string, says: string, draws?: 'hovering' | 'flown'): Explain =>
  (assessment) => {
    const { flown } = assessment.build.rules;
    const { load, hoverBrownOut } = endedByLoad(assessment) ?? {};
    const brownsOut = load && `${load.name} browns out in hover`;
    return {
      formula: load ? formula.replace('z_r', 'z_b') : formula,
      says: brownsOut ? `${says} Here it ends before the reserve: ${brownsOut}.` : says,
      terms: [
        ofFigure('Q', assessment.option.part.figure('capacity')),
        ofFigure('q', FLYING_CAPACITY),
        reserveTerm(assessment),
        ofNumber('z_b', `charge at which ${brownsOut}`, hoverBrownOut?.value, '%'),
        draws && ofResult('I', 'hover_current', assessment),
        ...(draws === 'flown' ? flown : []).map(({ share, hoverMultiple }, i) => ({
          symbol: `s_${i + 1}`,
          label: `share of the flight at ${hoverMultiple.value} times hover thrust`,
          value: share.value,
          unit: '%',
        })),
      ],
      source: BATTERY,
      neglects: STEADY,
    };
  };

const landBy =
  (formula: string, says: string): Explain =>
  (assessment) => {
    const [first] = assessment.loads
      .filter(({ burstBrownOut }) => burstBrownOut !== undefined)
      .sort((a, b) => (b.burstBrownOut?.value ?? 0) - (a.burstBrownOut?.value ?? 0));
    return {
      formula,
      says,
      terms: [
        reserveTerm(assessment),
        ofNumber(
          'z_b',
          `charge at which a burst browns ${first?.load.name ?? 'a load'} out`,
          first?.burstBrownOut?.value,
          '%',
        ),
        ...packTerms(assessment),
      ],
      source: BATTERY,
      neglects: STEADY,
    };
  };

function ofRail(name: string, quantity: string): Explain {
  return (assessment) => {
    const found = assessment.rails.find(({ rail }) => rail.name === name)?.rail;
    const which = quantity === 'burst_voltage' ? 'burstAtReserve' : 'hoverAtReserve';
    const state = found && pointOf(assessment, which)?.rails[assessment.build.rails.indexOf(found)];
    const current = quantity === 'current';
    return {
      formula: current ? 'I = Σ P/V + Σ I_load' : 'V = min(V_out, V_in − V_drop)',
      says: current
        ? 'What its loads, and the rails behind it, draw.'
        : 'It holds its output while its input stands far enough above; below, a buck or a linear regulator follows its input.',
      terms: [
        ofFigure('V_out', found?.part.figure('output')),
        ofFigure('V_drop', found?.part.figure('dropout')),
        ofFigure('η', found?.part.figure('efficiency')),
        ofNumber('I', 'current delivered', state?.current, 'A'),
        ofNumber('V_bus', 'bus voltage there', pointOf(assessment, which)?.busVoltage, 'V'),
        ...assessment.build.loads
          .filter(({ from }) => 'rail' in from && from.rail === found)
          .map(({ part }) => ofFigure(`draw of ${part.name}`, part.figure('draw'))),
      ],
      source: REGULATOR,
      neglects: 'efficiency over load, start-up; current limits are judged, not enforced',
    };
  };
}

const EXPLANATIONS: Readonly<Record<string, Explain>> = {
  dry_mass: ({ masses, option }) => ({
    formula: 'm_d = Σ n·m_i',
    says: 'Everything the build names but the pack, and small things.',
    terms: masses
      .filter(({ label }) => label !== option.part.name)
      .map(({ label, count, mass }) => ofFigure(count > 1 ? `${count} x ${label}` : label, mass)),
    source: STATICS,
  }),
  all_up_weight: (assessment) => ({
    formula: 'm = m_d + n·m_p',
    says: 'Dry mass and the packs.',
    terms: [
      ofResult('m_d', 'dry_mass', assessment),
      ofNumber('n', 'packs', assessment.option.count, ''),
      packMass(assessment),
    ],
    source: STATICS,
  }),
  pack_mass_fraction: ofResults('φ = (m − m_d) / m', 'Pack over everything.', DEFINITION, {
    m: 'all_up_weight',
    m_d: 'dry_mass',
  }),
  gram_cost_time: ofResults(
    'c = −dt/dm',
    'How much shorter it hovers with one gram more, computed with and without.',
    MOMENTUM,
    {
      t: 'hover_time',
      m: 'all_up_weight',
    },
  ),
  effective_kv: ({ build, option }) => ({
    formula: 'K_eff = K·d',
    says: 'A motor at a duty limit turns as one of a slower winding would at full duty.',
    terms: [
      ofFigure('K', build.rotors[0]?.motor.figure('kv')),
      ofFigure('d', option.dutyLimit),
      ofNumber('S·d', 'cells that would turn it as fast at full duty', equivalentCells(option), ''),
    ],
    source: CHOPPER,
  }),
  no_load_speed: (assessment) => ({
    formula: 'n_0 = K·d·V_full',
    says: 'Unloaded speed on the full pack at the duty limit; the small drop by the idle current is left out.',
    terms: [
      ofResult('K·d', 'effective_kv', assessment),
      ofNumber('S', 'cells in series', assessment.option.part.cells('cells')?.series, ''),
    ],
    source: MOTOR,
  }),

  hover_speed: inHover(
    'n = √(m·g / (N·(1 + g_d)·C_T·ρ·D⁴))',
    'The speed at which the rotors together carry the weight.',
    PROPELLER,
  ),
  hover_duty: inHover(
    'd = (v + i·R_on) / V, with v = ω/K + i·(R + X(ω))',
    'Mean voltage the motors need, over that of the bus.',
    `${MOTOR}. ${CHOPPER}`,
  ),
  hover_current: inHover(
    'I = Σ (v·i + i²·R_on + P_r) / V + loads',
    'What all channels and all loads draw from the pack.',
    `${MOTOR}. ${CHOPPER}`,
  ),
  hover_power: (assessment) => ({
    formula: 'P = V·I',
    says: 'Bus voltage times pack current, all loads in.',
    terms: [
      ofNumber('V', 'bus voltage, pack half used', pointOf(assessment, 'hover')?.busVoltage, 'V'),
      ofResult('I', 'hover_current', assessment),
    ],
    source: DEFINITION,
  }),
  hover_efficiency: ofResults('e = m·g / P', 'Thrust for each watt from the pack, all loads in.', DEFINITION, {
    m: 'all_up_weight',
    P: 'hover_power',
  }),
  hover_time: endurance(
    't = Q·q·∫ dz / I(z), from the full pack to z_r',
    'Charge from full to the reserve over the hover current, which rises as the pack sags.',
    'hovering',
  ),
  flight_time: endurance(
    't = Q·q·∫ dz / Σ s·I(z), from take-off to z_r',
    'The same with the current averaged over the flight as flown, after the time on the ground.',
    'flown',
  ),
  charge_used: endurance('Q_u = Q·q·(1 − z_r)', 'Charge from the full pack to where the flight ends.'),
  disc_loading: (assessment) => ({
    formula: 'm / (N·π/4·D²)',
    says: 'Mass over the area that the rotors sweep; a stacked pair sweeps it once.',
    terms: [
      ofResult('m', 'all_up_weight', assessment),
      ofNumber('N', 'rotors', rotorCount(assessment), ''),
      ...discTerms(assessment),
    ],
    source: MOMENTUM,
  }),

  full_voltage: atFullDuty(
    'full',
    'V = S·u(z) − f·I·(S·r + r_lead + r_plug)',
    'The full pack less its sag under all currents.',
  ),
  full_cell_voltage: ofCell('full', 'full_current', 'One cell of the full pack less its sag at full duty.'),
  full_current: atFullDuty(
    'full',
    'd·V = ω/K + i·(R + R_on + X(ω)); I = f·(Σ d·i + loads)',
    'Where each motor balances its propeller at the duty limit, and the pack sags under the sum.',
  ),
  full_motor_current: atFullDuty(
    'full',
    'd·V = ω/K + i·(R + R_on + X(ω)), times f',
    'Where the motor balances its propeller at the duty limit.',
  ),
  full_motor_power: atFullDuty('full', 'P = f·v·i', 'Mean voltage at the motor times its current.'),
  full_power: ofResults('P = V·I', 'Bus voltage times pack current at full duty.', DEFINITION, {
    V: 'full_voltage',
    I: 'full_current',
  }),
  full_thrust: atFullDuty(
    'full',
    'T = f^⅔·Σ (1 + g_d)·C_T·ρ·n²·D⁴',
    'All rotors at the speed they reach at the duty limit.',
  ),
  full_speed: atFullDuty(
    'full',
    'd·V = ω/K + i·(R + R_on + X(ω)), times f^⅓',
    'Where the fastest motor balances its propeller at the duty limit.',
  ),
  tip_speed: (assessment) => ({
    formula: 'v_t = π·n·D',
    says: 'Speed of the fastest blade tip at full duty.',
    terms: [ofResult('n', 'full_speed', assessment), ...discTerms(assessment)],
    source: DEFINITION,
  }),
  tip_mach: (assessment) => ({
    formula: 'M = v_t / √(1.4·287·T_air)',
    says: 'Tip speed over the speed of sound.',
    terms: [ofResult('v_t', 'tip_speed', assessment), ofFigure('T_air', assessment.build.rules.airTemperature)],
    source: 'ISO 2533:1975',
  }),
  thrust_to_weight: ofResults('T / (m·g)', 'Full-duty thrust on the full pack over weight.', STATICS, {
    T: 'full_thrust',
    m: 'all_up_weight',
  }),
  reserve_cell_voltage: ofCell('fullAtReserve', '', 'One cell at the reserve less its sag at full duty.'),
  reserve_thrust_to_weight: atFullDuty(
    'fullAtReserve',
    'f^⅔·T / (m·g)',
    'Full-duty thrust at the reserve over weight.',
  ),
  reserve_hover_duty: inHover(
    'd = (v + i·R_on) / V at the reserve',
    'Mean voltage the motors need, over that of the nearly flat pack.',
    `${MOTOR}. ${CHOPPER}`,
  ),
  burst_current: (assessment) => ({
    ...inHover(
      'I = Σ (v·i + i²·R_on + P_r) / V + loads, at b times hover thrust',
      'What a burst draws from the full pack, loads at their peak; at most full duty.',
      `${MOTOR}. ${CHOPPER}`,
    )(assessment),
    terms: [
      ofFigure('b', assessment.build.rules.burstMultiple),
      ofNumber('V', 'bus voltage there', pointOf(assessment, 'burst')?.busVoltage, 'V'),
      ...rotorTerms(hardest(assessment, 'burst')?.rotor),
      ...propellerTerms(assessment),
      ...packTerms(assessment),
    ],
  }),
  burst_cell_voltage: ofCell('burst', 'burst_current', 'One cell of the full pack less its sag in a burst.'),

  blocked_current: (assessment) => {
    const { line } = hardest(assessment, 'hover') ?? {};
    return {
      formula: 'i = d·V / (R + R_on)',
      says: 'A rotor held still makes no voltage of its own; only resistance limits the current.',
      terms: [
        ofResult('d', 'hover_duty', assessment),
        ofNumber('V', 'bus voltage in hover', pointOf(assessment, 'hover')?.busVoltage, 'V'),
        ofFigure('R', line?.motor.figure('resistance')),
        boardTerm(assessment),
      ],
      source: MOTOR,
      neglects: 'the board cuts off or the winding burns within moments',
    };
  },
  blocked_ratio: ({ build, ...rest }) => ({
    formula: 'i / i_burst',
    says: 'Blocked current over what the weakest channel stands for moments.',
    terms: [
      ofResult('i', 'blocked_current', { build, ...rest }),
      ofFigure('i_burst', build.escs[0]?.part.figure('burst')),
    ],
    source: DEFINITION,
  }),
  land_by_hover_voltage: landBy(
    'V = (S·u(z) − I·(S·r + r_lead + r_plug)) / S at z = max(z_r, z_b)',
    'What is read in hover, a cell, where the reserve begins or a burst would brown a load out, whichever comes first.',
  ),
  land_by_resting_voltage: landBy('V = u(z) at z = max(z_r, z_b)', 'The same with the motors off.'),

  wind_held: (assessment) => ({
    formula: 'm·g·tan θ = ½·ρ·C_dA·v² + k·ṁ·v',
    says: 'Tilted as far as allowed or as thrust allows, against the drag of the body and of the air that the rotors swallow.',
    terms: [
      ofResult('m', 'all_up_weight', assessment),
      ofResult('T/W', 'reserve_thrust_to_weight', assessment),
      ofFigure('C_dA', assessment.build.airframe?.part.figure('drag_area')),
      ofFigure('θ', assessment.build.rules.tilt),
      ...airTerms(assessment),
    ],
    source: WIND,
    neglects: 'gusts; pitching moment of ducts; drag that changes with tilt',
  }),
  motor_temperature: (assessment) => {
    const { line } = hardest(assessment, 'hover') ?? {};
    return {
      formula: 'T = T_air + R_th·(i²·R·(1 + α·(T − 20 °C)) + P_other)',
      says: 'Where the heat made as flown leaves through the declared path.',
      terms: [
        ofFigure('T_air', assessment.build.rules.airTemperature),
        ofFigure('R_th', line?.motor.figure('heat_path')),
        ofFigure('R', line?.motor.figure('resistance')),
        ofNumber('i', 'root mean square current of the hardest worked motor', mixCurrent(assessment), 'A'),
      ],
      source: HEAT,
      neglects: 'cooling that changes with speed; one body for winding and iron',
    };
  },
  pack_grams_left: (assessment) => ({
    formula: 'g = min over the requirements of g_i, where requirement i turns',
    says: 'The pack is made heavier, all else alike, until a requirement fails; below zero one does already, and the pack is too heavy by so much.',
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
    neglects: 'a heavier pack is usually a larger one: its charge and resistance stay as they are here',
  }),
  mount_frequency: (assessment) => ({
    formula: 'f = √(k/m) / 2π',
    says: 'Of the softest mount: as tapped, from how far it gives, or from stiffness and load.',
    terms: mountTerms(assessment),
    source: VIBRATION,
  }),
  mount_transmissibility: (assessment) => ({
    formula: '√((1 + (2ζr)²) / ((1 − r²)² + (2ζr)²)), r = n/f',
    says: 'How much of a shake at hover speed passes the softest mount.',
    terms: [
      ofResult('n', 'hover_speed', assessment),
      ofResult('f', 'mount_frequency', assessment),
      ...mountTerms(assessment),
    ],
    source: VIBRATION,
    neglects: 'rotation and coupling of the motions; resonances of the frame',
  }),
  balance_offset: (assessment) => ({
    formula: 'x = Σ m_i·x_i / m',
    says: 'Centre of mass ahead of the rotors’ middle; what says no position counts as sitting there.',
    terms: [ofResult('m', 'all_up_weight', assessment), ofFigure('x_p', assessment.option.position)],
    source: STATICS,
  }),
  front_thrust_share: (assessment) => ({
    formula: 's = ½ + x / 2x_f, with x_f = w / 2√2',
    says: 'A lever between the front and the rear rotors of a frame with four evenly spaced arms.',
    terms: [
      ofResult('x', 'balance_offset', assessment),
      ofFigure('w', assessment.build.airframe?.part.figure('wheelbase')),
    ],
    source: STATICS,
    neglects: 'arms that are not evenly spaced; the duty of both pairs is taken as one everywhere else',
  }),
  pack_balance_position: (assessment) => ({
    formula: 'x_p = −Σ m_i·x_i / m_p, over all but the pack',
    says: 'Where the pack brings the centre of mass to the middle of the rotors.',
    terms: [packMass(assessment)],
    source: STATICS,
  }),
};

/** Of the pack as wired, times its duty limit: what a motor sees of it. */
function equivalentCells(option: PackOption): number | undefined {
  const cells = cellsInSeries(option);
  return cells && cells * option.dutyLimit.value;
}

function mixCurrent({ rotors }: Assessment): number | undefined {
  const currents = rotors.map((rotor) => rotor.mixCurrent?.value).filter((value) => value !== undefined);
  return currents.length > 0 ? Math.max(...currents) : undefined;
}

function mountTerms({ build }: Assessment): (DerivationTerm | undefined)[] {
  return build.loads.flatMap(({ mount, part }) =>
    mount
      ? [
          ofFigure(`stiffness of ${mount.name}`, mount.figure('stiffness')),
          ofFigure(`sag of ${mount.name}`, mount.figure('sag')),
          ofFigure(`frequency of ${mount.name}`, mount.figure('frequency')),
          ofFigure(`damping of ${mount.name}`, mount.figure('damping')),
          ofFigure(`mass of ${part.name}`, part.figure('mass')),
        ]
      : [],
  );
}
