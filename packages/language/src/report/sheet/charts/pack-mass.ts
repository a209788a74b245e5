/** Minutes and thrust-to-weight if the pack were larger or smaller: two panels on one scale of grams. */
import { max } from 'd3-array';
import { scaleLinear } from 'd3-scale';
import { line } from 'd3-shape';
import type { SizedPack } from '../../../analysis/curves/pack-mass-curve.ts';
import type { PrintedEstimate } from '../../../analysis/uncertainty/print-estimate.ts';
import { interval } from '../../../units/interval.ts';
import { formatValue } from '../../../units/print.ts';
import { type Box, type Chart, frame, label, type MarkShape, mark, path } from '../../present/chart.ts';
import { type Markup, markup } from '../../present/markup.ts';
import type { SheetOption } from '../sheet-data.ts';

const WIDTH = 430;
const HEIGHT = 300;
const UPPER: Box = { left: 44, right: 420, top: 26, bottom: 130 };
const LOWER: Box = { left: 44, right: 420, top: 172, bottom: 262 };
const GRAM = 1e-3;
const MINUTE = 60;

/** Undefined where there is nothing to draw. */
export function packMassChart({
  packWords,
  sizes,
  packMass,
  hoverTime,
  thrustToWeight,
}: SheetOption): Chart | undefined {
  if (packMass === undefined || sizes.length === 0 || !sizes.some((size) => size.hoverTime > 0)) return undefined;
  const minutes = panel(UPPER, sizes, packMass, {
    of: (size) => size.hoverTime / MINUTE,
    now: hoverTime && scaled(hoverTime, 1 / MINUTE),
    label: 'minutes in hover',
    look: 0,
    shape: 'disc',
  });
  const lift = panel(LOWER, sizes, packMass, {
    of: (size) => size.thrustToWeight,
    now: thrustToWeight && scaled(thrustToWeight, 1),
    label: 'thrust-to-weight',
    look: 1,
    shape: 'wedge',
  });
  const best = sizes.reduce((a, b) => (b.hoverTime > a.hoverTime ? b : a));
  return {
    width: WIDTH,
    height: HEIGHT,
    title: `If ${packWords} were larger or smaller`,
    description: `Of its sizes, ${formatValue(best.packMass, 'g')} hovers longest, ${formatValue(best.hoverTime, 'min')}; now it weighs ${formatValue(packMass, 'g')}`,
    body: markup`${minutes}${lift}`,
  };
}

interface Drawn {
  readonly of: (size: SizedPack) => number | undefined;
  readonly now: { readonly value: number; readonly plusMinus: number } | undefined;
  readonly label: string;
  readonly look: 0 | 1;
  readonly shape: MarkShape;
}

const scaled = ({ value, plusMinus }: PrintedEstimate, factor: number) => ({
  value: value * factor,
  plusMinus: plusMinus * factor,
});

function panel(
  box: Box,
  sizes: readonly SizedPack[],
  packMass: number,
  { of, now, label: name, look, shape }: Drawn,
): Markup {
  const grams = sizes.map((size) => size.packMass / GRAM);
  const x = scaleLinear()
    .domain([grams[0] ?? 0, grams.at(-1) ?? 1])
    .range([box.left, box.right]);
  const known = sizes.filter((size) => of(size) !== undefined);
  const ends = now && interval(now.value, now.plusMinus);
  const top = Math.max(max(known, of) ?? 0, ends?.high ?? 0);
  const y = scaleLinear().domain([0, top]).nice(4).range([box.bottom, box.top]);
  const curve = line<SizedPack>(
    (size) => x(size.packMass / GRAM),
    (size) => y(of(size) ?? 0),
  ).digits(1)(known);
  const at = x(packMass / GRAM);
  const axes = frame(box, { scale: x, label: 'g of pack', ticks: 6 }, { scale: y, label: name, ticks: 4 });
  const standing =
    now && ends
      ? markup`<line class="whisker" x1="${at}" x2="${at}" y1="${y(Math.max(0, ends.low))}" y2="${y(ends.high)}"/>${mark(shape, at, y(now.value), `f${look}`)}${label(at + 9, y(now.value) - 9, 'now', 'strong halo')}`
      : undefined;
  return markup`${axes}${path(curve, look === 0 ? 'a0' : 'a1 dashed')}${standing}`;
}
