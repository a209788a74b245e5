/** What the charts share: a frame with axes, marks that differ by shape and not by colour alone, and the look of it all. */
import type { ScaleLinear } from 'd3-scale';
import { type Content, Markup, markup } from './markup.ts';

export interface Chart {
  readonly width: number;
  readonly height: number;
  /** What it shows, and what can be read from it in words: for those who do not see it. */
  readonly title: string;
  readonly description: string;
  readonly body: Markup;
}

/** Ids must be unique on a page. */
export function svg({ width, height, title, description, body }: Chart, id: string): Markup {
  return markup`<svg class="chart" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="img" aria-labelledby="${id}-title ${id}-text"><title id="${id}-title">${title}</title><desc id="${id}-text">${description}</desc>${body}</svg>`;
}

export interface Box {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

export interface Axis {
  readonly scale: ScaleLinear<number, number>;
  readonly label: string;
  readonly ticks: number;
  /** How much higher its words are, where something else is written at the axis' end. */
  readonly raised?: number;
}

/** Grid lines with their numbers; labels are at the axes' ends, never turned. */
export function frame({ left, right, top, bottom }: Box, x: Axis, y: Axis): Markup {
  const [showX, showY] = [x.scale.tickFormat(x.ticks), y.scale.tickFormat(y.ticks)];
  const horizontal = y.scale.ticks(y.ticks).map((value) => {
    const at = y.scale(value);
    return markup`<line class="grid" x1="${left}" x2="${right}" y1="${at}" y2="${at}"/><text class="tick" x="${left - 6}" y="${at + 4}" text-anchor="end">${showY(value)}</text>`;
  });
  const vertical = x.scale.ticks(x.ticks).map((value) => {
    const at = x.scale(value);
    return markup`<line class="axis" x1="${at}" x2="${at}" y1="${bottom}" y2="${bottom + 4}"/><text class="tick" x="${at}" y="${bottom + 17}" text-anchor="middle">${showX(value)}</text>`;
  });
  return markup`${horizontal}<line class="axis" x1="${left}" x2="${right}" y1="${bottom}" y2="${bottom}"/>${vertical}<text class="unit" x="${left - 28}" y="${top - 10 - (y.raised ?? 0)}">${y.label}</text><text class="unit" x="${right}" y="${bottom + 33}" text-anchor="end">${x.label}</text>`;
}

export type MarkShape = 'disc' | 'square' | 'wedge';

export function mark(shape: MarkShape, x: number, y: number, look: string): Markup {
  switch (shape) {
    case 'disc':
      return markup`<circle class="mark ${look}" cx="${x}" cy="${y}" r="4.5"/>`;
    case 'square':
      return markup`<rect class="mark ${look}" x="${x - 4}" y="${y - 4}" width="8" height="8"/>`;
    case 'wedge':
      return markup`<path class="mark ${look}" d="M${x - 5},${y - 4}h10l-5,9z"/>`;
  }
}

export const path = (line: string | null, look: string): Markup =>
  markup`<path class="line ${look}" d="${new Markup(line ?? '')}"/>`;

export const label = (x: number, y: number, text: Content, look = '', anchor: 'start' | 'middle' | 'end' = 'start') =>
  markup`<text class="label ${look}" x="${x}" y="${y}" text-anchor="${anchor}">${text}</text>`;

/** At most, of a text at the charts' size. */
export const textWidth = (text: string): number => text.length * 7;

/** What of a text fits into so much room, its end replaced by dots. */
export function fitting(text: string, room: number): string {
  const letters = Math.max(1, Math.floor(room / textWidth('x')) - 1);
  return textWidth(text) <= room ? text : `${[...text].slice(0, letters).join('')}…`;
}

/** Labels pushed apart so that none covers another; in the order given by where each would like to be. */
export function spreadLabels(wanted: readonly number[], gap: number, lowest: number): number[] {
  const order = wanted.map((_, i) => i).sort((a, b) => (wanted[a] ?? 0) - (wanted[b] ?? 0));
  const placed = [...wanted];
  let free = Number.NEGATIVE_INFINITY;
  for (const i of order) {
    placed[i] = Math.max(wanted[i] ?? 0, free);
    free = (placed[i] ?? 0) + gap;
  }
  let limit = lowest;
  for (const i of order.toReversed()) {
    placed[i] = Math.min(placed[i] ?? 0, limit);
    limit = (placed[i] ?? 0) - gap;
  }
  return placed;
}

/** Colours after M. Okabe and K. Ito, Color Universal Design (2008), distinguished with every kind of colour vision. */
export const CHART_COLOURS = `
:root, svg { --paper: #fcfbf8; --ink: #1c2430; --quiet: #5b6472; --hair: #d9d7cf; --fill: #efece3;
  --c0: #0072b2; --c1: #d55e00; --c2: #00795a; --c3: #96619b; --c4: #8a6d00; --c5: #3a7ca5; --alarm: #b34700; }
@media (prefers-color-scheme: dark) { :root, svg { --paper: #15191f; --ink: #e8e6df; --quiet: #a3abb8; --hair: #363d48; --fill: #222933;
  --c0: #56b4e9; --c1: #ff9452; --c2: #3cc79f; --c3: #d79fd0; --c4: #e3c44a; --c5: #8fc6e8; --alarm: #ff9452; } }
@media print { :root, svg { --paper: #fff; --ink: #000; --quiet: #444; --hair: #bbb; --fill: #eee;
  --c0: #0072b2; --c1: #d55e00; --c2: #00795a; --c3: #96619b; --c4: #8a6d00; --c5: #3a7ca5; --alarm: #b34700; } }
@media (forced-colors: active) { :root, svg { --paper: Canvas; --ink: CanvasText; --quiet: CanvasText; --hair: color-mix(in srgb, CanvasText 35%, Canvas); --fill: Canvas; --alarm: CanvasText; } }
`;

/** Whoever shows charts gives the colours; series also differ by dash and mark, areas by hatching. */
export const CHART_STYLE = `
.chart text { font: 12px system-ui, sans-serif; fill: var(--ink); }
.chart .tick, .chart .unit { fill: var(--quiet); font-size: 11px; }
.chart .strong { font-weight: 650; }
.chart .halo { paint-order: stroke; stroke: var(--paper); stroke-width: 4px; stroke-linejoin: round; }
.chart .quiet { fill: var(--quiet); }
.chart .grid { stroke: var(--hair); stroke-width: 1; }
.chart .axis { stroke: var(--quiet); stroke-width: 1; }
.chart .line { fill: none; stroke-width: 2.2; stroke-linejoin: round; }
.chart .thin { stroke-width: 1.4; }
.chart .dashed { stroke-dasharray: 7 4; }
.chart .dotted { stroke-dasharray: 1.5 4; stroke-linecap: round; }
.chart .a0 { stroke: var(--c0); } .chart .a1 { stroke: var(--c1); } .chart .a2 { stroke: var(--c2); } .chart .a4 { stroke: var(--c4); }
.chart .mark { stroke: var(--paper); stroke-width: 1.5; }
.chart .f0 { fill: var(--c0); } .chart .f1 { fill: var(--c1); } .chart .f2 { fill: var(--c2); }
.chart .f3 { fill: var(--c3); } .chart .f4 { fill: var(--c4); } .chart .f5 { fill: var(--c5); }
.chart .soft { fill-opacity: 0.28; }
.chart .edge { stroke: var(--ink); stroke-opacity: 0.55; stroke-width: 1; }
.chart .hatch line { stroke: var(--ink); stroke-opacity: 0.3; stroke-width: 1.2; }
.chart .room { fill: var(--fill); }
.chart .whisker { stroke: var(--ink); stroke-width: 1.4; }
.chart .limit { stroke: var(--ink); stroke-width: 2; }
`;

/** Hatching by an id of its own page. */
export const hatch = (id: string): Markup =>
  markup`<defs><pattern id="${id}" class="hatch" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><line x1="0" y1="0" x2="0" y2="6"/></pattern></defs>`;
