/** Duty limits that make something hold, which the fixes write; how much heavier a pack may be. */
import type { Build, PackOption, Requirement } from '../model/build.ts';
import { assessPlainly } from './assess.ts';
import type { Assessment } from './assessment.ts';
import { judge } from './requirements.ts';
import type { Setup } from './setup.ts';

/** Duty limits are found to a tenth of a percent. */
const RESOLUTION = 1e-3;
/** Below this nothing flies: no duty limit helps. */
const LOWEST = 0.05;

/** A pack option with another duty limit, everything else alike. */
export function withDutyLimit(option: PackOption, duty: number): PackOption {
  return { ...option, dutyLimit: { ...option.dutyLimit, value: duty } };
}

/** A pack option with another number of cells in series, all alike; undefined where packs stand in parallel. */
export function withCells(option: PackOption, series: number): PackOption | undefined {
  const cells = option.part.cells('cells');
  if (!cells || option.arrangement === 'parallel') return undefined;
  return { ...option, arrangement: 'series', count: series / cells.series };
}

/** A pack whose cells have that share of their resistance. */
export const withCellResistance =
  (share: number) =>
  (setup: Setup): Setup => {
    if (!setup.craft) return setup;
    const { pack } = setup.craft;
    return {
      ...setup,
      craft: { ...setup.craft, pack: { ...pack, positionResistance: share * pack.positionResistance } },
    };
  };

/** Without one load. */
export const withoutLoad =
  (index: number) =>
  (setup: Setup): Setup => {
    if (!setup.craft) return setup;
    const loads = setup.craft.loads.map((load, i) => (i === index ? { ...load, draw: 0, peak: 0 } : load));
    return { ...setup, craft: { ...setup.craft, loads } };
  };

/** With one rail that holds its output whatever its input. */
export const withHoldingRail =
  (index: number) =>
  (setup: Setup): Setup => {
    if (!setup.craft) return setup;
    const rails = setup.craft.rails.map((rail, i) =>
      i === index ? { ...rail, type: 'both' as const, dropout: 0 } : rail,
    );
    return { ...setup, craft: { ...setup.craft, rails } };
  };

/**
 * The largest duty limit (0 … 1) up to the present one under which a condition on the assessment's values (without their ±)
 * holds, to 0.1 % and on the safe side; undefined where none does. The condition must not fail again at lower duty, as currents and voltages do not.
 */
export function dutyLimitFor(
  build: Build,
  option: PackOption,
  holds: (assessment: Assessment) => boolean,
): number | undefined {
  const holdsAt = (duty: number): boolean => holds(assessPlainly(build, withDutyLimit(option, duty)));
  const present = option.dutyLimit.value;
  if (holdsAt(present)) return present;
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

/** How much heavier the pack may be, all else alike, before the first requirement fails. */
export interface PackGramsLeft {
  /** g; 0 where one fails already. */
  readonly grams: number;
  readonly limitedBy: Requirement;
}

/** Nothing here carries more. */
const MOST_GRAMS = 5000;
const GRAM_RESOLUTION = 0.05;

/**
 * By the values alone, their ± left out, to 0.05 g and on the safe side; undefined where no requirement that holds now fails
 * with any mass.
 */
export function packGramsLeft(build: Build, option: PackOption): PackGramsLeft | undefined {
  const requirements = build.rules.requirements.filter(({ pack }) => pack === undefined || pack === option.name);
  if (requirements.length === 0 || !option.part.figure('mass')) return undefined;
  const failingAt = (grams: number): Requirement | undefined => {
    const assessment = assessPlainly(build, option, (setup) => withHeavierPack(setup, grams / 1000));
    return requirements.find((requirement) => judge(requirement, assessment).leaning !== 'holds');
  };
  const now = failingAt(0);
  if (now) return { grams: 0, limitedBy: now };

  let low = 0;
  let high = 1;
  let limitedBy = failingAt(high);
  while (!limitedBy && high < MOST_GRAMS) {
    low = high;
    high *= 2;
    limitedBy = failingAt(high);
  }
  if (!limitedBy) return undefined;
  while (high - low > GRAM_RESOLUTION) {
    const middle = (low + high) / 2;
    const failing = failingAt(middle);
    if (failing) {
      high = middle;
      limitedBy = failing;
    } else {
      low = middle;
    }
  }
  return { grams: low, limitedBy };
}

/** kg more in the pack. */
function withHeavierPack(setup: Setup, more: number): Setup {
  const { craft, packMass } = setup;
  if (packMass === undefined) return setup;
  return { ...setup, packMass: packMass + more, ...(craft && { craft: { ...craft, mass: craft.mass + more } }) };
}
