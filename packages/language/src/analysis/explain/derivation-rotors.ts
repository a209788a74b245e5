/** What of rotors and loads at a solved point goes into derivations. */
import type { RotorLine } from '../../model/build.ts';
import { courseFactor } from '../../physics/coefficient-course.ts';
import type { RotorGroup, RotorState } from '../../physics/craft.ts';
import { partDutyFactor } from '../../physics/esc.ts';
import { noLoadLoss } from '../../physics/motor.ts';
import { formatNumber, formatValue } from '../../units/print.ts';
import type { Assessment } from '../assessment.ts';
import { boardOf, coaxialPairOf } from '../setup/craft-setup.ts';
import { drawOf } from '../setup/rail-setup.ts';
import {
  COMMUTATION_LOSS_SHARE,
  coefficientExponents,
  PART_DUTY_ID,
  WINDING_TEMPERATURE,
} from '../uncertainty/model-form.ts';
import { busTerm, type ExplainedPoint } from './derivation-points.ts';
import { counted, DIGITS, indexed, ofFigure, ofNumber, ofResult, readingOf, type Terms } from './derivation-terms.ts';
import type { DerivationTerm } from './explanation.ts';

/** One rotor of a line at a point. */
export interface RotorAt {
  readonly line: RotorLine;
  readonly group: RotorGroup;
  readonly rotor: RotorState;
  readonly index: number;
}

export const rotorsAt = ({ assessment: { build }, craft, point }: ExplainedPoint): RotorAt[] =>
  build.rotors.flatMap((line, index) => {
    const group = craft.rotors[index];
    const rotor = point.rotors[index];
    return group && rotor ? [{ line, group, rotor, index }] : [];
  });

/** The rotor that has most of something. */
export function rotorWithMost(at: ExplainedPoint, of: (rotor: RotorAt) => number): RotorAt | undefined {
  return rotorsAt(at).reduce<RotorAt | undefined>((most, one) => (most && of(most) >= of(one) ? most : one), undefined);
}

export const motorCurrentOf = ({ rotor }: RotorAt): number => rotor.motorCurrent;
export const speedOf = ({ rotor }: RotorAt): number => rotor.speed;

export function speedTerm(symbol: string, at: ExplainedPoint, { rotor }: RotorAt): DerivationTerm | undefined {
  const hovering = at.which === 'hover' ? ofResult(symbol, 'hover_speed', at.assessment) : undefined;
  return hovering?.value === rotor.speed
    ? hovering
    : ofNumber(symbol, `speed of the rotor ${at.where}`, rotor.speed, 'rpm');
}

export const boardTerm = ({ build }: Assessment, { index }: Pick<RotorAt, 'index'>): DerivationTerm | undefined =>
  ofFigure('R_on', boardOf(build.escs, index)?.figure('resistance'));

/** The factors of thrust from the propeller, its duct and its neighbour, and their place in a formula. */
export function thrustTerms(at: ExplainedPoint, rotorAt: RotorAt): { readonly factors: string; readonly terms: Terms } {
  const { build } = at.assessment;
  const { line } = rotorAt;
  const gain = build.airframe?.part.figure('duct_gain');
  const coaxial = line.position !== 'single';
  return {
    factors: `${gain ? '(1 + g_d)·' : ''}${coaxial ? 'k_s·' : ''}C_T`,
    terms: [
      ...coefficientTerms('thrust', rotorAt),
      ofFigure('g_d', gain),
      coaxial ? ofFigure('k_s', coaxialPairOf(build)) : undefined,
      ofFigure('D', line.propeller.figure('diameter')),
    ],
  };
}

/** A coefficient; where measurements show how it changes over speed, as it is at the rotor's. */
function coefficientTerms(which: 'thrust' | 'power', { line, group, rotor }: RotorAt): Terms {
  const [symbol, index] = which === 'thrust' ? ['C_T', 'T'] : ['C_P', 'P'];
  const { propeller } = group;
  const { course } = propeller;
  const figure = line.propeller.figure(`${which}_coefficient`);
  if (!course) return [ofFigure(symbol, figure)];
  const exponent = coefficientExponents(line.propeller)[which];
  const constant = which === 'thrust' ? propeller.thrustCoefficient : propeller.powerCoefficient;
  const departs = course.thrustWeights.length > 0 ? ', and as rows of stands depart from that' : '';
  return [
    ofNumber(
      symbol,
      `${which} coefficient at ω: C_${index}0·(ω/ω_c)^e_${index}${departs}`,
      constant * courseFactor(propeller, which, rotor.speed),
      '',
    ),
    ofFigure(`C_${index}0`, figure),
    ofFigure(`e_${index}`, exponent),
    ofNumber('ω_c', 'speed at which the coefficients hold', course.speed, 'rpm'),
  ];
}

/** The winding as warm as it works. */
export function windingTerms({ assessment }: ExplainedPoint, { line, group, index }: RotorAt): Terms {
  const settled = assessment.evaluation.craft?.windings[index];
  return [
    ofNumber('R_w', 'the winding when warm: R·(1 + 0.00393·(T_w − 20 °C))', group.motor.resistance, 'mohm'),
    ofFigure('R', line.motor.figure('resistance')),
    typeof settled === 'number'
      ? ofNumber('T_w', 'steady temperature of the winding as flown', settled, 'degC')
      : ofFigure('T_w', WINDING_TEMPERATURE),
  ];
}

/** Where motor and propeller balance: the current for the shaft power and the losses, and the voltage for it. */
export function balanceTerms(at: ExplainedPoint, rotorAt: RotorAt): Terms {
  const { line, group, rotor } = rotorAt;
  const { motor } = group;
  const { speed } = rotor;
  return [
    speedTerm('ω', at, rotorAt),
    ofFigure('K', line.motor.figure('kv')),
    ofNumber('i', 'current in one winding, solved from i·ω/K + (1 − s)·X·i² = P_s + P_0', rotor.motorCurrent, 'A'),
    ...windingTerms(at, rotorAt),
    ofNumber('X', 'commutation drop at ω in rad/s: 1.05·p·L/4·ω', motor.commutationSlope * speed, 'mohm'),
    ofFigure('p', line.motor.figure('poles')),
    ofFigure('L', line.motor.figure('inductance')),
    ofFigure('s', COMMUTATION_LOSS_SHARE),
    ofNumber('P_s', 'shaft power of one rotor: C_P·ρ·n³·D⁵, n = ω in revolutions per second', rotor.shaftPower, 'W'),
    ...coefficientTerms('power', rotorAt),
    ofNumber('ρ', 'density of the air', at.craft.air.density, 'kg/m^3'),
    ofFigure('D', line.propeller.figure('diameter')),
    ofNumber('P_0', 'no-load loss at ω: i_0·(½ + ½·ω/ω_0)·ω/K', noLoadLoss(motor, speed), 'W'),
    ofFigure('i_0', line.motor.figure('no_load_current')),
    ofNumber('ω_0', 'speed at which i_0 was measured', motor.noLoadSpeed, 'rpm'),
  ];
}

// ---- what the pack feeds ----

/** A duty this near to one is one, but for rounding. */
const UNCHOPPED = 1 - 1e-9;

/** All channels and all loads at a point. */
export function currentTerms(
  at: ExplainedPoint,
  duty: DerivationTerm | undefined,
): { readonly sum: string; readonly terms: Terms } {
  const { assessment, craft } = at;
  const rotors = rotorsAt(at);
  const loads = loadTerms(at);
  const isChopped = rotors.some(({ rotor }) => rotor.duty < UNCHOPPED);
  const [first] = rotors;
  const channel = isChopped ? 'k_d·(d·i + P_r/V)' : 'd·i';
  return {
    sum: `${rotors.length > 1 ? 'Σ ' : ''}N·${channel}${loads.length > 0 ? ' + Σ I_l' : ''}`,
    terms: [
      duty,
      ...rotors.flatMap(({ line, rotor, index }) => {
        const { motor, propeller } = line;
        const which = rotors.length > 1 ? ` of ${motor.name} with ${propeller.name}` : '';
        const symbol = (name: string) => indexed(name, index, rotors.length);
        return [
          ofNumber(symbol('N'), `rotors${which}`, line.count.value, ''),
          ofNumber(
            symbol('i'),
            `current in one winding${which}, where the torques of motor and propeller balance`,
            rotor.motorCurrent,
            'A',
          ),
          isChopped
            ? ofNumber(symbol('P_r'), `loss to current ripple in one motor${which}`, rotor.rippleLoss, 'W')
            : undefined,
        ];
      }),
      ...(isChopped ? [busTerm('V', at)] : []),
      ...(isChopped && first
        ? [
            ofNumber(
              'k_d',
              'factor on power at part duty: 1 + (k − 1)·4·d·(1 − d)',
              partDutyFactor(craft.partDutyPowerFactor, first.rotor.duty),
              '',
            ),
            ofFigure(
              'k',
              assessment.inputs.find(({ id }) => id === PART_DUTY_ID),
            ),
          ]
        : []),
      ...loads,
    ],
  };
}

/** What each load, regulator and board takes from the pack. */
function loadTerms(at: ExplainedPoint): DerivationTerm[] {
  const { assessment, craft, point, level } = at;
  const { build } = assessment;
  const read = readingOf(assessment);
  const taken: Omit<DerivationTerm, 'symbol' | 'unit'>[] = [];
  for (const [i, load] of build.loads.entries()) {
    const { from, kind, [level]: amount } = craft.loads[i] ?? { from: 0, kind: 'power', draw: 0, peak: 0 };
    const figure = drawOf(load.part)[level];
    if (from !== 'bus' || !figure) continue;
    const { label, origin, place } = figure;
    const value = kind === 'current' ? amount : amount / point.busVoltage;
    const power = kind === 'current' ? '' : `: ${formatValue(amount, 'W', DIGITS)} / V`;
    taken.push({ label: `${counted(load.count, label)}${power}`, value, origin, ...(place && { place }) });
  }
  for (const [i, { name }] of build.rails.entries()) {
    const [rail, state] = [craft.rails[i], point.rails[i]];
    if (rail?.from !== 'bus' || !state) continue;
    const own = rail.standbyCurrent > 0 ? ` + ${formatValue(rail.standbyCurrent, 'A', DIGITS)}` : '';
    const out = formatValue(state.current, 'A', DIGITS);
    const through =
      rail.type === 'linear'
        ? out
        : `${formatValue(state.voltage, 'V', DIGITS)}·${out} / (${formatNumber(rail.efficiency, DIGITS)}·V)`;
    taken.push({ label: `into ${name}: ${through}${own}`, value: state.inputCurrent });
  }
  for (const { part, count } of build.escs) {
    const idle = part.figure('standby_current');
    if (!idle) continue;
    const { label, origin, place } = idle;
    taken.push({ label: counted(count, label), value: count * read(idle), origin, ...(place && { place }) });
  }
  return taken.map((one, i) => ({ symbol: indexed('I_l', i, taken.length), unit: 'A', ...one }));
}
