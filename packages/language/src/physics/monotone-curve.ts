/**
 * A smooth curve through given points that rises where they rise and falls where they fall: the monotone piecewise cubic
 * of F. N. Fritsch and R. E. Carlson, SIAM J. Numer. Anal. 17 (1980) 238, with slopes after F. N. Fritsch and
 * J. Butland (1984). Continuous with its first derivative; never overshoots.
 */
export type MonotoneCurve = readonly Piece[];

interface Piece {
  readonly start: number;
  readonly width: number;
  readonly from: number;
  readonly to: number;
  readonly startSlope: number;
  readonly endSlope: number;
}

/** @param points at least two, [x, y], in rising order of x. */
export function monotoneCurve(points: readonly (readonly [number, number])[]): MonotoneCurve {
  const chords = points.slice(1).map(([x, y], i) => {
    const [start, from] = points[i] as readonly [number, number];
    return { start, width: x - start, from, to: y, secant: (y - from) / (x - start) };
  });
  return chords.map(({ secant, ...chord }, i) => {
    const before = chords[i - 1];
    const after = chords[i + 1];
    return {
      ...chord,
      startSlope: before ? meanSlope(before.secant, secant, before.width, chord.width) : secant,
      endSlope: after ? meanSlope(secant, after.secant, chord.width, after.width) : secant,
    };
  });
}

/** The curve's value; outside its points the value at the nearer end. */
export function valueAt(curve: MonotoneCurve, x: number): number {
  let piece = curve[0] as Piece;
  for (const candidate of curve) {
    if (candidate.start > x) break;
    piece = candidate;
  }
  const t = Math.min(1, Math.max(0, (x - piece.start) / piece.width));
  const s = 1 - t;
  const straight = s * s * (1 + 2 * t) * piece.from + t * t * (1 + 2 * s) * piece.to;
  return straight + piece.width * s * t * (s * piece.startSlope - t * piece.endSlope);
}

/** Weighted harmonic mean of two neighbouring secants; zero at a turning point. */
function meanSlope(left: number, right: number, leftWidth: number, rightWidth: number): number {
  if (left * right <= 0) return 0;
  const leftWeight = leftWidth + 2 * rightWidth;
  const rightWeight = 2 * leftWidth + rightWidth;
  return (leftWeight + rightWeight) / (leftWeight / right + rightWeight / left);
}
