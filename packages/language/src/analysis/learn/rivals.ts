/** Which of two measurements that contradict each other is likelier wrong, as far as anything shows it. */
import type { Contradicted, Doubt, LearntLine } from '../assessment.ts';
import { farthestContradicted, normalOf, outlyingBound } from './contradiction.ts';
import type { Posterior } from './gauss-newton.ts';
import { type LeftOut, leavingOut, solvedBy } from './left-out.ts';

/** Of −2 ln of the likelihood: with less between two sides, odds of one to seven, nothing shows which of them is wrong (ours). */
const DECIDES = 4;

/** The one contradiction to report: a whole flight or stand, where that is worst; a line past the bound, the farthest; else the side of the worst doubt. */
export function contradictedOf(
  posterior: Posterior,
  lines: readonly LearntLine[],
  [doubt]: readonly Doubt[],
): Contradicted | undefined {
  const bound = outlyingBound(lines.length);
  const farthest = doubt?.isWhole ? undefined : farthestContradicted(lines, bound);
  const worst = farthest && lines.indexOf(farthest);
  const named = worst === undefined ? doubt : { lines: [worst], isWhole: false };
  if (!named) return undefined;
  const leftOut = leavingOut(posterior);
  const sourceOf = (side: readonly number[]) => lines[side[0] ?? 0]?.source;
  const [rival] = rivalsOf(named, lines)
    // Lines of one flight have instruments and a day in common: what explains the farthest is named by the fit.
    .filter((side) => worst === undefined || sourceOf(side) !== sourceOf(named.lines))
    .filter((side) => agrees(named.lines, side, leftOut, bound))
    .map((side) => ({ side, gain: gainOf(leftOut(side)) }))
    .sort((a, b) => b.gain - a.gain);
  const { lines: side, isWhole } = named;
  if (!rival) return { lines: side, isWhole, isDecided: true };
  const lead = worst === undefined ? gainOf(leftOut(side)) - rival.gain : leadOf(lines, worst, rival.side);
  const isDecided = Math.abs(lead) >= DECIDES;
  return isDecided && lead < 0
    ? { lines: rival.side, isWhole, rival: side, isDecided }
    : { lines: side, isWhole, rival: rival.side, isDecided };
}

/** Compared with fits without each, as far as there are such. */
const leadOf = (lines: readonly LearntLine[], worst: number, [other = 0]: readonly number[]): number =>
  (lines[worst]?.outlying ?? 0) ** 2 - (lines[other]?.outlying ?? 0) ** 2;

/** Single lines, or whole flights and stands, other than the one that is named. */
function rivalsOf({ lines: named, isWhole }: Pick<Doubt, 'lines' | 'isWhole'>, lines: readonly LearntLine[]) {
  const others = [...lines.keys()].filter((i) => !named.includes(i));
  if (!isWhole) return others.map((i) => [i]);
  const sources = new Set(others.map((i) => lines[i]?.source));
  return [...sources].map((source) => others.filter((i) => lines[i]?.source === source));
}

/** Whether one side goes with the rest once the other is left out as well. */
function agrees(
  side: readonly number[],
  other: readonly number[],
  leftOut: (lines: readonly number[]) => LeftOut,
  bound: number,
): boolean {
  const { off, covariance } = leftOut([...side, ...other]);
  const own = {
    off: off.slice(0, side.length),
    covariance: covariance.slice(0, side.length).map(firstOf(side.length)),
  };
  return normalOf(squareOf(own), side.length) < bound;
}

const firstOf = (count: number) => (row: Float64Array) => row.slice(0, count);

/** By how much −2 ln of the likelihood falls without some lines, less one for each of them. */
const gainOf = (leftOut: LeftOut): number => squareOf(leftOut) - leftOut.off.length;

const squareOf = ({ off, covariance }: Pick<LeftOut, 'off' | 'covariance'>): number =>
  solvedBy(covariance)(off).reduce((sum, weight, i) => sum + weight * (off[i] ?? 0), 0);
