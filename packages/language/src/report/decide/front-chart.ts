/** The front as a picture: two preferences across and up, every candidate that passes, those of the front with their numbers. */
import { extent } from 'd3-array';
import { scaleLinear } from 'd3-scale';
import { displayUnit } from '../../units/print.ts';
import { CHART_COLOURS, CHART_STYLE, type Chart, frame, label, mark, svg, textWidth } from '../present/chart.ts';
import { type Markup, markup } from '../present/markup.ts';
import { levelText } from '../present/report-words.ts';
import type { Chosen, JudgedResult, Row } from './choice.ts';

/** The same picture twice, each readable at its width; the style of a page shows one of them. */
const SIZES = {
  wide: { width: 560, height: 300, ticks: 6 },
  narrow: { width: 350, height: 290, ticks: 4 },
} as const;
type Size = keyof typeof SIZES;
/** Of what is shown, so that no mark lies on an axis. */
const ROOM = 0.08;

type Point = readonly [number, number];
/** Leads from a point to its row in the table. */
type ToRow = (row: Row) => string;

/** Undefined where fewer than two figures are preferred, or no candidate passes. */
function frontChart(chosen: Chosen, size: Size, toRow?: ToRow): Chart | undefined {
  const { preferences, rows, cloud, today } = chosen;
  const [across, up] = preferences;
  if (!across || !up || rows.length === 0) return undefined;
  const { width, height, ticks } = SIZES[size];
  const box = { left: 52, right: width - 24, top: 30, bottom: height - 56 };
  const units = [displayUnit(across.unit), displayUnit(up.unit)] as const;
  const pointOf = ([px, py]: readonly (number | undefined)[]): Point | undefined =>
    px === undefined || py === undefined ? undefined : [units[0].fromSI(px), units[1].fromSI(py)];
  const levelsOf = (values: readonly JudgedResult[]) => pointOf(values.map(({ level }) => level?.value));
  const reachOf = (values: readonly JudgedResult[]): Point => {
    const [wide = 0, high = 0] = units.map(
      ({ fromSI }, i) => fromSI(values[i]?.difference?.plusMinus ?? 0) - fromSI(0),
    );
    return [wide, high];
  };
  const others = cloud.flatMap((values) => {
    const point = pointOf(values);
    return point ? [point] : [];
  });
  const now = levelsOf(today.values);
  const best = rows.flatMap((row) => {
    const point = levelsOf(row.values);
    return point ? [{ row, point, reach: reachOf(row.values) }] : [];
  });
  const ends = best.flatMap(({ point: [px, py], reach: [dx, dy] }): Point[] => [
    [px - dx, py - dy],
    [px + dx, py + dy],
  ]);
  const points = [...others, ...ends, ...(now ? [now] : [])];
  const scaleOf = (axis: 0 | 1, from: number, to: number) => {
    const [low = 0, high = 1] = extent(points, (point) => point[axis]);
    const room = (high - low || Math.abs(high) || 1) * ROOM;
    return scaleLinear([low - room, high + room], [from, to]);
  };
  const [x, y] = [scaleOf(0, box.left, box.right), scaleOf(1, box.bottom, box.top)];
  const at = ([px, py]: Point): Point => [x(px), y(py)];
  const line = (x1: number, y1: number, x2: number, y2: number, look: string) =>
    markup`<line class="${look}" x1="${x1}" y1="${y1}" x2="${x2}" y2="${y2}"/>`;
  const todayLines = (point: Point): Markup[] => {
    const [px, py] = at(point);
    return [line(px, box.top, px, box.bottom, 'axis dashed'), line(box.left, py, box.right, py, 'axis dashed')];
  };
  const isListed = rows.some(({ isToday }) => isToday);
  const labels = new Labels([...best.map(({ point }) => at(point)), ...(now ? [at(now)] : [])], box.left, width);
  const todayMark = (point: Point): Markup[] => [
    mark('wedge', ...at(point), 'f1'),
    labels.near(at(point), 'today', 'halo quiet') ?? markup``,
  ];
  const marks: Markup[] = [
    ...(now ? todayLines(now) : []),
    ...others.map((point) => mark('disc', ...at(point), 'f5 soft')),
    ...(now && !isListed ? todayMark(now) : []),
    ...best.map(({ row, point, reach }) => {
      const [px, py] = at(point);
      const [dx, dy] = [x(point[0] + reach[0]) - px, y(point[1] + reach[1]) - py];
      const bars = [
        ...(dx === 0 ? [] : [line(px - dx, py, px + dx, py, 'edge')]),
        ...(dy === 0 ? [] : [line(px, py - dy, px, py + dy, 'edge')]),
      ];
      const number = row.isToday ? `${row.rank} today` : String(row.rank);
      const drawn = markup`${bars}${mark('square', px, py, 'f0')}${labels.near([px, py], number, 'halo strong')}`;
      if (!toRow) return drawn;
      const words = wordsOf(row, chosen);
      return markup`<a href="#${toRow(row)}" aria-label="${words}"><title>${words}</title>${drawn}</a>`;
    }),
  ];
  const named = (of: typeof across) =>
    `${of.label}${of.unit ? `, ${of.unit}` : ''} (${of.isMoreBetter ? 'more' : 'less'} is better)`;
  return {
    width,
    height,
    title: `${up.label} against ${across.label}`,
    description: rows.map((row) => wordsOf(row, chosen)).join('; '),
    body: markup`${frame(box, { scale: x, label: named(across), ticks }, { scale: y, label: named(up), ticks: 5 })}${marks}`,
  };
}

const wordsOf = ({ rank, label: of, values }: Row, { preferences }: Chosen): string =>
  `${rank}: ${of}, ${preferences.map((one, i) => `${one.label} ${levelText(values[i]?.level, one.unit)}`).join(', ')}`;

const LABEL_HEIGHT = 13;
const MARK_REACH = 5;

interface Area {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Words next to marks, where they cover nothing. Those that find no place are left out: the table next to the picture has them all. */
class Labels {
  readonly #taken: Area[];
  readonly #left: number;
  readonly #right: number;

  constructor(marks: readonly Point[], left: number, right: number) {
    this.#taken = marks.map(([x, y]) => ({
      left: x - MARK_REACH,
      right: x + MARK_REACH,
      top: y - MARK_REACH,
      bottom: y + MARK_REACH,
    }));
    this.#left = left;
    this.#right = right;
  }

  near([x, y]: Point, words: string, look: string): Markup | undefined {
    const wide = textWidth(words) + 2;
    const places = [
      { at: x + 8, base: y - 5, anchor: 'start' },
      { at: x - 8, base: y - 5, anchor: 'end' },
      { at: x + 8, base: y + 14, anchor: 'start' },
      { at: x - 8, base: y + 14, anchor: 'end' },
    ] as const;
    for (const { at, base, anchor } of places) {
      const left = anchor === 'start' ? at : at - wide;
      const area = { left, right: left + wide, top: base - LABEL_HEIGHT + 3, bottom: base + 3 };
      const isFree = this.#taken.every(
        (one) => one.right < area.left || one.left > area.right || one.bottom < area.top || one.top > area.bottom,
      );
      if (!isFree || area.left < this.#left || area.right > this.#right) continue;
      this.#taken.push(area);
      return label(at, base, words, look, anchor);
    }
    return undefined;
  }
}

/** Part of a page: each numbered point is a link to its row. */
export function frontFigure(chosen: Chosen, toRow: ToRow): Markup | undefined {
  const drawn = (['wide', 'narrow'] as const).flatMap((size) => {
    const chart = frontChart(chosen, size, toRow);
    return chart ? [{ size, chart }] : [];
  });
  const [first] = drawn;
  if (!first) return undefined;
  const further = chosen.preferences.length > 2 ? ` (of ${chosen.preferences.length} preferences the first two)` : '';
  const pictures = drawn.map(
    ({ size, chart: { width, height, title, body } }) =>
      markup`<div class="${size}"><svg class="chart" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="group" aria-label="${title}">${body}</svg></div>`,
  );
  return markup`<figure><figcaption>${first.chart.title}${further}</figcaption>${pictures}</figure>`;
}

/** With its own colours and paper, for a page that has none: light and dark, and for the reader's contrast. */
export function frontPicture(chosen: Chosen): string | undefined {
  const chart = frontChart(chosen, 'wide');
  if (!chart) return undefined;
  const style = `${CHART_COLOURS}${CHART_STYLE}.paper { fill: var(--paper); }
@media (prefers-contrast: more) { :root, svg { --quiet: var(--ink); --hair: var(--ink); } }`;
  const { width, height, body, title } = chart;
  const paper = markup`<style>${style}</style><rect class="paper" width="${width}" height="${height}"/>`;
  return svg({ ...chart, title: `${chosen.name}: ${title}`, body: markup`${paper}${body}` }, 'front').toString();
}
