/** Half the width of the interval in which a root counts as found: what is left is rounding. */
const TOLERANCE = 2e-15;

/**
 * Where a function that rises over 0 … 1 passes zero, to 4e-15 and from above: 0 where it is never below, undefined where it is
 * below even at 1. It may jump.
 * Inverse quadratic steps where they can be trusted and halving elsewhere: T. R. Chandrupatla, Advances in Engineering Software 28
 * (1997) 145.
 */
export function risingRoot(value: (x: number) => number): number | undefined {
  // The root lies between the newest point and the one across; the third is the last that one of them replaced.
  let newest = 1;
  let atNewest = value(newest);
  if (atNewest < 0) return undefined;
  let across = 0;
  let atAcross = value(across);
  if (atAcross >= 0) return 0;
  let share = 0.5;
  for (;;) {
    const x = newest + share * (across - newest);
    const at = value(x);
    let third = newest;
    let atThird = atNewest;
    if (at < 0 !== atNewest < 0) {
      third = across;
      atThird = atAcross;
      across = newest;
      atAcross = atNewest;
    }
    newest = x;
    atNewest = at;
    const width = Math.abs(across - newest);
    if (at === 0) return newest;
    if (width <= 2 * TOLERANCE) return at < 0 ? across : newest;
    share = trustedShare(newest, atNewest, across, atAcross, third, atThird);
    const least = TOLERANCE / width;
    share = Math.min(1 - least, Math.max(least, share));
  }
}

/** How far from the newest point towards the one across the next should lie. */
function trustedShare(
  newest: number,
  atNewest: number,
  across: number,
  atAcross: number,
  third: number,
  atThird: number,
): number {
  const xi = (newest - across) / (third - across);
  const phi = (atNewest - atAcross) / (atThird - atAcross);
  const isTrusted = phi ** 2 < xi && (1 - phi) ** 2 < 1 - xi;
  if (!isTrusted) return 0.5;
  const first = (atNewest / (atAcross - atNewest)) * (atThird / (atAcross - atThird));
  const second =
    ((third - newest) / (across - newest)) * (atNewest / (atThird - atNewest)) * (atAcross / (atThird - atAcross));
  return first + second;
}
