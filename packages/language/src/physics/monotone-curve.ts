/**
 * A smooth curve through given points that rises where they rise and falls where they fall: the monotone piecewise cubic
 * of F. N. Fritsch and R. E. Carlson, SIAM J. Numer. Anal. 17 (1980) 238, with slopes after F. N. Fritsch and
 * J. Butland (1984). Continuous with its first derivative; never overshoots.
 */
export type MonotoneCurve = readonly Piece[];

/** from + slope·d + bend·d² + twist·d³, d = x − start. */
interface Piece {
  readonly start: number;
  readonly width: number;
  readonly from: number;
  readonly slope: number;
  readonly bend: number;
  readonly twist: number;
}

/** @param points at least two, [x, y], in rising order of x. */
export function monotoneCurve(points: readonly (readonly [number, number])[]): MonotoneCurve {
  const chords = points.slice(1).map(([x, y], i) => {
    const [start, from] = points[i] as readonly [number, number];
    return { start, width: x - start, from, secant: (y - from) / (x - start) };
  });
  return chords.map(({ start, width, from, secant }, i) => {
    const before = chords[i - 1];
    const after = chords[i + 1];
    const slope = before ? meanSlope(before.secant, secant, before.width, width) : secant;
    const endSlope = after ? meanSlope(secant, after.secant, width, after.width) : secant;
    const bend = (3 * secant - 2 * slope - endSlope) / width;
    const twist = (slope + endSlope - 2 * secant) / width ** 2;
    return { start, width, from, slope, bend, twist };
  });
}

/** The curve's value; outside its points the value at the nearer end. */
export function valueAt(curve: MonotoneCurve, x: number): number {
  let at = 0;
  while (at + 1 < curve.length && (curve[at + 1] as Piece).start <= x) at++;
  const { start, width, from, slope, bend, twist } = curve[at] as Piece;
  const d = Math.min(width, Math.max(0, x - start));
  return from + d * (slope + d * (bend + d * twist));
}

/** Weighted harmonic mean of two neighbouring secants, weighing that of the narrower piece more; zero at a turning point. */
function meanSlope(left: number, right: number, leftWidth: number, rightWidth: number): number {
  if (left * right <= 0) return 0;
  const leftWeight = leftWidth + 2 * rightWidth;
  const rightWeight = 2 * leftWidth + rightWidth;
  return (leftWeight + rightWeight) / (leftWeight / left + rightWeight / right);
}
