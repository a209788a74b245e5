/**
 * What cannot be is set aside before the fit, and reported: a digit too many, milliamperes for amperes, a recorder that ran on the ground. The fit itself
 * has no gate; whatever a craft may be, up to parts far off their page, is learnt.
 */
import type { Setup } from '../setup/setup.ts';
import type { Template } from '../setup/template.ts';
import { solvedBy } from './left-out.ts';
import { logScene } from './log-lines.ts';
import type { LogReading } from './log-readings.ts';
import { flightScene, observedWithout, type PackObserved } from './observed-lines.ts';
import { type AnyScene, type Except, type MeasuredLine, type Prediction, scaledDifference } from './scene.ts';
import type { Matrix } from './symmetric.ts';

/**
 * Standard deviations off what was predicted before anything was learnt. A sound craft has a reading there once in five hundred million; were each ± half
 * of what it should be, once in 370. A part four of them off its page is learnt as any other.
 */
export const IMPLAUSIBLE = 6;

/** Where less is known of a craft, what its weight alone forbids is set aside from here on. */
const IMPOSSIBLE = 4;

/** However well a craft is known, so far off is no slip of a unit, a column or a pack yet: a logarithm, or SI of what is plain (a share). */
const LEAST_OFF = { usual: Math.log(2.5), volts: Math.log(1.15), plain: 0.25 };
/** Something heavy that no line lists; a pack that has aged. */
const OFTEN_OFF: Readonly<Record<string, number>> = { scale: Math.log(2), cell_resistance: Math.log(5) };

/** A reading, or all of a row, a column, a stand or a log, from which nothing is learnt. */
export interface SetAside {
  /** The one that lies farthest off. */
  readonly line: MeasuredLine;
  readonly what: 'line' | 'row' | 'column' | 'stand' | 'log';
  /** By the figures of the parts, SI; and one standard deviation, of the logarithm or SI where the line is plain. */
  readonly expected: number;
  readonly deviation: number;
  /** Less than this, SI, no craft of that weight reads. */
  readonly least?: number;
}

export interface Screened {
  readonly scene: AnyScene | undefined;
  readonly aside: readonly SetAside[];
}

interface Far extends Omit<SetAside, 'line' | 'what'> {
  readonly index: number;
  /** In standard deviations. */
  readonly far: number;
}

const leastOff = ({ reading, unit, isPlain }: MeasuredLine): number =>
  OFTEN_OFF[reading] ?? (isPlain ? LEAST_OFF.plain : unit === 'V' ? LEAST_OFF.volts : LEAST_OFF.usual);

/** By all that decides them: an edit elsewhere makes new objects, but moves no number. */
const kept = new Map<string, readonly Far[]>();
const MOST_KEPT = 512;

/** Lines of a scene that cannot be, each by itself; of a row whose speed is open each by the others of its row. */
function farIn(scene: AnyScene): readonly Far[] {
  const content = scene.content();
  const known = kept.get(content);
  if (known) return known;
  const predictions = scene.linearise(new Map(), true);
  const least = scene.least();
  const found = scene.lines.flatMap((line, i): Far[] => {
    const prediction = predictions[i];
    if (prediction?.value === undefined) return [];
    const { difference, deviation } = line.isOpen
      ? besideItsRow(scene.lines, predictions, i)
      : {
          difference: scaledDifference(line, prediction.value),
          deviation: Math.hypot(line.error, ...prediction.slopes.values()),
        };
    if (!Number.isFinite(difference)) return [];
    const far = Math.abs(difference) / deviation;
    const bound = least[i];
    const isImpossible = bound !== undefined && line.value < bound && far > IMPOSSIBLE;
    if (!isImpossible && (far <= IMPLAUSIBLE || Math.abs(difference) < leastOff(line))) return [];
    const expected = line.isPlain ? line.value - difference : line.value * Math.exp(-difference);
    return [{ index: i, expected, deviation, far, ...(isImpossible && { least: bound }) }];
  });
  if (kept.size >= MOST_KEPT) kept.delete(kept.keys().next().value ?? '');
  kept.set(content, found);
  return found;
}

/** What the other readings of its row predict of a line: what an open speed leaves open, they decide. */
function besideItsRow(
  lines: readonly MeasuredLine[],
  predictions: readonly Prediction[],
  index: number,
): { readonly difference: number; readonly deviation: number } {
  const row = lines.flatMap((line, i) => (line.row === lines[index]?.row ? [i] : []));
  const slopeOf = (i: number, id: string) => (predictions[i]?.slopes.get(id) ?? 0) / (lines[i]?.error ?? 1);
  const product = (i: number, j: number) =>
    [...(predictions[i]?.slopes.keys() ?? [])].reduce((sum, id) => sum + slopeOf(i, id) * slopeOf(j, id), 0);
  const spread: Matrix = row.map((i) => Float64Array.from(row, (j) => product(i, j) + (i === j ? 1 : 0)));
  const off = Float64Array.from(row, (i) => {
    const { value } = predictions[i] ?? {};
    const line = lines[i];
    const difference = line && value !== undefined ? scaledDifference(line, value) / line.error : 0;
    return Number.isFinite(difference) ? difference : 0;
  });
  const inverse = solvedBy(spread);
  const at = row.indexOf(index);
  const own = inverse(Float64Array.from(row, (_, k) => (k === at ? 1 : 0)))[at] ?? 1;
  const pull = inverse(off)[at] ?? 0;
  const { error = 1 } = lines[index] ?? {};
  return { difference: (pull / own) * error, deviation: error / Math.sqrt(own) };
}

const asideOf = (scene: AnyScene, { index, far: _, ...found }: Far, what: SetAside['what']): SetAside => ({
  ...found,
  what,
  line: scene.lines[index] as MeasuredLine,
});

const farthest = (found: readonly Far[]): Far | undefined => found.toSorted((a, b) => b.far - a.far)[0];

/** A reading on which others rest comes before them: each is compared with a flight without those that are aside. */
export function screenedFlight(
  observed: PackObserved,
  template: Template<Setup>,
): Screened & { readonly isLeft: Except } {
  const aside: SetAside[] = [];
  const isLeft: Except = (reading) => aside.some(({ line }) => line.reading === reading);
  for (;;) {
    const scene = flightScene(aside.length > 0 ? observedWithout(observed, isLeft) : observed, template);
    const [first] = scene ? farIn(scene) : [];
    if (!scene || !first) return { scene, aside, isLeft };
    aside.push(asideOf(scene, first, 'line'));
  }
}

/** On these rests all that is read off a log; the plainest first. */
const WHOLE_LOG: readonly LogReading[] = ['hover_current', 'rested_before', 'rested', 'logged_voltage', 'flown_power'];
/** Columns that nothing else rests on, but what is read with them. */
const COLUMNS: Readonly<Record<string, readonly LogReading[]>> = {
  hover_output: ['hover_output', 'burst_current', 'burst_voltage'],
  hover_speed: ['hover_speed'],
};

/** @param isLeft readings of the block that are aside already */
export function screenedLog(observed: PackObserved, template: Template<Setup>, isLeft: Except): Screened {
  const known = isLeft('put_back') ? observedWithout(observed, isLeft) : observed;
  const scene = logScene(known, template);
  const found = scene ? farIn(scene) : [];
  if (!scene || found.length === 0) return { scene, aside: [] };
  const of = (reading: string) => farthest(found.filter(({ index }) => scene.lines[index]?.reading === reading));
  const whole = WHOLE_LOG.map(of).find((one) => one !== undefined);
  if (whole) return { scene: undefined, aside: [asideOf(scene, whole, 'log')] };
  const columns = Object.keys(COLUMNS).filter((column) => of(column));
  if (columns.length === 0) return { scene, aside: [] };
  const left = new Set<string>(columns.flatMap((column) => COLUMNS[column] ?? []));
  return {
    scene: logScene(known, template, (kind) => left.has(kind)),
    aside: columns.flatMap((column) => {
      const worst = of(column);
      return worst ? [asideOf(scene, worst, 'column')] : [];
    }),
  };
}

/**
 * A slip in most rows is one of the column; in one row nobody knows what else of it is wrong. Where several columns are off, or most rows each by
 * themselves, the whole stand is. What is left is looked at again without what was set aside, until nothing more is far off.
 */
export function screenedStand(make: (isLeft: Except) => AnyScene | undefined): Screened {
  const rows = new Set<number>();
  const columns = new Set<string>();
  const isLeft: Except = (reading, row) => columns.has(reading) || (row !== undefined && rows.has(row));
  const aside: SetAside[] = [];
  for (;;) {
    const scene = make(isLeft);
    const found = scene ? farIn(scene) : [];
    const worst = farthest(found);
    if (!scene || !worst) return { scene, aside };
    const odd = oddColumns(scene, found);
    if (odd.length > 1 || (odd.length === 0 && areMostRows(scene, found)))
      return { scene: undefined, aside: [...aside, asideOf(scene, worst, 'stand')] };
    const [column] = odd;
    if (column !== undefined) {
      columns.add(column);
      const ofColumn = found.filter(({ index }) => scene.lines[index]?.reading === column);
      aside.push(asideOf(scene, farthest(ofColumn) ?? worst, 'column'));
      continue;
    }
    for (const one of farthestOfRows(scene, found)) {
      const row = rowOf(scene, one);
      if (row !== undefined) rows.add(row);
      aside.push(asideOf(scene, one, 'row'));
    }
  }
}

/** Columns that are far off in more than half of their rows, and in more than one; an open row shows only how its cells go together. */
function oddColumns({ lines }: AnyScene, found: readonly Far[]): string[] {
  const isFar = new Set(found.map(({ index }) => index));
  return [...new Set(lines.map(({ reading }) => reading))].filter((column) => {
    const own = lines.flatMap(({ reading }, i) => (reading === column ? [i] : []));
    const far = own.filter((i) => isFar.has(i) && !lines[i]?.isOpen).length;
    return far > 1 && far > own.length / 2;
  });
}

function areMostRows(scene: AnyScene, found: readonly Far[]): boolean {
  const rows = new Set(scene.lines.map(({ row }) => row)).size;
  return farthestOfRows(scene, found).length > Math.max(1, rows / 2);
}

/** The farthest line of each row, farthest row first. */
function farthestOfRows(scene: AnyScene, found: readonly Far[]): Far[] {
  const ofRow = new Map<number | undefined, Far>();
  for (const one of found.toSorted((a, b) => b.far - a.far))
    if (!ofRow.has(rowOf(scene, one))) ofRow.set(rowOf(scene, one), one);
  return [...ofRow.values()];
}

const rowOf = (scene: AnyScene, { index }: Far): number | undefined => scene.lines[index]?.row;
