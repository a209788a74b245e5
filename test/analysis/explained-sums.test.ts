/**
 * What is printed of a result is enough to compute it again: the sum of each formula is done here by hand, from its terms alone, over
 * many craft. A formula that states something else than what was computed fails, and so does one whose terms lack something.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { Assessment } from '../../packages/language/src/analysis/assessment.ts';
import { withGramsLeft } from '../../packages/language/src/analysis/decide/pack-grams.ts';
import {
  type Derivation,
  type DerivationTerm,
  derivationOf,
} from '../../packages/language/src/analysis/explain/derivation.ts';
import { expanded } from '../../packages/language/src/analysis/uncertainty/estimate.ts';
import { displayUnit, formatPlusMinus } from '../../packages/language/src/units/print.ts';
import { RESULTS } from '../../packages/language/src/vocabulary/results.ts';
import { checkedIn } from '../checks/findings-in.ts';
import { ORDINARY } from '../ordinary-craft.ts';

const G = 9.80665;
const TURN = 2 * Math.PI;
const ROOM = 293.15;
const COPPER = 0.00393;

// ---- the craft ----

const exampleFolder = join(import.meta.dirname, '../../examples');
const EXAMPLES = Object.fromEntries(
  readdirSync(exampleFolder, { recursive: true, encoding: 'utf8' })
    .filter((path) => path.endsWith('.fettle') && !path.startsWith('broken'))
    .map((path) => [path, readFileSync(join(exampleFolder, path), 'utf8')]),
);

/** Of everything that a formula may depend on, the less usual kind. */
const UNUSUAL = `
motor Small { stator: 14 x 4 mm  kv: 4600 rpm/V  rated: 3S  thermal_resistance: 12 K/W  mass: 9 g }
motor Large { stator: 15 x 7 mm  kv: 3800 rpm/V  resistance: 90 mohm  rated: 3S  thermal_resistance: 7 K/W  mass: 13 g }
propeller P76 { diameter: 76 mm  pitch: 1.8 in  blades: 2  mass: 1.2 g }
propeller P81 { diameter: 81 mm  pitch: 2 in  blades: 3  mass: 1.6 g }
esc First { channels: 2  cells: 2S .. 6S  continuous: 20 A  standby_current: 60 mA  mass: 6 g
  rail video { type: buck  output: 5 V  continuous: 2 A } }
esc Second { channels: 2  cells: 2S .. 6S  continuous: 35 A  burst: 50 A  mass: 8 g }
regulator High { type: buck  output: 12 V  continuous: 2 A  mass: 1 g }
regulator Tall { type: buck  output: 24 V  continuous: 2 A  mass: 1 g }
regulator Up { type: boost  output: 12 V  continuous: 1 A  standby_current: 4 mA  mass: 1 g }
regulator Pass { type: boost  output: 6 V  continuous: 3 A  mass: 1 g }
regulator Either { type: buck_boost  output: 9 V  continuous: 1 A  mass: 1 g }
regulator Burner { type: linear  output: 5 V  continuous: 0.5 A  standby_current: 3 mA  mass: 0.4 g }
airframe Open { rotors: 4  wheelbase: 150 mm  drag_area: 70 cm^2  mass: 50 g }
mount Gel { stiffness: 1200 N/m  mass: 1 g }
mount Tapped { frequency: 60 Hz  mass: 1 g }
mount Foam { sag: 0.4 mm  mass: 1 g }
lead Main { wire: 18 AWG  length: 60 mm  mass: 2 g }
load Cam { draw: 5 W  peak: 7 W  supply: 6 V .. 26 V  mass: 12 g }
load Lamp { draw: 0.4 A  peak: 0.5 A  supply: 4 V .. 30 V  mass: 4 g }
load Receiver { draw: 70 mA  supply: 4.5 V .. 5.5 V  mass: 1 g }
load Hungry { draw: 4 W  supply: 10.9 V .. 26 V  mass: 6 g }
pack Three { cells: 3S  capacity: 850 mAh  discharge: 75C  cell_resistance: 8 mohm measured at 20 degC  mass: 70 g }
pack Worn like Three { temperature: 5 degC  cycles: 200 }
pack Two { chemistry: lihv  cells: 2S  capacity: 1100 mAh measured  discharge: 60C  mass: 60 g }
pack Ion { chemistry: liion  cells: 3S2P  capacity: 4200 mAh  discharge: 8C  mass: 280 g }

build Mixed {
  airframe: Open
  motors: 2 x Small with P76
  motors: 2 x Large with P81
  esc: First
  esc: Second
  regulator: High
  regulator: Pass
  regulator: Tall
  regulator: Either from First.video
  regulator: Up from First.video
  regulator: Burner from High
  lead: 2 x Main
  load: Cam from pack on Gel at 40 mm
  load: 2 x Lamp from Pass
  load: Receiver from Burner at -10 mm
  load: Lamp from Up
  load: Receiver from First.video
  load: Cam from Either
  load: Cam from Tall
  load: Lamp from Tall
  pack: Three
  pack: Worn duty 80 %
  pack: 2 x Three in parallel as Pair at -12 mm
  pack: 2 x Two in series as Row
  pack: Ion
  flown: 60 % at hover
  flown: 40 % at 1.6 x hover
  ground: 2 min
  tilt: 30 deg
  air: 25 degC at 800 m
  humidity: 80 %
}

build Stacked {
  airframe: Open
  upper_motors: 2 x Large with P81
  lower_motors: 2 x Small with P76
  esc: Second
  esc: First
  regulator: High
  load: Cam from High on Foam
  regulator: Burner from pack
  load: Receiver from Burner
  pack: Three
  burst: 9 x hover
}

build Hungers {
  airframe: Open
  motors: 4 x Large with P81
  esc: Second
  esc: Second as Rear
  load: Hungry from pack
  pack: Three
  flown: 100 % at 1.4 x hover
  require hover_time >= 2 min
}

build Observed like Plain {
  burst: 9 x hover
  observed "old granary" with Three {
    hover_current: 4.2 A +- 5 %
    burst_current: 38 A +- 5 %
  }
}

pack Estimated { cells: 3S  capacity: 900 mAh  discharge: 90C  mass: 74 g }

build Shown like Plain {
  pack: Estimated
  observed "old granary" with Estimated {
    cell_resistance: 16 mohm at 18 degC
  }
}

build Plain {
  airframe: Open
  motors: 4 x Large with P81
  esc: Second
  esc: Second as Rear
  load: Lamp from High on Tapped
  regulator: High
  pack: Three at 5 mm
}`;

interface Craft {
  readonly title: string;
  readonly assessment: Assessment;
}

async function craftIn(texts: Readonly<Record<string, string>>): Promise<Craft[]> {
  return Object.values(await checkedIn(texts)).flatMap(({ builds }) =>
    builds.flatMap(({ assessments }) =>
      assessments.map((assessment) => ({
        title: `${assessment.build.name} on ${assessment.option.name}`,
        assessment: withGramsLeft(assessment),
      })),
    ),
  );
}

const CRAFT: readonly Craft[] = [
  ...(await craftIn(Object.fromEntries(ORDINARY.map(({ file, text }) => [file, text])))),
  ...(await craftIn(EXAMPLES)),
  ...(await craftIn({ 'unusual.fettle': UNUSUAL })),
];

// ---- the terms as a reader has them ----

/** A term as computed, or as its printed digits state. */
type Reading = (term: DerivationTerm) => number;

const exactly: Reading = ({ value }) => value;

/** SI, from what is printed; `4 min 36 s` in two parts. */
const asPrinted: Reading = ({ value, plusMinus = 0, unit }) => {
  const text = formatPlusMinus(value, plusMinus, unit);
  const [, minutes, seconds = '0'] = /^(-?\d+) min(?: (\d+) s)?$/.exec(text) ?? [];
  if (minutes !== undefined) return 60 * Number(minutes) + Number(seconds);
  const number = Number(/^-?[\d.]+(e[+-]?\d+)?/.exec(text)?.[0]);
  const inSeconds = unit === 'min' && text.endsWith(' s');
  return (inSeconds ? displayUnit('s') : displayUnit(unit)).toSI(number);
};

class Terms {
  readonly derivation: Derivation;
  readonly #reading: Reading;

  constructor(derivation: Derivation, reading: Reading) {
    this.derivation = derivation;
    this.#reading = reading;
  }

  /** Of two ways to one number, where all digits are there. */
  agree(one: number, other: number, tolerance = 1e-6): void {
    if (this.#reading !== exactly) return;
    expect(Math.abs(one / other - 1), this.derivation.formula).toBeLessThan(tolerance);
  }

  has(symbol: string): boolean {
    return this.derivation.terms.some((term) => term.symbol === symbol);
  }

  of(symbol: string): number {
    const term = this.derivation.terms.find((one) => one.symbol === symbol);
    if (!term) throw new Error(`${this.derivation.name} has no ${symbol} for ${this.derivation.formula}`);
    return this.#reading(term);
  }

  /** A factor that is in the formula of some craft only. */
  factor(symbol: string): number {
    expect(this.derivation.formula.includes(symbol), `${symbol} in ${this.derivation.formula}`).toBe(this.has(symbol));
    return this.has(symbol) ? this.of(symbol) : 1;
  }

  /** All alike: `N`, or `N_1`, `N_2`; `P_r1`, `P_r2`. */
  all(symbol: string): number[] {
    const alike = this.derivation.terms.filter((term) => baseOf(term.symbol) === symbol);
    return alike.map(this.#reading);
  }

  sum(of: (...numbers: number[]) => number, ...symbols: string[]): number {
    const columns = symbols.map((symbol) => this.all(symbol));
    const [first = []] = columns;
    return first.reduce((total, _, row) => total + of(...columns.map((column) => column[row] ?? Number.NaN)), 0);
  }
}

const baseOf = (symbol: string): string => symbol.replace(/_?\d+$/, '');

// ---- the sums ----

/** Of one rotor, over turns per second squared. */
const thrustOf = (terms: Terms): number => {
  const gain = terms.has('g_d') ? 1 + terms.of('g_d') : 1;
  return gain * (terms.has('k_s') ? terms.of('k_s') : 1) * terms.of('C_T') * terms.of('ρ') * terms.of('D') ** 4;
};

const thrustOfAll = (terms: Terms): number => {
  const ofOne = thrustOf(terms) * (terms.of('n') / TURN) ** 2;
  const mixed = terms.all('T_r');
  if (mixed.length === 0) return terms.of('N') * ofOne;
  const nearest = mixed.toSorted((a, b) => Math.abs(a - ofOne) - Math.abs(b - ofOne))[0] ?? Number.NaN;
  terms.agree(nearest, ofOne);
  return terms.sum((count = 0, thrust = 0) => count * thrust, 'N', 'T_r');
};

const current = (terms: Terms): number => {
  const partDuty = terms.factor('k_d');
  const duty = terms.of('d');
  const channels = terms.has('V')
    ? terms.sum((n = 0, i = 0, ripple = 0) => n * partDuty * (duty * i + ripple / terms.of('V')), 'N', 'i', 'P_r')
    : terms.sum((n = 0, i = 0) => n * partDuty * duty * i, 'N', 'i');
  const loads = terms.all('I_l').reduce((sum, one) => sum + one, 0);
  return (terms.derivation.formula.includes('f·(') ? terms.of('f') : 1) * (channels + loads);
};

const dutyLimited = (terms: Terms): void => {
  const applied = terms.of('d') * terms.of('V');
  const needed = terms.of('ω') / terms.of('K') + terms.of('i') * (terms.of('R_w') + terms.of('R_on') + terms.of('X'));
  terms.agree(needed, applied);
};

/** Where a step changes nothing any more, or of three hundred the last. */
function fixedPoint(from: number, step: (value: number) => number): number {
  let value = from;
  for (let i = 0; i < 300; i++) {
    const next = step(value);
    if (next === value) break;
    value = next;
  }
  return value;
}

/** In level flight, from what the explanation prints: the induced velocity by fixed point, as none of ours. */
function shaftPowerAt(of: Terms, speed: number): number {
  const [weight, discs, wake] = [of.of('m') * G, of.of('ρ') * of.of('A'), of.of('σ')];
  let [thrust, drag] = [weight, 0];
  for (let round = 0; round < 60; round++) {
    const hover = Math.sqrt((wake * thrust) / discs);
    let edgewise = hover;
    edgewise = fixedPoint(edgewise, (v) => (v + hover ** 2 / Math.hypot(speed, v)) / 2);
    drag = 0.5 * of.of('ρ') * of.of('C_dA') * speed ** 2 + of.of('k') * discs * edgewise * speed;
    thrust = Math.hypot(weight, drag);
  }
  const [cosine, sine] = [weight / thrust, drag / thrust];
  const hover = Math.sqrt((wake * thrust) / discs);
  let induced = hover;
  induced = fixedPoint(induced, (v) => (v + hover ** 2 / Math.hypot(speed * cosine, speed * sine + v)) / 2);
  const profile = of.of('P_o') * (1 + 4.65 * ((speed * cosine) / of.of('v_t')) ** 2);
  return (of.of('κ') * thrust * induced) / (2 * wake) + profile + drag * speed;
}

/** Where a cost has its one valley below v_max: by thirds. */
function lowest(of: Terms, cost: (speed: number) => number): number {
  const hover = Math.sqrt((of.of('σ') * of.of('m') * G) / (of.of('ρ') * of.of('A')));
  of.agree(of.of('P_s') - (of.of('κ') * of.of('m') * G * hover) / (2 * of.of('σ')), of.of('P_o'));
  let [low, high] = [of.of('v_max') / 1000, of.of('v_max')];
  for (let i = 0; i < 90; i++) {
    const [left, right] = [low + (high - low) / 3, high - (high - low) / 3];
    if (cost(left) < cost(right)) high = right;
    else low = left;
  }
  return (low + high) / 2;
}

const timeAtSpeed = (of: Terms): number =>
  (of.of('t_h') * (of.of('P_l') + of.of('P_r'))) /
  (of.of('P_l') + (of.of('f') * of.of('P_r') * of.of('P_v')) / of.of('P_s'));

const endOf = (terms: Terms): number => terms.of(['z_r', 'z_b', 'z_e'].find((symbol) => terms.has(symbol)) ?? 'z_r');
const charge = (terms: Terms): number => terms.factor('n') * terms.of('Q') * terms.factor('q');
const cell = (terms: Terms): number => terms.of('u(z)') - terms.of('I') * terms.of('r(z)');
const winding = (terms: Terms): number => terms.of('i') ** 2 * terms.of('R');

const rail: Readonly<Record<string, (terms: Terms) => number>> = {
  'V = min(V_out, V_in − V_drop)': (of) => Math.min(of.of('V_out'), of.of('V_in') - of.of('V_drop')),
  'V = max(V_out, V_in)': (of) => Math.max(of.of('V_out'), of.of('V_in')),
  'V = V_out': (of) => of.of('V_out'),
};

const railVoltage = (terms: Terms): number => {
  const sum = rail[terms.derivation.formula];
  if (!sum) throw new Error(`no sum for ${terms.derivation.formula}`);
  return sum(terms);
};

const railCurrent = (terms: Terms): number => {
  const { formula } = terms.derivation;
  const half = formula.includes('½·V_out') ? terms.of('V_out') / 2 : undefined;
  const powers = terms.sum((p = 0) => (half ? (p * terms.of('V')) / half ** 2 : p / terms.of('V')), 'P');
  const currents = terms.sum((i = 0) => (half ? (i * terms.of('V')) / half : i), 'I_load');
  const behind = terms.sum((i = 0) => i, 'I_in');
  return powers + currents + behind;
};

/** What is in the formulas of some craft only. */
const FORMS = [
  ...['n·Q', 'z_0', 'z_r', 'z_b', 'max(z_r, z_b)', 'Σ N·', 'k_s', 'g_d', 'k_d', 'f·(', 'P_r', 'T_r', 'Σ N·D²'],
  ...['f_tap', '√(g/s)', '√(k/m)', 'Σ P/V', 'P·V/(½·V_out)²', 'I_load·V/(½·V_out)', 'Σ I_in'],
];

/** Each by its formula, written out. */
const SUMS: Readonly<Record<string, (terms: Terms) => number>> = {
  dry_mass: ({ derivation }) => derivation.terms.reduce((sum, { value }) => sum + value, 0),
  all_up_weight: (of) => of.of('m_d') + of.of('n') * of.of('m_p'),
  pack_mass_fraction: (of) => (of.of('m') - of.of('m_d')) / of.of('m'),
  gram_cost_time: (of) => (of.of('x') * of.of('t')) / of.of('m'),
  effective_kv: (of) => of.of('K') * of.of('d'),
  no_load_speed: (of) => of.of('K') * of.of('d') * of.of('V_full'),
  hover_speed: (of) => {
    const thrust = of.has('T_r') ? of.of('T_r') : (of.of('m') * G) / of.of('N');
    return TURN * Math.sqrt(thrust / thrustOf(of));
  },
  hover_duty: (of) => (of.of('v') + of.of('i') * of.of('R_on')) / of.of('V'),
  hover_current: current,
  hover_power: (of) => of.of('V') * of.of('I'),
  hover_efficiency: (of) => (of.of('m') * G) / of.of('P'),
  hover_time: (of) => {
    const time = (charge(of) * (1 - endOf(of))) / of.of('I_m');
    of.agree(of.of('I_m'), of.of('I'), 0.03);
    return time;
  },
  flight_time: (of) => {
    const start = of.factor('z_0');
    const halfWay = of.sum((share = 0, i = 0) => share * i, 's', 'I');
    of.agree(of.of('I_m'), halfWay, 0.05);
    return (charge(of) * (start - endOf(of))) / of.of('I_m');
  },
  charge_used: (of) => charge(of) * (1 - endOf(of)),
  disc_loading: (of) => of.of('m') / of.sum((n = 0, d = 0) => (n * Math.PI * d ** 2) / 4, 'N', 'D'),
  full_voltage: (of) => of.of('S') * of.of('u(z)') - of.of('I') * (of.of('S') * of.of('r(z)') + of.of('r_l')),
  full_cell_voltage: cell,
  full_current: current,
  full_motor_current: (of) => {
    dutyLimited(of);
    return of.of('f') * of.of('i');
  },
  full_motor_power: (of) => of.of('f') * of.of('v') * of.of('i'),
  full_power: (of) => of.of('V') * of.of('I'),
  full_thrust: (of) => of.of('f') ** (2 / 3) * thrustOfAll(of),
  full_speed: (of) => {
    dutyLimited(of);
    return of.of('f') ** (1 / 3) * of.of('ω');
  },
  tip_speed: (of) => (Math.PI * of.of('n') * of.of('D')) / TURN,
  tip_mach: (of) => of.of('v_t') / of.of('a'),
  thrust_to_weight: (of) => of.of('T') / (of.of('m') * G),
  reserve_cell_voltage: (of) => of.of('u(z)') - of.of('f') * of.of('I') * of.of('r(z)'),
  reserve_thrust_to_weight: (of) => {
    of.agree(thrustOfAll(of), of.of('T'));
    return (of.of('f') ** (2 / 3) * of.of('T')) / (of.of('m') * G);
  },
  reserve_hover_duty: (of) => (of.of('v') + of.of('i') * of.of('R_on')) / of.of('V'),
  burst_current: current,
  burst_cell_voltage: cell,
  stall_current: (of) => (of.of('d') * of.of('V')) / (of.of('R_w') + of.of('R_on')),
  stall_ratio: (of) => of.of('i') / of.of('i_burst'),
  land_by_hover_voltage: (of) => of.of('u(z)') - of.of('I') * (of.of('r(z)') + of.of('r_l') / of.of('S')),
  land_by_resting_voltage: (of) => of.of('u(z)'),
  wind_held: (of) => {
    of.agree(of.of('θ'), Math.min(of.of('θ_max'), Math.acos(1 / of.of('T/W'))));
    const side = of.of('m') * G * Math.tan(of.of('θ'));
    const [a, b] = [(of.of('ρ') * of.of('C_dA')) / 2, of.of('k') * of.of('ṁ')];
    return (-b + Math.sqrt(b ** 2 + 4 * a * side)) / (2 * a);
  },
  endurance_speed: (of) =>
    lowest(of, (speed) => shaftPowerAt(of, speed) + (of.of('P_l') * of.of('P_s')) / of.of('P_r')),
  range_speed: (of) =>
    lowest(of, (speed) => (shaftPowerAt(of, speed) + (of.of('P_l') * of.of('P_s')) / of.of('P_r')) / speed),
  endurance: timeAtSpeed,
  range: (of) => of.of('v') * timeAtSpeed(of),
  motor_temperature: (of) => {
    const { R_th, T_air } = { R_th: of.of('R_th'), T_air: of.of('T_air') };
    const constant = T_air + R_th * (winding(of) * (1 - COPPER * ROOM) + of.of('P_o'));
    return constant / (1 - R_th * winding(of) * COPPER);
  },
  pack_grams_left: (of) => Math.min(...of.all('g')),
  mount_frequency: (of) =>
    of.has('f_tap') ? of.of('f_tap') : Math.sqrt(of.has('s') ? G / of.of('s') : of.of('k') / of.of('m')) / TURN,
  mount_transmissibility: (of) => {
    const ratio = of.of('n') / TURN / of.of('f');
    const damping = (2 * of.of('ζ') * ratio) ** 2;
    return Math.sqrt((1 + damping) / ((1 - ratio ** 2) ** 2 + damping));
  },
  balance_offset: (of) => (momentOf(of) + of.of('n') * of.of('m_p') * of.of('x_p')) / of.of('m'),
  front_thrust_share: (of) => 0.5 + of.of('x') / (2 * (of.of('w') / (2 * Math.SQRT2))),
  pack_balance_position: (of) => -momentOf(of) / (of.of('n') * of.of('m_p')),
};

/** Every mass but that of the whole has its place. */
function momentOf(terms: Terms): number {
  const masses = terms.derivation.terms.filter(({ symbol }) => /^m(_\d+)?$/.test(symbol));
  const own = masses.filter(({ result }) => result === undefined);
  const places = terms.all('x');
  return own.reduce((sum, { value }, i) => sum + value * (places[i] ?? Number.NaN), 0);
}

/** What the legs take, with what the ground took before. */
const takenBy = (of: Terms): number =>
  (of.has('Q_g') ? of.of('Q_g') : 0) + of.sum((current, time) => current * time, 'I', 't');
const cellVoltage = (of: Terms): number => of.of('u') - of.of('I') * of.of('r');

const FLIGHT_SUMS: Readonly<Record<string, (of: Terms) => number>> = {
  time: (of) => of.sum((time) => time, 't'),
  charge: takenBy,
  charge_left: (of) => 1 - takenBy(of) / charge(of),
  end_voltage: cellVoltage,
  turn_back_time: (of) => of.sum((time) => time, 't'),
  turn_back_distance: (of) => of.sum((speed, time) => speed * time, 'v', 't'),
  turn_back_voltage: cellVoltage,
};

function sumOf(name: string): ((terms: Terms) => number) | undefined {
  if (/^rail\..+voltage$/.test(name)) return railVoltage;
  if (/^rail\..+\.current$/.test(name)) return railCurrent;
  const [, ofFlight] = /^flight\..+\.(\w+)$/.exec(name) ?? [];
  if (ofFlight !== undefined) return FLIGHT_SUMS[ofFlight];
  return SUMS[name];
}

// ---- the tests ----

/** Every result of every craft; a title that names what went wrong costs a test each. */
const explained = CRAFT.flatMap(({ title, assessment }) =>
  [...assessment.results.values()].map((result) => {
    const derivation = derivationOf(result.name, assessment);
    if (!derivation) throw new Error(`${result.name} of ${title} does not explain itself`);
    return { title, result, derivation };
  }),
);

const names = [...new Set(explained.map(({ result }) => result.name))];

test('the craft have every result and every form of a formula', () => {
  // A sum of prices is shown in `price.test.ts`.
  expect(RESULTS.map(({ name }) => name).filter((name) => name !== 'price' && !names.includes(name))).toEqual([]);
  const formulas = [...new Set(explained.map(({ derivation }) => derivation.formula))];
  for (const formula of Object.keys(rail)) expect(formulas).toContain(formula);
  expect(
    explained.some(({ derivation }) => derivation.terms.some(({ symbol, value }) => symbol === 'f' && value !== 1)),
  ).toBe(true);
  expect(FORMS.filter((form) => !formulas.some((formula) => formula.includes(form)))).toEqual([]);
});

describe.each(names)('%s', (name) => {
  const own = explained.filter(({ result }) => result.name === name);

  test('is the sum of its terms', () => {
    const sum = sumOf(name);
    if (!sum) throw new Error(`no sum for ${name}`);
    for (const { title, result, derivation } of own) {
      const { value } = result.estimate;
      const found = sum(new Terms(derivation, exactly));
      expect(Math.abs(found - value), `${title}: ${found} for ${value}`).toBeLessThanOrEqual(
        1e-6 * Math.abs(value) + 1e-12,
      );
    }
  });

  test('is the sum of what is printed, to the digits that are printed', () => {
    for (const { title, result, derivation } of own) {
      const { value } = result.estimate;
      const found = sumOf(name)?.(new Terms(derivation, asPrinted)) ?? Number.NaN;
      const room = Math.max(expanded(result.estimate) / 2, 0.01 * Math.abs(value));
      expect(Math.abs(found - value), `${title}: ${found} for ${value}`).toBeLessThanOrEqual(room);
    }
  });
});

// ---- what is between the figures and the formula ----

/** A sum inside a label; its numbers have four digits. */
const SUMS_IN_LABELS: readonly { readonly pattern: RegExp; readonly of: (...numbers: number[]) => number }[] = [
  {
    pattern: /^bus voltage .*: ([\d.]+)·([\d.]+) V − ([\d.]+) A·\(([\d.]+)·([\d.]+) \+ ([\d.]+) mohm\)$/,
    of: (_, s = 0, u = 0, i = 0, sAgain = 0, r = 0, lead = 0) => s * u - i * (sAgain * r + lead) * 1e-3,
  },
  {
    pattern: /^into .*: ([\d.]+) V·([\d.]+) A \/ \(([\d.]+)·V\)(?: \+ ([\d.]+) A)?$/,
    of: (bus = 0, v = 0, i = 0, efficiency = 1, own = 0) => (v * i) / (efficiency * bus) + own,
  },
  { pattern: /^into .*: ([\d.]+) A(?: \+ ([\d.]+) A)?$/, of: (_, i = 0, own = 0) => i + own },
  { pattern: /: ([\d.]+) W \/ V$/, of: (bus = 0, power = 0) => power / bus },
  { pattern: /^voltage of the full pack at rest: (\d+)·([\d.]+) V$/, of: (_, s = 0, u = 0) => s * u },
];

test('sums inside labels add up to the number before them', () => {
  const unused = new Set(SUMS_IN_LABELS);
  for (const { title, derivation } of explained) {
    const terms = new Terms(derivation, exactly);
    const bus = terms.has('V') ? terms.of('V') : Number.NaN;
    for (const { label, value, symbol } of derivation.terms) {
      const sum = SUMS_IN_LABELS.find(({ pattern }) => pattern.test(label));
      if (!sum) continue;
      unused.delete(sum);
      const numbers = (sum.pattern.exec(label) ?? []).slice(1).map((text) => Number(text ?? 0));
      // Where no ripple is left the formula needs no bus voltage.
      if (sum.of(1, ...numbers) !== sum.of(2, ...numbers) && Number.isNaN(bus)) continue;
      expect(Math.abs(sum.of(bus || 1, ...numbers) / value - 1), `${title}: ${symbol}, ${label}`).toBeLessThan(1e-3);
    }
  }
  expect([...unused]).toEqual([]);
});

test('a rail behind another draws what its own results state', () => {
  let found = 0;
  for (const { derivation } of explained) {
    const terms = new Terms(derivation, exactly);
    for (const [, n = ''] of derivation.terms.flatMap(({ symbol }) => [/^I_in(\d*)$/.exec(symbol) ?? []])) {
      const numbered = (symbol: string) => (n === '' || symbol.includes('_') ? `${symbol}${n}` : `${symbol}_${n}`);
      if (!terms.has(`I_in${n}`)) continue;
      const own = terms.has(numbered('I_own')) ? terms.of(numbered('I_own')) : 0;
      const through = terms.has(numbered('η'))
        ? (terms.of(numbered('V_r')) * terms.of(numbered('I_r'))) / (terms.of(numbered('η')) * terms.of('V'))
        : terms.of(numbered('I_r'));
      terms.agree(terms.of(`I_in${n}`), through + own);
      found += 1;
    }
  }
  expect(found).toBeGreaterThan(2);
});

test('motor and propeller balance at the speed that is printed', () => {
  const balanced = explained.filter(({ derivation }) => derivation.terms.some(({ symbol }) => symbol === 'P_0'));
  expect(new Set(balanced.map(({ result }) => result.name)).size).toBeGreaterThan(4);
  for (const { derivation } of balanced) {
    const terms = new Terms(derivation, exactly);
    const of = (symbol: string) => terms.of(symbol);
    const i = terms.has('i') ? of('i') : (terms.all('i')[0] ?? Number.NaN);
    const back = of('ω') / of('K');
    terms.agree(of('X'), (1.05 * of('p') * of('L') * of('ω')) / 4);
    terms.agree(of('R_w'), of('R') * (1 + COPPER * (of('T_w') - ROOM)));
    terms.agree(of('P_s'), of('C_P') * of('ρ') * (of('ω') / TURN) ** 3 * of('D') ** 5);
    terms.agree(of('P_0'), of('i_0') * (0.5 + (0.5 * of('ω')) / of('ω_0')) * back);
    if (terms.has('i')) terms.agree(i * back + (1 - of('s')) * of('X') * i ** 2, of('P_s') + of('P_0'));
    if (terms.has('v')) terms.agree(of('v'), back + i * (of('R_w') + of('X')));
  }
});

test('a cell as it is used is the cell of the file times what is stated of charge, cold, age and its neighbours', () => {
  let factors = new Set<string>();
  for (const { derivation } of explained) {
    const terms = new Terms(derivation, exactly);
    const label = derivation.terms.find(({ symbol }) => symbol === 'r(z)')?.label ?? '';
    if (label === '') continue;
    const times = [...label.matchAll(/·([\d.]+) (at this charge|at T_pack|with age)/g)];
    factors = new Set([...factors, ...times.map(([, , why = '']) => why)]);
    const sideBySide = Number(/ \/ (\d+) side by side/.exec(label)?.[1] ?? 1);
    const product = times.reduce((product, [, factor]) => product * Number(factor), terms.of('r'));
    terms.agree(terms.of('r(z)'), product / sideBySide, 1e-3);
    if (terms.has('r_l')) {
      const row = derivation.terms.find(({ symbol }) => symbol === 'r_l')?.label ?? '';
      const leads = [...row.matchAll(/([\d.]+) mohm/g)].reduce((sum, [, one]) => sum + Number(one) * 1e-3, 0);
      terms.agree(leads, terms.of('r_l'), 1e-3);
    }
  }
  expect([...factors].sort()).toEqual(['at T_pack', 'at this charge', 'with age']);
});

/** Words and constants in formulas that are no terms. */
const NO_TERMS = new Set([
  'g',
  'π',
  'Σ',
  'min',
  'max',
  'tan',
  'where',
  'with',
  'over',
  'all',
  'but',
  'the',
  'pack',

  'x_f',
]);

test('every symbol of a formula is among the terms, or left of an equals sign', () => {
  for (const { title, result, derivation } of explained) {
    if (result.name === 'pack_grams_left' || result.name === 'dry_mass') continue;
    const { formula } = derivation;
    const named = new Set([...formula.matchAll(/([\p{L}_\d]+) (?:=|where) /gu)].map(([, symbol]) => symbol));
    const symbols = formula.replace('°C', '').match(/T\/W|(?:\p{L}\p{M}*)+(?:_[\p{L}\d]+)?(?:\(z\))?/gu) ?? [];
    const has = new Set(derivation.terms.flatMap(({ symbol }) => [symbol, baseOf(symbol), `${baseOf(symbol)}_i`]));
    const lacking = symbols.filter((symbol) => !has.has(symbol) && !named.has(symbol) && !NO_TERMS.has(symbol));
    expect(lacking, `${result.name} of ${title}: ${formula}`).toEqual([]);
  }
});

test('the terms of a rail are those of its kind, and its input is what feeds it', () => {
  const symbolsOf = (title: string, name: string) =>
    explained
      .find((one) => one.title === title && one.result.name === name)
      ?.derivation.terms.map(({ symbol, result }) => (result ? `${symbol} is ${result}` : symbol));
  const of = (name: string) => symbolsOf('Mixed on Three', name);
  expect(of('rail.video.voltage')).toEqual(['V_out', 'V_drop', 'V_in']);
  expect(of('rail.Up.burst_voltage')).toEqual(['V_out', 'V_in is rail.video.burst_voltage']);
  expect(of('rail.Burner.voltage')).toEqual(['V_out', 'V_drop', 'V_in is rail.High.voltage']);
  expect(of('rail.Either.voltage')).toEqual(['V_out']);
  expect(of('rail.Burner.current')).toEqual(['I_load']);
  expect(of('rail.High.current')).toEqual(['I_in', 'I_r is rail.Burner.current', 'I_own']);
});
