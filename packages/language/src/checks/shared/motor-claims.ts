/** Figures of a motor that cannot be true together. */

import type { PackOption, Part } from '../../model/build.ts';
import { plusMinusOf } from '../../units/interval.ts';
import { usualStatorDiameter } from '../../vocabulary/estimators.ts';
import type { OptionSubject } from '../check.ts';
import { gradeAbove } from '../grade.ts';
import { THRESHOLDS } from '../thresholds.ts';
import { fullPackVoltage, ratedCells } from './cells.ts';
import { type Claim, relatedTo } from './claim.ts';
import { boundNumber, exactNumber, formatExact } from './finding-numbers.ts';

const { fastest, fastestRim, slowestRim, offEstimate, powerLow, powerHigh } = THRESHOLDS.claimsDisagree;

const RPM = (2 * Math.PI) / 60;

/** A kv that cannot be is reason enough for what is estimated from it to disagree. */
export const motorClaim = (motor: Part<'motor'>, subject: OptionSubject): Claim | undefined =>
  speedClaim(motor, subject.option) ??
  slownessClaim(motor, subject) ??
  estimateClaim(motor, 'resistance', 'mohm') ??
  estimateClaim(motor, 'no_load_current', 'A');

/** On the cells it is made for; where it does not state them, on the pack. */
function speedClaim(motor: Part<'motor'>, option: PackOption): Claim | undefined {
  const kv = motor.declared('kv');
  const rated = ratedCells(motor, 'rated');
  const full = fullPackVoltage(option);
  const volts = rated ? rated.high * THRESHOLDS.fullCell.lipo : full && full * option.dutyLimit.value;
  if (!kv || !volts) return undefined;
  const names = rated ? [motor] : [option, motor];
  const on = rated ? `${rated.high}S` : `the full ${option.name}`;
  const speed = { value: kv.value * volts, plusMinus: plusMinusOf(kv.standardUncertainty * volts) };
  if (gradeAbove(speed, [{ past: fastest * RPM, severity: 'error' }]) !== 'error') {
    const rim = rimSpeed(motor, kv.value * volts);
    if (rim === undefined || rim < fastestRim) return undefined;
    return {
      severity: 'error',
      message: `On ${on} the magnets of ${motor.name} would pass its stator at ${formatExact(rim, 'm/s')} unloaded; in no motor do they reach ${fastestRim} m/s. Its kv has a digit too many, or belongs to fewer cells.`,
      names,
      numbers: [exactNumber('rim_speed', rim, 'm/s'), boundNumber('limit', fastestRim, 'm/s')],
      related: relatedTo(kv),
    };
  }
  return {
    severity: 'error',
    message: `On ${on} ${motor.name} would turn ${formatExact(speed.value, 'rpm')} unloaded; no motor turns ${fastest} rpm. Its kv has a digit too many, or belongs to fewer cells.`,
    names,
    numbers: [exactNumber('speed', speed.value, 'rpm'), boundNumber('limit', fastest * RPM, 'rpm')],
    related: relatedTo(kv),
  };
}

/** m/s at the stator's edge: much the same in motors of all sizes, as a smaller one is wound to turn faster. Speed in rad/s. */
function rimSpeed(motor: Part<'motor'>, speed: number): number | undefined {
  const mass = motor.declared('mass');
  const diameter = motor.size('stator')?.named.diameter ?? (mass && usualStatorDiameter(mass.value));
  return diameter && (diameter / 2) * speed;
}

/** Of a craft that does not lift itself: a motor so slow on these cells that no motor is wound that way. */
function slownessClaim(motor: Part<'motor'>, { option, assessment }: OptionSubject): Claim | undefined {
  const kv = motor.declared('kv');
  const rated = (ratedCells(motor, 'rated')?.high ?? 0) * THRESHOLDS.fullCell.lipo;
  const volts = Math.max(rated, fullPackVoltage(option) ?? 0);
  const rim = kv && rimSpeed(motor, kv.value * volts);
  if (!rim || rim > slowestRim) return undefined;
  const lift = assessment.results.get('thrust_to_weight')?.estimate.value;
  if (lift === undefined || lift >= 1) return undefined;
  return {
    severity: 'error',
    message: `At ${formatExact(volts, 'V')} the magnets of ${motor.name} would pass its stator at ${formatExact(rim, 'm/s')} unloaded; in ordinary motors it is 20 m/s and more, and this craft does not lift itself. Its kv has a digit too few, or belongs to more cells.`,
    names: [motor],
    numbers: [exactNumber('rim_speed', rim, 'm/s'), boundNumber('limit', slowestRim, 'm/s')],
    related: relatedTo(kv),
  };
}

/** What its size and kv suggest, against what it states. */
function estimateClaim(
  motor: Part<'motor'>,
  property: 'resistance' | 'no_load_current',
  unit: string,
): Claim | undefined {
  const declared = motor.declared(property);
  // Of neither size nor mass nothing is known that could contradict.
  const usual = motor.size('stator') || motor.declared('mass') ? motor.usual(property) : undefined;
  if (!declared || !usual || declared.value <= 0 || usual.value <= 0) return undefined;
  const ratio = declared.value / usual.value;
  const times = { value: Math.max(ratio, 1 / ratio), plusMinus: 0 };
  const severity = gradeAbove(times, [
    { past: offEstimate.warning, severity: 'warning' },
    { past: offEstimate.error, severity: 'error' },
  ]);
  // Stated against usual has no ± here.
  if (!severity || severity === 'undecided') return undefined;
  const kv = motor.declared('kv');
  const stator = motor.size('stator');
  const words = property === 'resistance' ? 'resistance' : 'no-load current';
  return {
    severity,
    message: `${motor.name} states ${formatExact(declared.value, unit)} of ${words}; by its size and kv it has about ${formatExact(usual.value, unit)}. Its ${words} has a digit too ${ratio > 1 ? 'many' : 'few'}, or its kv or its size belongs to another winding.`,
    names: [motor],
    numbers: [exactNumber(property, declared.value, unit), exactNumber('estimate', usual.value, unit)],
    related: [
      ...relatedTo(declared, ...(kv ? [kv] : [])),
      ...(stator ? [{ message: `stator of ${motor.name}`, place: stator.place }] : []),
    ],
  };
}

/** V of a cell while a motor's power was claimed: near empty under load, and full. */
const CELL = { low: 3.3, high: 4.2 };

/** Amperes times volts against watts. */
export function powerClaim(motor: Part<'motor'>): Claim | undefined {
  const power = motor.declared('power');
  const current = motor.declared('max') ?? motor.declared('burst');
  const rated = motor.range('rated');
  if (!power || !current || !rated) return undefined;
  const least = powerLow * current.value * rated.low * CELL.low;
  const most = powerHigh * current.value * rated.high * CELL.high;
  if (power.value >= least && power.value <= most) return undefined;
  const volts = rated.low === rated.high ? `${rated.high}S` : `${rated.low}S to ${rated.high}S`;
  return {
    severity: 'information',
    message: `${motor.name} is claimed to withstand ${formatExact(current.value, 'A')} and ${formatExact(power.value, 'W')}: on ${volts} the one makes ${formatExact(least / powerLow, 'W')} to ${formatExact(most / powerHigh, 'W')}. One of them is not of this winding.`,
    names: [motor],
    numbers: [exactNumber('power', power.value, 'W'), exactNumber('current', current.value, 'A')],
    related: relatedTo(power, current),
  };
}
