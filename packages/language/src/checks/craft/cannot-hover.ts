/** No operating point lifts the weight. */
import type { Assessment, Estimate } from '../../analysis/assessment.ts';
import { expanded, measurable } from '../../analysis/uncertainty/estimate.ts';
import { STANDARD_GRAVITY } from '../../physics/air.ts';
import { type Impossible, isImpossible } from '../../physics/craft.ts';
import { formatSymmetric } from '../../units/print.ts';
import type { Check, Draft, OptionSubject } from '../check.ts';
import type { FindingNumber } from '../finding.ts';
import { gradeBelow } from '../grade.ts';
import { liftAndLoad } from '../shared/contributing.ts';
import { liftMore } from '../shared/duty.ts';
import { formatExact, number } from '../shared/finding-numbers.ts';
import { THRESHOLDS } from '../thresholds.ts';

export const cannotHover: Check = {
  id: 'cannot-hover',
  option: findCannotHover,
  folds: ['low-thrust', 'high-hover-duty', 'pack-oversag', 'rail-undervoltage', 'pack-overcurrent', 'short-flight'],
  page: {
    title: 'It cannot lift itself',
    cause:
      'Even at its duty limit, or with all the pack can deliver, the rotors produce less thrust than the craft weighs.',
    criterion:
      'no operating point of pack, drive and propellers at hover thrust, half way through the pack or at its reserve: error, with the shortfall and its ±; a warning where the ± of thrust-to-weight reaches 1, or that of the watts reaches none, unless it is surely too weak to fly: that is low-thrust.',
    standing: 'Statics.',
    remedy: 'Less mass, more or larger rotors, more cells, a higher duty limit, a pack with less resistance.',
    fixes: [],
    fails: `build Grounded like Healthy {
  item: 2.4 kg "ballast"
}`,
    passes: `build Airborne like Healthy {
  item: 2 g "tape"
}`,
  },
};

function* findCannotHover({ option, assessment }: OptionSubject): Iterable<Draft> {
  const { points, results, pack } = assessment;
  const fresh = results.get('thrust_to_weight')?.estimate;
  const atReserve = results.get('reserve_thrust_to_weight')?.estimate;
  for (const { point, when, ratio, power } of [
    { point: shortWhenFresh(results), when: 'even on a fresh pack', ratio: fresh, power: undefined },
    { point: points.hover, when: 'with the pack half used', ratio: fresh, power: pack.hoverShortfall },
    { point: points.hoverAtReserve, when: 'at the reserve', ratio: atReserve, power: pack.reserveHoverShortfall },
  ]) {
    if (!point || !isImpossible(point)) continue;
    // Where the ± reaches the thrust that would lift it, nobody knows for certain.
    const isCertain = power ? isSurelyShort(power) : isSurelyBelow(ratio, 1);
    // It may still surely be too weak to fly: that is what low-thrust reports.
    if (!isCertain && atReserve && isSurelyBelow(atReserve, THRESHOLDS.lowThrust.error)) return;
    const shortfall = power ? number('shortfall', power, 'W') : shortOfThrust(point, ratio, assessment);
    yield {
      severity: isCertain ? 'error' : 'warning',
      get message() {
        return `It ${isCertain ? 'cannot' : 'likely cannot'} hover on ${option.name} ${when}: ${reasonOf(point, shortfall, assessment)}. ${point.impossible === 'power' ? 'Take mass off, or use a pack with less resistance.' : liftMore(option)}`;
      },
      names: [option],
      place: option.place,
      numbers: [shortfall],
      get related() {
        return liftAndLoad(assessment);
      },
    };
    return;
  }
}

function reasonOf(point: Impossible, shortfall: FindingNumber, { option }: Assessment): string {
  const { value, plusMinus = 0, unit } = shortfall;
  const short = formatSymmetric(value, plusMinus, unit);
  return point.impossible === 'thrust'
    ? `the rotors lift ${short} less than it weighs, at their duty limit of ${formatExact(option.dutyLimit.value, '%')}`
    : `the pack is ${short} short of what hover needs`;
}

/** What is not known of thrust-to-weight is not known of the grams. */
function shortOfThrust({ shortfall }: Impossible, ratio: Estimate | undefined, { results }: Assessment): FindingNumber {
  const weight = results.get('all_up_weight')?.estimate.value ?? 0;
  const plusMinus = ratio ? expanded(ratio) * weight : 0;
  return { name: 'shortfall', value: shortfall / STANDARD_GRAVITY, unit: 'g', ...(plusMinus > 0 && { plusMinus }) };
}

/** Of a craft that full duty on a full pack does not lift. */
function shortWhenFresh(results: Assessment['results']): Impossible | undefined {
  const ratio = results.get('thrust_to_weight')?.estimate.value ?? 1;
  const weight = results.get('all_up_weight')?.estimate.value;
  if (ratio >= 1 || weight === undefined) return undefined;
  return { impossible: 'thrust', shortfall: (1 - ratio) * weight * STANDARD_GRAVITY };
}

/** A difference of watts may be of either sign: its ± lies evenly. */
const isSurelyShort = (watts: Estimate): boolean => watts.value > expanded(watts);

const isSurelyBelow = (ratio: Estimate | undefined, limit: number): boolean =>
  !ratio || gradeBelow(measurable(ratio), [{ past: limit, severity: 'error' }]) === 'error';
