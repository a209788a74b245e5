/** Duty limits that make something hold: what the fixes write. */
import type { Build, PackOption } from '../model/build.ts';
import { assess } from './assess.ts';
import type { Assessment } from './assessment.ts';

/** Duty limits are found to a tenth of a percent. */
const RESOLUTION = 1e-3;
/** Below this nothing flies: no duty limit helps. */
const LOWEST = 0.05;

/** A pack option with another duty limit, everything else alike. */
export function withDutyLimit(option: PackOption, duty: number): PackOption {
  return { ...option, dutyLimit: { ...option.dutyLimit, value: duty } };
}

/**
 * The largest duty limit (0 … 1) up to the present one under which a condition on the assessment holds, to 0.1 % and on the
 * safe side; undefined where none does. The condition must not fail again at lower duty, as currents and voltages do not.
 */
export function dutyLimitFor(
  build: Build,
  option: PackOption,
  holds: (assessment: Assessment) => boolean,
): number | undefined {
  const holdsAt = (duty: number): boolean => holds(assess(build, withDutyLimit(option, duty)));
  const present = option.dutyLimit.value;
  if (holds(assess(build, option))) return present;
  if (present <= LOWEST || !holdsAt(LOWEST)) return undefined;
  let low = LOWEST;
  let high = present;
  while (high - low > RESOLUTION) {
    const middle = (low + high) / 2;
    if (holdsAt(middle)) low = middle;
    else high = middle;
  }
  return low;
}

/** The duty limit at which a motor sees of a pack what it would see of its rated cell count at full duty; 1 where it is not above. */
export function dutyForRatedCells(ratedVoltage: number, packVoltage: number): number {
  return Math.min(1, ratedVoltage / packVoltage);
}

/** The cell count whose full pack gives at full duty what this one gives at its duty limit, not rounded. */
export function equivalentCells(cells: number, dutyLimit: number): number {
  return cells * dutyLimit;
}
