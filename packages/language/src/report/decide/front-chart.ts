/** The front as a picture: two preferences across and up, every candidate that passes, those of the front with their numbers. */
import { extent } from 'd3-array';
import { scaleLinear } from 'd3-scale';
import { displayUnit, formatValue } from '../../units/print.ts';
import { type Markup, markup } from '../present/markup.ts';
import { type Box, CHART_COLOURS, CHART_STYLE, type Chart, frame, label, mark, svg } from '../sheet/charts/chart.ts';
import type { Chosen } from './choice.ts';

const WIDTH = 560;
const HEIGHT = 340;
const BOX: Box = { left: 52, right: 536, top: 30, bottom: 284 };
/** Of what is shown, so that no mark lies on an axis. */
const ROOM = 0.08;

/** Undefined where fewer than two figures are preferred, or no candidate passes. */
function frontChart(chosen: Chosen): Chart | undefined {
  const { preferences, rows, cloud, today } = chosen;
  const [across, up] = preferences;
  if (!across || !up || rows.length === 0) return undefined;
  const shown = (value: number, unit: string) => displayUnit(unit).fromSI(value);
  const pointOf = (values: readonly (number | undefined)[]) => {
    const [x, y] = values;
    return x === undefined || y === undefined ? undefined : [shown(x, across.unit), shown(y, up.unit)];
  };
  const all = cloud.flatMap((values) => [pointOf(values) ?? []]).filter((point) => point.length > 0);
  const now = pointOf(today.values.map(({ level }) => level?.value));
  const best = rows.map((row) => ({ row, point: pointOf(row.values.map(({ level }) => level?.value)) }));
  const points = [...all, ...best.flatMap(({ point }) => (point ? [point] : [])), ...(now ? [now] : [])];
  const scaleOf = (axis: 0 | 1, from: number, to: number) => {
    const [low = 0, high = 1] = extent(points, (point) => point[axis]);
    const room = (high - low || Math.abs(high) || 1) * ROOM;
    return scaleLinear([low - room, high + room], [from, to]);
  };
  const [x, y] = [scaleOf(0, BOX.left, BOX.right), scaleOf(1, BOX.bottom, BOX.top)];
  const at = ([px = 0, py = 0]: readonly number[]) => [x(px), y(py)] as const;
  const named = (of: { label: string; unit: string; isMoreBetter: boolean }) =>
    `${of.label}${of.unit ? `, ${of.unit}` : ''} (${of.isMoreBetter ? 'more' : 'less'} is better)`;
  const hasRoom = roomKeeper();
  const marks: Markup[] = [
    ...all.map((point) => mark('disc', ...at(point), 'f5 soft')),
    ...(now ? [mark('wedge', ...at(now), 'f1'), label(at(now)[0] + 8, at(now)[1] - 6, 'today', 'halo quiet')] : []),
    ...best.flatMap(({ row, point }) =>
      point
        ? [
            mark('square', ...at(point), 'f0'),
            ...(hasRoom(at(point)) ? [label(at(point)[0] + 8, at(point)[1] + 4, String(row.rank), 'halo strong')] : []),
          ]
        : [],
    ),
  ];
  const reported = rows.map(
    (row) =>
      `${row.rank}: ${row.label}, ${preferences.map(({ label: of, unit }, i) => `${of} ${formatValue(row.values[i]?.level?.value ?? Number.NaN, unit)}`).join(', ')}`,
  );
  return {
    width: WIDTH,
    height: HEIGHT,
    title: `${chosen.name}: ${across.label} against ${up.label}`,
    description: reported.join('; '),
    body: markup`${frame(BOX, { scale: x, label: named(across), ticks: 6 }, { scale: y, label: named(up), ticks: 5 })}${marks}`,
  };
}

/** Numbers that would lie on others are left out: the table next to the picture has them all. */
function roomKeeper(): (at: readonly [number, number]) => boolean {
  const taken: (readonly [number, number])[] = [];
  return ([x, y]) => {
    if (taken.some(([otherX, otherY]) => Math.abs(x - otherX) < LABEL.width && Math.abs(y - otherY) < LABEL.height))
      return false;
    taken.push([x, y]);
    return true;
  };
}

const LABEL = { width: 26, height: 14 };

/** With its own colours and paper, for a page that has none: light and dark, and for the reader's contrast. */
export function frontPicture(chosen: Chosen): string | undefined {
  const chart = frontChart(chosen);
  if (!chart) return undefined;
  const style = `${CHART_COLOURS}${CHART_STYLE}.paper { fill: var(--paper); }
@media (prefers-contrast: more) { :root, svg { --quiet: var(--ink); --hair: var(--ink); } }`;
  const { width, height, body } = chart;
  const paper = markup`<style>${style}</style><rect class="paper" width="${width}" height="${height}"/>`;
  return svg({ ...chart, body: markup`${paper}${body}` }, 'front').toString();
}
