/** The sum of each formula, done by hand from its terms alone. */
import { expect } from 'vitest';
import type { Derivation } from '../../packages/language/src/analysis/explain/derivation.ts';
import type { DerivationTerm } from '../../packages/language/src/analysis/explain/explanation.ts';
import { displayUnit, formatPlusMinus } from '../../packages/language/src/units/print.ts';

const G = 9.80665;
export const TURN = 2 * Math.PI;
export const ROOM = 293.15;
export const COPPER = 0.00393;

// ---- the terms as a reader has them ----

/** A term as computed, or as its printed digits state. */
type Reading = (term: DerivationTerm) => number;

export const exactly: Reading = ({ value }) => value;

/** SI, from what is printed; `4 min 36 s` in two parts. */
export const asPrinted: Reading = ({ value, plusMinus = 0, unit }) => {
  const text = formatPlusMinus(value, plusMinus, unit);
  const [, minutes, seconds = '0'] = /^(-?\d+) min(?: (\d+) s)?$/.exec(text) ?? [];
  if (minutes !== undefined) return 60 * Number(minutes) + Number(seconds);
  const number = Number(/^-?[\d.]+(e[+-]?\d+)?/.exec(text)?.[0]);
  const inSeconds = unit === 'min' && text.endsWith(' s');
  return (inSeconds ? displayUnit('s') : displayUnit(unit)).toSI(number);
};

export class Terms {
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

export const baseOf = (symbol: string): string => symbol.replace(/_?\d+$/, '');

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

/** Of numbers whose sums are compared to a millionth. */
const NEGLIGIBLE = 1e-13;

/** Where a step changes next to nothing any more, or of three hundred the last. */
function fixedPoint(from: number, step: (value: number) => number): number {
  let value = from;
  for (let i = 0; i < 300; i++) {
    const next = step(value);
    const change = Math.abs(next - value);
    value = next;
    if (change < NEGLIGIBLE * Math.abs(next)) break;
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
    const before = thrust;
    thrust = Math.hypot(weight, drag);
    if (Math.abs(thrust - before) < NEGLIGIBLE * thrust) break;
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
  while (high - low > 1e-9 * high) {
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

export const rail: Readonly<Record<string, (terms: Terms) => number>> = {
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
export const FORMS = [
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

export function sumOf(name: string): ((terms: Terms) => number) | undefined {
  if (/^rail\..+voltage$/.test(name)) return railVoltage;
  if (/^rail\..+\.current$/.test(name)) return railCurrent;
  const [, ofFlight] = /^flight\..+\.(\w+)$/.exec(name) ?? [];
  if (ofFlight !== undefined) return FLIGHT_SUMS[ofFlight];
  return SUMS[name];
}
