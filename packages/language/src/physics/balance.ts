/**
 * Balance along the craft: how hover thrust splits between front and rear, where the pack must be. Statics; positions in metres
 * along one axis, forward positive, from any common origin.
 */

/** Share of hover thrust on the front rotors, for a centre of mass between two rows of rotors (m); outside 0 … 1 it tips. */
export function frontShare(centre: number, front: number, rear: number): number {
  return (centre - rear) / (front - rear);
}

/**
 * Where a pack must sit, m, to bring the centre of mass of the whole to the origin.
 * @param moment mass times position of everything else, kg m
 * @param packMass kg, above zero
 */
export function packPosition(moment: number, packMass: number): number {
  return -moment / packMass;
}
