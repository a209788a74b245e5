/** Whether a larger pack of the same make would fly longer, and how heavy the best one is. */
import type { Build, PackOption } from '../../model/build.ts';
import { type Craft, isImpossible } from '../../physics/craft.ts';
import { hoverEndurance } from '../../physics/flight.ts';
import { setupOf } from '../assess.ts';

export interface PackSize {
  /** Of all packs of the option now, kg. */
  readonly mass: number;
  /** s */
  readonly hoverTime: number;
  /** Masses between which it hovers nearly as long as it can, kg. */
  readonly best: readonly [number, number];
  /** s */
  readonly longest: number;
}

/** Of the present mass; sizes in between are not built anyway. */
const SCALES = Array.from({ length: 37 }, (_, i) => 0.3 * 1.08 ** i);

/** A pack this much heavier is tried first. */
const STILL_RISING = 1.05;

/**
 * Packs of one make in other sizes: capacity goes as the mass, resistance as its inverse.
 * @param nearly share of the longest time that counts as about the best
 * @param searched look for the best also where a heavier pack still flies longer
 * @returns undefined where it does not hover, its masses are not known, or there was nothing to look for
 */
export function packSize(build: Build, option: PackOption, nearly: number, searched: boolean): PackSize | undefined {
  const { craft, dryMass, packMass: mass } = setupOf(build, option);
  if (!craft || dryMass === undefined || mass === undefined) return undefined;
  const timeAt = (scale: number): number => {
    const endurance = hoverEndurance(withScaledPack(craft, mass, scale));
    return isImpossible(endurance) ? 0 : endurance.time;
  };
  const present = timeAt(1);
  if (present === 0) return undefined;
  // While more of it still brings minutes, it is not past its best: no need to look for the best.
  if (!searched && timeAt(STILL_RISING) >= present) return undefined;
  const tried = SCALES.map((scale) => ({ scale, time: timeAt(scale) }));
  const longest = Math.max(present, ...tried.map(({ time }) => time));
  const good = tried.filter(({ time }) => time >= nearly * longest).map(({ scale }) => scale);
  return { mass, hoverTime: present, longest, best: [Math.min(...good) * mass, Math.max(...good) * mass] };
}

export function withScaledPack(craft: Craft, packMass: number, scale: number): Craft {
  const { pack } = craft;
  return {
    ...craft,
    mass: craft.mass + packMass * (scale - 1),
    pack: { ...pack, capacity: pack.capacity * scale, positionResistance: pack.positionResistance / scale },
  };
}
