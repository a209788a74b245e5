/** Halving an interval between what holds and what fails. */

/** Two values close together, the first of which still holds. */
export function bisect(
  holds: number,
  fails: number,
  isHeld: (value: number) => boolean,
  halvings: number,
): readonly [number, number] {
  let [inside, outside] = [holds, fails];
  for (let i = 0; i < halvings; i++) {
    const middle = (inside + outside) / 2;
    if (isHeld(middle)) inside = middle;
    else outside = middle;
  }
  return [inside, outside];
}
