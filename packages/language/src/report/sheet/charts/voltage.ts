/** What the pilot reads through a flight, and when to be on the ground. */

import { scaleLinear } from 'd3-scale';
import { line } from 'd3-shape';
import type { CurveMoment, FlightCurve } from '../../../analysis/curves/flight-curve.ts';
import { formatHundredths, formatValue } from '../../../units/print.ts';
import { type Chart, frame, hatch, label, mark, path, spreadLabels } from '../../present/chart.ts';
import { markup } from '../../present/markup.ts';

const BOX = { left: 44, right: 330, top: 46, bottom: 262 } as const;
const WIDTH = 430;
const HEIGHT = 302;
const MINUTE = 60;

/** @param id unique on the page */
export function voltageChart(pack: string, flight: FlightCurve, id: string): Chart {
  const { moments, needs, landing, turnBack } = flight;
  const bursts = moments.filter(hasBurst);
  const lowest = Math.min(
    ...moments.map(({ hover, burst }) =>
      Math.min(hover ?? Number.POSITIVE_INFINITY, burst ?? Number.POSITIVE_INFINITY),
    ),
  );
  const highest = Math.max(...moments.map(({ resting }) => resting));
  const y = scaleLinear()
    .domain([Math.max(lowest - 0.05, 2.4), highest + 0.05])
    .range([BOX.bottom, BOX.top]);
  const end = (moments.at(-1)?.time ?? 0) / MINUTE;
  const x = scaleLinear().domain([0, end]).range([BOX.left, BOX.right]);
  const xOf = ({ time }: CurveMoment) => x(time / MINUTE);
  const drawn = <K extends 'resting' | 'hover' | 'burst'>(which: K, of: readonly CurveMoment[]) =>
    line<CurveMoment>(xOf, (moment) => y(Math.max(moment[which] ?? 0, y.domain()[0] ?? 0))).digits(1)(of);

  const last = moments.at(-1);
  const ends = [
    { text: 'at rest', at: last?.resting, shape: 'square', look: 'f2' },
    { text: 'in hover', at: last?.hover, shape: 'disc', look: 'f0' },
    { text: 'in a burst', at: bursts.at(-1)?.burst, shape: 'wedge', look: 'f1', of: bursts.at(-1) },
  ] as const;
  const places = spreadLabels(
    ends.map(({ at }) => y(Math.max(at ?? 0, y.domain()[0] ?? 0)) + 4),
    15,
    BOX.bottom,
  );
  const land = xOf(landing);
  const shown = needs.filter(({ voltage }) => voltage > (y.domain()[0] ?? 0) && voltage < (y.domain()[1] ?? 0));
  const body = markup`${hatch(`${id}-hatch`)}<rect class="room" x="${land}" y="${BOX.top}" width="${BOX.right - land}" height="${BOX.bottom - BOX.top}"/><rect fill="url(#${id}-hatch)" x="${land}" y="${BOX.top}" width="${BOX.right - land}" height="${BOX.bottom - BOX.top}"/>${frame(
    BOX,
    { scale: x, label: 'minutes in hover', ticks: 6 },
    { scale: y, label: 'V per cell, at the board', ticks: 6, raised: 16 },
  )}<line class="axis dotted" x1="${xOf(turnBack)}" x2="${xOf(turnBack)}" y1="${BOX.top}" y2="${BOX.bottom}"/>${label(xOf(turnBack), BOX.top - 4, 'turn back', 'quiet', 'middle')}<line class="limit" x1="${land}" x2="${land}" y1="${BOX.top}" y2="${BOX.bottom}"/>${label(land, BOX.top - 4, landing.hover === undefined ? 'land' : `land, ${volts(landing.hover)}`, 'strong', 'middle')}${path(drawn('resting', moments), 'a2 thin dotted')}${path(drawn('burst', bursts), 'a1 dashed')}${path(drawn('hover', moments), 'a0')}${shown.map(
    ({ load, voltage }) =>
      markup`<line class="limit dashed" x1="${BOX.left}" x2="${BOX.right}" y1="${y(voltage)}" y2="${y(voltage)}"/>${label(BOX.left + 4, y(voltage) - 5, `${load} needs ${formatValue(voltage, 'V')}`, 'halo')}`,
  )}${ends.map(({ text, at, shape, look }, i) =>
    at === undefined
      ? undefined
      : markup`${mark(shape, x(((text === 'in a burst' ? bursts.at(-1) : last)?.time ?? 0) / MINUTE), y(Math.max(at, y.domain()[0] ?? 0)), look)}${label(BOX.right + 10, places[i] ?? 0, text)}`,
  )}${[landing, turnBack].map((moment) => mark('disc', xOf(moment), y(moment.hover ?? 0), 'f0'))}`;
  return {
    width: WIDTH,
    height: HEIGHT,
    title: `Voltage through a flight on ${pack}`,
    description: [
      `In hover the voltage per cell is ${volts(moments[0]?.hover)} at take-off, ${volts(turnBack.hover)} where half of the usable charge is spent, and ${volts(landing.hover)} where to land, after ${formatValue(landing.time, 'min')} of hovering`,
      ...needs.map(({ load, voltage }) => `${load} needs ${volts(voltage)} per cell`),
    ].join('; '),
    body,
  };
}

const hasBurst = ({ burst }: CurveMoment): boolean => burst !== undefined;

const volts = (value: number | undefined): string => (value === undefined ? 'nothing' : `${formatHundredths(value)} V`);
