/** Full duty and the pack: too much current and cells whose voltage falls too low have one cause and one cure. */
import { assessPlainly } from '../../analysis/assess.ts';
import type { Assessment, Estimate } from '../../analysis/assessment.ts';
import { withCellResistance } from '../../analysis/decide/changed-craft.ts';
import { expanded, measurable } from '../../analysis/uncertainty/estimate.ts';
import { formatEstimate } from '../../analysis/uncertainty/print-estimate.ts';
import type { PackOption } from '../../model/build.ts';
import { isImpossible } from '../../physics/craft.ts';
import type { Severity } from '../../vocabulary/severities.ts';
import type { OptionSubject } from '../check.ts';
import { gradeAbove, gradeBelow, withLeeway } from '../grade.ts';
import { THRESHOLDS } from '../thresholds.ts';
import { restingFullCell } from './cells.ts';
import { formatExact } from './finding-numbers.ts';
import type { Keeps } from './overcurrent.ts';
import { type BurstPackRating, burstPackRating } from './ratings.ts';

type Verdict = Severity | 'undecided' | undefined;

const { packOvercurrent, packOversag } = THRESHOLDS;
const leeway = THRESHOLDS.leeway.sag;

export const isRound = ({ part }: PackOption): boolean => part.word('chemistry') === 'liion';

export const sagLimits = (option: PackOption) =>
  isRound(option) ? packOversag.lithiumIon : packOversag.lithiumPolymer;

const chemistryWords = ({ part }: PackOption): string =>
  ({ liion: 'li-ion', lihv: 'high-voltage lipo' })[part.word('chemistry') ?? ''] ?? 'lipo';

/** "the 2.5 V at which li-ion cells are empty" */
export const floorWords = (option: PackOption): string =>
  `the ${formatExact(sagLimits(option).floor, 'V')} at which ${chemistryWords(option)} cells are empty`;

const fullCurrent = ({ results }: OptionSubject['assessment']): Estimate | undefined =>
  results.get('full_current')?.estimate;

export const fullCellVoltageOf = ({ results }: OptionSubject['assessment']): Estimate | undefined =>
  results.get('full_cell_voltage')?.estimate;

export interface FullDutyCurrent {
  readonly severity: Severity | 'undecided';
  readonly current: Estimate;
  readonly rating: BurstPackRating;
}

/** Full duty against the rating for seconds. A lipo’s label is no more than a hint of what harms it: a warning at most. */
export function gradeCurrent({ option, assessment }: OptionSubject): FullDutyCurrent | undefined {
  const current = fullCurrent(assessment);
  const rating = burstPackRating(option);
  if (!current || !rating) return undefined;
  const share = current.value / rating.limit;
  const of = {
    value: share,
    plusMinus: Math.hypot(expanded(current), share * rating.plusMinus) / rating.limit,
  };
  const grades = [
    { past: packOvercurrent.warning, severity: 'warning' },
    { past: packOvercurrent.error, severity: isRound(option) ? 'error' : 'warning' },
  ] as const;
  const severity = withLeeway(of, packOvercurrent.warning, leeway, gradeAbove(of, grades));
  return severity && { severity, current, rating };
}

/** Full duty on a fresh pack against what its cells bear. */
export function gradeVoltage({ option, assessment }: OptionSubject): Verdict {
  const voltage = fullCellVoltageOf(assessment);
  if (!voltage) return undefined;
  const limits = sagLimits(option);
  const grade = gradeBelow(measurable(voltage), [
    { past: limits.warning, severity: 'warning' },
    { past: limits.error, severity: 'error' },
  ]);
  return withLeeway(measurable(voltage), limits.warning, leeway, grade);
}

/** What a duty limit has to achieve: the rating itself, not what is tolerated past it, and volts that are no finding. */
export function keepsPack(subject: OptionSubject): Keeps {
  const { option } = subject;
  const graded = gradeCurrent(subject);
  const mostCurrent = graded && graded.severity !== 'undecided' ? graded.rating.limit : undefined;
  const voltage = gradeVoltage(subject);
  const leastVoltage = voltage && voltage !== 'undecided' ? sagLimits(option).warning : undefined;
  return (tried) => {
    const loaded = fullCellVoltageOf(tried)?.value;
    return (
      loaded !== undefined &&
      (leastVoltage === undefined || loaded >= leastVoltage) &&
      (mostCurrent === undefined || (fullCurrent(tried)?.value ?? 0) <= mostCurrent)
    );
  };
}

/** Of the sag that is allowed, what a sound pack shows: a weak one is not replaced by one that just passes. */
export const SOUND = 0.5;

/** The craft on a pack whose cells stay above the limit at full duty; sag goes nearly as the resistance. As it is where they do. */
export function onSoundCells(subject: OptionSubject): Assessment {
  const { build, option, assessment } = subject;
  const loaded = fullCellVoltageOf(assessment)?.value;
  const verdict = gradeVoltage(subject);
  if (loaded === undefined || verdict === undefined || verdict === 'undecided') return assessment;
  const resting = restingFullCell(option.part);
  const share = (SOUND * (resting - sagLimits(option).warning)) / (resting - loaded);
  return assessPlainly(build, option, withCellResistance(share));
}

/** Of full duty at the reserve, after a sentence about a fresh pack: a sentence where cells are pulled below their floor. */
export function floorSentence({ option, assessment }: OptionSubject): string {
  const { fullAtReserve } = assessment.points;
  if (fullAtReserve && isImpossible(fullAtReserve)) return ' At the reserve it cannot supply full duty at any voltage.';
  const reserve = assessment.results.get('reserve_cell_voltage')?.estimate;
  if (!reserve || reserve.value >= sagLimits(option).floor) return '';
  return ` At the reserve a cell falls to ${formatEstimate(reserve, 'V')}, below ${floorWords(option)}.`;
}
