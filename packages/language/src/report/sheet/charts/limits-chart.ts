/** What flows as a share of what is allowed, each with its ±. */
import { scaleLinear } from 'd3-scale';
import type { Place } from '../../../syntax/place.ts';
import { interval } from '../../../units/interval.ts';
import { type Chart, fitting, hatch, label, textWidth } from '../../present/chart.ts';
import { limitPieces } from '../../present/limit-words.ts';
import { type Markup, markup } from '../../present/markup.ts';
import { type LimitLine, shareUsed } from '../sheet-limits.ts';
import { limitName, limitText } from '../sheet-words.ts';

const WIDTH = 430;
const LEFT = 8;
const RIGHT = 422;
const ROW = 42;
const TOP = 26;
/** Between a name and its numbers. */
const GAP = 12;
/** Beyond this a bar is cut. */
const MOST = 2.5;

/** Its part loses letters, its rating none. */
function shortened({ subject, part }: LimitLine, room: number): string {
  const { owner, rating } = limitPieces(subject, part);
  const end = rating === undefined ? '' : `, ${rating}`;
  return fitting(owner, room - textWidth(end)) + end;
}

/**
 * @param id unique on the page
 * @param wayTo an attribute for what leads to a place
 */
export function limitsChart(
  pack: string,
  limits: readonly LimitLine[],
  id: string,
  wayTo?: (place: Place) => Markup | undefined,
): Chart {
  const endsOf = (limit: LimitLine): [low: number, high: number] => {
    const { low, high } = interval(limit.flows.value, limit.flows.plusMinus);
    const ends = [shareUsed(limit, low), shareUsed(limit, high)];
    return [Math.min(...ends), Math.max(...ends)];
  };
  const shares = limits.map((limit) => endsOf(limit)[1]);
  const x = scaleLinear()
    .domain([0, Math.min(MOST, Math.max(1.15, ...shares))])
    .range([LEFT, RIGHT]);
  const clamped = (share: number) => x(Math.max(0, Math.min(share, x.domain()[1] ?? 1)));
  const bottom = TOP + limits.length * ROW;
  const rows = limits.map((limit, i) => {
    const top = TOP + i * ROW;
    const share = shareUsed(limit, limit.flows.value);
    const [low, high] = endsOf(limit);
    const isOver = share > 1;
    const middle = top + 26;
    const width = clamped(share) - LEFT;
    const [name, numbers] = [limitName(limit), limitText(limit)];
    const shown = shortened(limit, RIGHT - LEFT - textWidth(numbers) - GAP);
    return markup`<g${wayTo?.(limit.place)}>${shown === name ? undefined : markup`<title>${name}</title>`}${label(LEFT, top + 13, shown)}${label(RIGHT, top + 13, numbers, 'quiet', 'end')}<rect class="${isOver ? 'f1' : 'f0'} soft" x="${LEFT}" y="${top + 18}" width="${width}" height="16"/>${
      isOver
        ? markup`<rect fill="url(#${id}-hatch)" x="${LEFT}" y="${top + 18}" width="${width}" height="16"/>`
        : undefined
    }<rect class="edge" fill="none" x="${LEFT}" y="${top + 18}" width="${width}" height="16"/><line class="whisker" x1="${clamped(low)}" x2="${clamped(high)}" y1="${middle}" y2="${middle}"/><line class="whisker" x1="${clamped(low)}" x2="${clamped(low)}" y1="${middle - 4}" y2="${middle + 4}"/><line class="whisker" x1="${clamped(high)}" x2="${clamped(high)}" y1="${middle - 4}" y2="${middle + 4}"/><line class="limit" x1="${x(1)}" x2="${x(1)}" y1="${top + 17}" y2="${top + 37}"/></g>`;
  });
  return {
    width: WIDTH,
    height: bottom + 6,
    title: `What flows against what is allowed, on ${pack}`,
    description: limits.map((limit) => `${limitName(limit)}: ${limitText(limit)}`).join('; '),
    body: markup`${hatch(`${id}-hatch`)}${rows}${label(x(1), TOP - 11, 'the limit', 'strong', 'middle')}`,
  };
}
