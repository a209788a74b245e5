/** How much of the rotors' shaking a mount passes on, over the speed at which they turn. */
import { scaleLinear } from 'd3-scale';
import { line } from 'd3-shape';
import type { MountCurve, MountPoint } from '../../../analysis/curves/mount-curve.ts';
import { formatMeasurable, type PrintedEstimate } from '../../../analysis/uncertainty/print-estimate.ts';
import { formatValue } from '../../../units/print.ts';
import { type Chart, frame, hatch, label, mark, path } from '../../present/chart.ts';
import { markup } from '../../present/markup.ts';

const BOX = { left: 44, right: 404, top: 34, bottom: 210 } as const;
const WIDTH = 430;
const HEIGHT = 250;
/** A lightly damped peak is cut: what matters is below. */
const MOST = 6;

/**
 * @param passedOn in hover, with its ±
 * @param id unique on the page
 */
export function shakeChart(pack: string, curveOfMount: MountCurve, passedOn: PrintedEstimate, id: string): Chart {
  const { points, hover, full, own, mount, load } = curveOfMount;
  const x = scaleLinear()
    .domain([0, points.at(-1)?.frequency ?? 1])
    .range([BOX.left, BOX.right]);
  const highest = Math.max(...points.map(({ transmissibility }) => transmissibility));
  const y = scaleLinear()
    .domain([0, Math.min(MOST, Math.max(1.2, 1.05 * highest))])
    .range([BOX.bottom, BOX.top]);
  const most = y.domain()[1] ?? MOST;
  const yOf = ({ transmissibility }: MountPoint) => y(Math.min(transmissibility, most));
  const curve = line<MountPoint>(({ frequency }) => x(frequency), yOf).digits(1)([...points]);
  const [from, to] = [x(hover.frequency), x((full ?? hover).frequency)];
  const used = markup`<rect class="room" x="${from}" y="${BOX.top}" width="${to - from}" height="${BOX.bottom - BOX.top}"/><rect fill="url(#${id}-hatch)" x="${from}" y="${BOX.top}" width="${to - from}" height="${BOX.bottom - BOX.top}"/>`;
  const upright = (at: number, look: string) =>
    markup`<line class="${look}" x1="${at}" x2="${at}" y1="${BOX.top}" y2="${BOX.bottom}"/>`;
  const axes = frame(
    BOX,
    { scale: x, label: 'vibration once per revolution, Hz', ticks: 6 },
    { scale: y, label: 'motion of the load over that of the frame', ticks: 5 },
  );
  const hovering = formatMeasurable(passedOn, '1');
  const isLate = from > (BOX.left + BOX.right) / 2;
  return {
    width: WIDTH,
    height: HEIGHT,
    title: `Vibration that ${mount} passes on to ${load}, on ${pack}`,
    description: [
      `Its natural frequency is ${formatValue(own.frequency, 'Hz')}`,
      `in hover, at ${formatValue(hover.frequency, 'Hz')}, it passes on ${hovering} times the vibration of the frame`,
      ...(full
        ? [`at full duty, at ${formatValue(full.frequency, 'Hz')}, ${formatValue(full.transmissibility, '1')} times`]
        : []),
    ].join('; '),
    body: markup`${hatch(`${id}-hatch`)}${used}${axes}<line class="limit dashed" x1="${BOX.left}" x2="${BOX.right}" y1="${y(1)}" y2="${y(1)}"/>${label(BOX.right - 4, y(1) - 5, 'as much as the frame', 'halo', 'end')}${upright(x(own.frequency), 'axis dotted')}${label(x(own.frequency) + 6, BOX.top + 12, `natural frequency ${formatValue(own.frequency, 'Hz')}`, 'quiet')}${path(curve, 'a0')}${mark('disc', from, yOf(hover), 'f0')}${label(from + (isLate ? -9 : 9), yOf(hover) - 9, `hover, ${hovering} ×`, 'strong halo', isLate ? 'end' : 'start')}${full ? mark('wedge', to, yOf(full), 'f1') : undefined}`,
  };
}
