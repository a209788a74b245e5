/** The voltage that was logged, and the one that the model gives for the logged current, one over the other. */
import { scaleLinear } from 'd3-scale';
import { line } from 'd3-shape';
import type { LoggedMoment } from '../../../analysis/log/comparison.ts';
import { differs } from '../../observe/found-words.ts';
import { type Chart, frame, label, mark, path, spreadLabels } from '../../present/chart.ts';
import { markup } from '../../present/markup.ts';
import type { SheetLog } from '../sheet-data.ts';

/** Drawn so that the writing is readable on a page of that width. */
export const LOGGED_WIDTHS = { wide: 880, narrow: 430 } as const;
const TOP = 30;
const BOTTOM = 240;
const LEFT = 44;
/** Room for names behind the lines. */
const NAMES = 110;
const HEIGHT = 280;
/** s; shorter flights are drawn in seconds. */
const SHORT = 90;

export function loggedVoltageChart({ title, pack, moments, cells, volts }: SheetLog, width: number): Chart | undefined {
  const box = { left: LEFT, right: width - NAMES, top: TOP, bottom: BOTTOM };
  const [first] = moments;
  const last = moments.at(-1);
  if (!first || !last) return undefined;
  const span = last.time - first.time;
  const unit = span < SHORT ? 1 : 60;
  const levels = moments.flatMap(({ logged, modelled }) => [logged / cells, modelled / cells]);
  const y = scaleLinear()
    .domain([Math.min(...levels) - 0.02, Math.max(...levels) + 0.02])
    .range([box.bottom, box.top]);
  const x = scaleLinear()
    .domain([first.time / unit, last.time / unit])
    .range([box.left, box.right]);
  const drawn = (which: 'logged' | 'modelled') =>
    line<LoggedMoment>(
      ({ time }) => x(time / unit),
      (moment) => y(moment[which] / cells),
    ).digits(1)(moments);
  const ends = [
    { text: 'logged', at: last.logged, shape: 'disc', look: 'f0' },
    { text: 'by the model', at: last.modelled, shape: 'wedge', look: 'f1' },
  ] as const;
  const places = spreadLabels(
    ends.map(({ at }) => y(at / cells) + 4),
    16,
    box.bottom,
  );
  return {
    width,
    height: HEIGHT,
    title: `Voltage in “${title}” on ${pack}`,
    description:
      volts === undefined
        ? 'The voltage that was logged, and the one that the model gives for the logged current'
        : `The voltage that the model gives for the logged current differs from the logged one by ${differs(volts)} on average`,
    body: markup`${frame(
      box,
      { scale: x, label: unit === 1 ? 's after take-off' : 'min after take-off', ticks: width > 600 ? 8 : 5 },
      { scale: y, label: 'V per cell', ticks: 6 },
    )}${path(drawn('logged'), 'a0')}${path(drawn('modelled'), 'a1 dashed thin')}${ends.map(
      ({ text, at, shape, look }, i) =>
        markup`${mark(shape, x(last.time / unit), y(at / cells), look)}${label(box.right + 10, places[i] ?? 0, text)}`,
    )}`,
  };
}
