/**
 * A camera or sensor on its mount: one mass on spring and damper, shaken once per revolution by the rotors.
 *
 * Sources: J. P. Den Hartog, Mechanical Vibrations, 4th ed. 1956, ch. 2; S. S. Rao, Mechanical Vibrations, 5th ed., sec. 3.6
 * and 9.10. Neglected: rotation and coupling of the six motions, stiffening at large amplitude, the frame's own resonances.
 */
import { STANDARD_GRAVITY } from './air.ts';

/** Motion of the mass over that of its base, at a frequency over the resonance (0 or more) and a damping ratio (0 … 1). */
export function transmissibility(frequencyRatio: number, dampingRatio: number): number {
  const square = frequencyRatio ** 2;
  const damping = (2 * dampingRatio * frequencyRatio) ** 2;
  return Math.sqrt((1 + damping) / ((1 - square) ** 2 + damping));
}

/** Frequency ratio at which transmissibility peaks, for a damping ratio above 0. */
export function peakFrequencyRatio(dampingRatio: number): number {
  return Math.sqrt(Math.sqrt(1 + 8 * dampingRatio ** 2) - 1) / (2 * dampingRatio);
}

/** Highest transmissibility between two frequencies (Hz) of a mount with a resonance (Hz) and damping ratio (above 0). */
export function worstTransmissibility(from: number, to: number, resonance: number, dampingRatio: number): number {
  const peak = resonance * peakFrequencyRatio(dampingRatio);
  const worst = Math.min(to, Math.max(from, peak));
  return transmissibility(worst / resonance, dampingRatio);
}

/** Hz, from stiffness (N/m) and mass (kg). */
export function resonanceFrequency(stiffness: number, mass: number): number {
  return Math.sqrt(stiffness / mass) / (2 * Math.PI);
}

/** Hz, from how far the mount sinks under its load, m: √(g/sag)/2π (Harris' Shock and Vibration Handbook). Linear mounts only. */
export function resonanceFromSag(sag: number): number {
  return Math.sqrt(STANDARD_GRAVITY / sag) / (2 * Math.PI);
}

/** Once per revolution, Hz, at a rotor speed in rad/s. */
export function oncePerRevolution(speed: number): number {
  return speed / (2 * Math.PI);
}
