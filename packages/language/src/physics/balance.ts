/**
 * Balance along the craft: centre of mass, how hover thrust splits between front and rear, where the pack must sit.
 * Statics; positions in metres along one axis, forward positive, from any common origin.
 */
export interface PlacedMass {
  /** kg */
  readonly mass: number;
  /** m */
  readonly position: number;
}

/** m; undefined where nothing has mass. */
export function centreOfMass(parts: readonly PlacedMass[]): number | undefined {
  const mass = parts.reduce((sum, part) => sum + part.mass, 0);
  if (mass <= 0) return undefined;
  return parts.reduce((sum, part) => sum + part.mass * part.position, 0) / mass;
}

/** Share of hover thrust on the front rotors, for a centre of mass between two rows of rotors (m); outside 0 … 1 it tips. */
export function frontShare(centre: number, front: number, rear: number): number {
  return (centre - rear) / (front - rear);
}

/** Where a pack (kg) must sit, m, to bring the centre of mass of all parts to a target (m). */
export function packPosition(others: readonly PlacedMass[], packMass: number, target: number): number {
  const moment = others.reduce((sum, part) => sum + part.mass * (part.position - target), 0);
  return target - moment / packMass;
}
