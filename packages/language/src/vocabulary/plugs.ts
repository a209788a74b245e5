/**
 * Plugs: what a mated pair is rated for and how much it resists. Common practice (from memory); the resistance of one pair of contacts,
 * there and back, to a factor of 1.5.
 */
import type { PLUG_WORDS } from './kinds/common.ts';

export type PlugType = (typeof PLUG_WORDS)[number];

export interface Plug {
  /** A */
  readonly continuous: number;
  /** For 10 s, A. */
  readonly burst: number;
  /** Ohm. */
  readonly resistance: number;
  readonly description: string;
}

export const PLUGS: Readonly<Record<PlugType, Plug>> = {
  Pitch125: { continuous: 1, burst: 2, resistance: 30e-3, description: 'two flat contacts 1.25 mm apart' },
  Pitch200: { continuous: 3, burst: 5, resistance: 20e-3, description: 'two crimped contacts 2.0 mm apart' },
  Pitch250: { continuous: 3, burst: 5, resistance: 15e-3, description: 'two crimped contacts 2.5 mm apart, often red' },
  Pin1: { continuous: 9, burst: 15, resistance: 6e-3, description: 'round pins of 1 mm' },
  Bullet2: { continuous: 15, burst: 30, resistance: 1e-3, description: 'round pins of 2 mm' },
  Bullet35: { continuous: 30, burst: 60, resistance: 0.5e-3, description: 'round pins of 3.5 mm' },
  Bullet45: { continuous: 50, burst: 100, resistance: 0.3e-3, description: 'round pins of 4.5 mm' },
};

const BY_NAME: ReadonlyMap<string, Plug> = new Map(Object.entries(PLUGS));

export function plugOf(name: string | undefined): Plug | undefined {
  return name === undefined ? undefined : BY_NAME.get(name);
}
