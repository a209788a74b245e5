/** Whether a larger pack of the same make would fly longer, and how heavy the best one is. */
import type { Build, PackOption } from '../model/build.ts';
import { assessPlainly } from './assess.ts';
import type { Setup } from './setup.ts';

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
  const timeAt = (scale: number): number =>
    assessPlainly(build, option, (setup) => scaledPack(setup, scale)).results.get('hover_time')?.estimate.value ?? 0;
  const mass = packMassOf(build, option);
  const hoverTime = timeAt(1);
  if (mass === undefined || hoverTime === 0) return undefined;
  // While more of it still brings minutes, it is not past its best: no need to look for the best.
  if (!searched && timeAt(STILL_RISING) >= hoverTime) return undefined;
  const tried = SCALES.map((scale) => ({ scale, time: timeAt(scale) }));
  const longest = Math.max(hoverTime, ...tried.map(({ time }) => time));
  const good = tried.filter(({ time }) => time >= nearly * longest).map(({ scale }) => scale);
  return { mass, hoverTime, longest, best: [Math.min(...good) * mass, Math.max(...good) * mass] };
}

function packMassOf(build: Build, option: PackOption): number | undefined {
  const { results } = assessPlainly(build, option);
  const whole = results.get('all_up_weight')?.estimate.value;
  const dry = results.get('dry_mass')?.estimate.value;
  return whole === undefined || dry === undefined ? undefined : whole - dry;
}

function scaledPack(setup: Setup, scale: number): Setup {
  const { craft, packMass } = setup;
  if (!craft || packMass === undefined) return setup;
  const { pack } = craft;
  return {
    ...setup,
    packMass: packMass * scale,
    craft: {
      ...craft,
      mass: craft.mass + packMass * (scale - 1),
      pack: { ...pack, capacity: pack.capacity * scale, positionResistance: pack.positionResistance / scale },
    },
  };
}
