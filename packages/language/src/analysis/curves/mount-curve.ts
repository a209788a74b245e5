/** What the softest mount passes on at each speed of the rotors: values alone, without their ±. */
import { oncePerRevolution, peakFrequencyRatio, transmissibility } from '../../physics/vibration.ts';
import type { Assessment } from '../assessment.ts';
import { softestMount } from '../setup/optional.ts';

export interface MountPoint {
  /** Hz */
  readonly frequency: number;
  /** Motion of what is mounted over that of the frame. */
  readonly transmissibility: number;
}

export interface MountCurve {
  readonly mount: string;
  readonly load: string;
  /** From standstill to beyond full duty, the mount's own frequency and its peak among them. */
  readonly points: readonly MountPoint[];
  readonly own: MountPoint;
  /** Once per revolution, Hz. */
  readonly hover: MountPoint;
  /** At full duty on a fresh pack; absent where there is no such point. */
  readonly full?: MountPoint;
}

const STEPS = 120;
/** How far beyond the fastest rotor, and beyond the mount's own frequency, the curve goes on. */
const BEYOND_FULL = 1.1;
const BEYOND_OWN = 2.5;

/** Undefined where no mount states how it rings, or the craft does not hover. */
export function mountCurve({ build, results }: Assessment): MountCurve | undefined {
  const mounted = softestMount(build.loads);
  const hoverSpeed = results.get('hover_speed')?.estimate.value;
  const own = results.get('mount_frequency')?.estimate.value;
  if (!mounted || hoverSpeed === undefined || own === undefined) return undefined;
  const damping = mounted.damping.value;
  const pointAt = (frequency: number): MountPoint => ({
    frequency,
    transmissibility: transmissibility(frequency / own, damping),
  });
  const hover = oncePerRevolution(hoverSpeed);
  const fullSpeed = results.get('full_speed')?.estimate.value;
  const full = fullSpeed === undefined ? undefined : oncePerRevolution(fullSpeed);
  const end = Math.max(BEYOND_FULL * (full ?? hover), BEYOND_OWN * own);
  const peak = own * peakFrequencyRatio(damping);
  const frequencies = [...Array.from({ length: STEPS + 1 }, (_, i) => (i / STEPS) * end), own, peak];
  return {
    mount: mounted.mount.name,
    load: mounted.load.name,
    points: frequencies.toSorted((a, b) => a - b).map(pointAt),
    own: pointAt(own),
    hover: pointAt(hover),
    ...(full !== undefined && { full: pointAt(full) }),
  };
}
