/** Duty limits that make something hold, which the fixes write; a craft with one thing changed. */
import type { Build, PackOption } from '../../model/build.ts';
import { isImpossible } from '../../physics/craft.ts';
import { assessPlainly } from '../assess.ts';
import type { Assessment } from '../assessment.ts';
import type { Setup } from '../setup/setup.ts';
import { bisect } from './bisect.ts';

/** Duty limits are found to a tenth of a percent. */
const RESOLUTION = 1e-3;
/** Below this nothing flies: no duty limit helps. */
const LOWEST = 0.05;

/** A pack option with another duty limit, everything else alike. */
export function withDutyLimit(option: PackOption, duty: number): PackOption {
  return { ...option, dutyLimit: { ...option.dutyLimit, value: duty } };
}

/** A pack option with another number of cells in series, all alike; undefined where packs are in parallel. */
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

/** With that share of its weight, all parts alike. */
export const withWeight =
  (share: number) =>
  ({ dryMass, packMass, craft, ...setup }: Setup): Setup => ({
    ...setup,
    ...(dryMass !== undefined && { dryMass: share * dryMass }),
    ...(packMass !== undefined && { packMass: share * packMass }),
    ...(craft && { craft: { ...craft, mass: share * craft.mass } }),
  });

/** Without one load. */
export const withoutLoad =
  (index: number) =>
  (setup: Setup): Setup => {
    if (!setup.craft) return setup;
    const loads = setup.craft.loads.map((load, i) => (i === index ? { ...load, draw: 0, peak: 0 } : load));
    return { ...setup, craft: { ...setup.craft, loads } };
  };

/** With one rail that keeps its output whatever its input. */
export const withHoldingRail =
  (index: number) =>
  (setup: Setup): Setup => {
    if (!setup.craft) return setup;
    const rails = setup.craft.rails.map((rail, i) =>
      i === index ? { ...rail, type: 'buck_boost' as const, dropout: 0 } : rail,
    );
    return { ...setup, craft: { ...setup.craft, rails } };
  };

/**
 * The largest duty limit (0 … 1) up to the present one under which a condition on the assessment's values (without their ±)
 * holds, to 0.1 % and on the safe side; undefined where none does, or where a craft that hovers would not under it. The condition must
 * not fail again at lower duty, as currents and voltages do not.
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
  const halvings = Math.ceil(Math.log2((present - LOWEST) / RESOLUTION));
  const [low] = bisect(LOWEST, present, holdsAt, Math.max(0, halvings));
  const grounds = hovers(assessPlainly(build, option)) && !hovers(assessPlainly(build, withDutyLimit(option, low)));
  return grounds ? undefined : low;
}

/** Down to the reserve; of a craft of unknown mass this is open. */
const hovers = ({ points }: Assessment): boolean =>
  [points.hover, points.hoverAtReserve].every((point) => point === undefined || !isImpossible(point));

/** The duty limit at which a motor sees of a pack what it would see of its rated cell count at full duty; 1 where it is not above. */
export function dutyForRatedCells(ratedVoltage: number, packVoltage: number): number {
  return Math.min(1, ratedVoltage / packVoltage);
}
