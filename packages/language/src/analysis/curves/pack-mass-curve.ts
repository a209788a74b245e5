/** Minutes and thrust-to-weight over the mass of the pack, for packs of one make in other sizes: values alone. */
import type { Build, PackOption } from '../../model/build.ts';
import { isImpossible } from '../../physics/craft.ts';
import { fullDuty, hoverEndurance, weight } from '../../physics/flight.ts';
import { setupOf } from '../assess.ts';
import { withScaledPack } from '../decide/pack-size.ts';

export interface SizedPack {
  /** Of all packs of the option, kg. */
  readonly packMass: number;
  /** C */
  readonly capacity: number;
  /** s; 0 where it does not hover. */
  readonly hoverTime: number;
  /** Fresh pack, full duty; absent where there is no such point. */
  readonly thrustToWeight?: number;
}

const SCALES = Array.from({ length: 25 }, (_, i) => 0.4 * 1.08 ** i);

/** None where mass or circuit are not known. */
export function packMassCurve(build: Build, option: PackOption): SizedPack[] {
  const { craft, dryMass, packMass, fullDutyFactor } = setupOf(build, option);
  if (!craft || dryMass === undefined || packMass === undefined) return [];
  return SCALES.map((scale) => {
    const sized = withScaledPack(craft, packMass, scale);
    const time = hoverEndurance(sized);
    const full = fullDuty(sized, 1);
    return {
      packMass: packMass * scale,
      capacity: sized.pack.capacity,
      hoverTime: isImpossible(time) ? 0 : time.time,
      // Thrust follows power to two thirds; see `results/reading.ts`.
      ...(!isImpossible(full) && { thrustToWeight: (full.thrust * fullDutyFactor ** (2 / 3)) / weight(sized) }),
    };
  });
}
