/** No operating point lifts the weight. */
import type { Assessment, Estimate } from '../../analysis/assessment.ts';
import { STANDARD_GRAVITY } from '../../physics/air.ts';
import { type Impossible, isImpossible } from '../../physics/craft.ts';
import type { Check, Draft, OptionSubject } from '../check.ts';
import { gradeBelow } from '../grade.ts';
import { liftAndLoad } from '../shared/contributing.ts';
import { exactNumber, formatExact, measurable } from '../shared/finding-numbers.ts';
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
      'no operating point of pack, drive and propellers at hover thrust, half way through the pack or at its reserve: error, with the shortfall; a warning where the ± of thrust-to-weight reaches what low-thrust calls a warning.',
    standing: 'Statics.',
    remedy: 'Less mass, more or larger rotors, more cells, a higher duty limit, a pack with less resistance.',
    fails: `build Grounded like Healthy {
  item: 2.4 kg "ballast"
}`,
    passes: `build Airborne like Healthy {
  item: 2 g "tape"
}`,
  },
};

function* findCannotHover({ option, assessment }: OptionSubject): Iterable<Draft> {
  const { points, results } = assessment;
  const fresh = results.get('thrust_to_weight')?.estimate;
  const atReserve = results.get('reserve_thrust_to_weight')?.estimate;
  for (const { point, when, ratio } of [
    { point: shortWhenFresh(results), when: 'even on a fresh pack', ratio: fresh },
    { point: points.hover, when: 'with the pack half used', ratio: fresh },
    { point: points.hoverAtReserve, when: 'at the reserve', ratio: atReserve },
  ]) {
    if (!point || !isImpossible(point)) continue;
    const { impossible, shortfall } = point;
    const reason =
      impossible === 'thrust'
        ? `the rotors lift ${formatExact(shortfall / STANDARD_GRAVITY, 'g')} less than it weighs, at their duty limit of ${formatExact(option.dutyLimit.value, '%')}`
        : `the pack is ${formatExact(shortfall, 'W')} short of what hover needs`;
    // Where the ± reaches the thrust that would lift it, nobody knows for certain; it may still surely be too weak to fly.
    const isCertain = isSurelyBelow(ratio, 1);
    yield {
      severity: isCertain || isSurelyBelow(atReserve, THRESHOLDS.lowThrust.error) ? 'error' : 'warning',
      message: `It ${isCertain ? 'cannot' : 'likely cannot'} hover on ${option.name} ${when}: ${reason}. Take mass off, or give it more rotor, cells or duty.`,
      place: option.place,
      numbers: [
        impossible === 'thrust'
          ? exactNumber('shortfall', shortfall / STANDARD_GRAVITY, 'g')
          : exactNumber('shortfall', shortfall, 'W'),
      ],
      related: liftAndLoad(assessment),
    };
    return;
  }
}

/** Of a craft that full duty on a full pack does not lift. */
function shortWhenFresh(results: Assessment['results']): Impossible | undefined {
  const ratio = results.get('thrust_to_weight')?.estimate.value ?? 1;
  const weight = results.get('all_up_weight')?.estimate.value;
  if (ratio >= 1 || weight === undefined) return undefined;
  return { impossible: 'thrust', shortfall: (1 - ratio) * weight * STANDARD_GRAVITY };
}

const isSurelyBelow = (ratio: Estimate | undefined, limit: number): boolean =>
  !ratio || gradeBelow(measurable(ratio), [{ past: limit, severity: 'error' }]) === 'error';
