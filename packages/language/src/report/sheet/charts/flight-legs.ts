/** Charge and volts over a flight in legs, one above the other, with the legs as bands. */
import { scaleLinear } from 'd3-scale';
import { line } from 'd3-shape';
import { formatHundredths, formatShare, formatValue } from '../../../units/print.ts';
import type { DrawnMoment, FlightData } from '../../flights/flight-data.ts';
import { type Box, type Chart, frame, label, mark, path } from '../../present/chart.ts';
import { type Markup, markup } from '../../present/markup.ts';

const WIDTH = 430;
const HEIGHT = 330;
const CHARGE: Box = { left: 44, right: 400, top: 46, bottom: 162 };
const VOLTS: Box = { left: 44, right: 400, top: 200, bottom: 292 };
const MINUTE = 60;
/** Bands narrower than this get no number. */
const NARROW = 12;

/** @param id unique on the page */
export function flightLegsChart(pack: string, { name, moments, legs, floor, turnBack }: FlightData): Chart | undefined {
  const last = moments.at(-1);
  if (!last || last.time === 0) return undefined;
  const x = scaleLinear()
    .domain([0, last.time / MINUTE])
    .range([CHARGE.left, CHARGE.right]);
  const xOf = ({ time }: Pick<DrawnMoment, 'time'>) => x(time / MINUTE);
  const charge = scaleLinear()
    .domain([Math.min(0, 100 * last.charge), 100])
    .range([CHARGE.bottom, CHARGE.top]);
  const read = moments.flatMap(({ cellVoltage }) => cellVoltage ?? []);
  const volts = scaleLinear()
    .domain([Math.min(...read) - 0.03, Math.max(...read) + 0.03])
    .range([VOLTS.bottom, VOLTS.top]);
  const curve = (of: readonly DrawnMoment[], y: (moment: DrawnMoment) => number) =>
    line<DrawnMoment>(xOf, y).digits(1)(of);
  const fed = moments.filter(({ cellVoltage }) => cellVoltage !== undefined);
  const ofLeg = (leg: number) => fed.filter((moment) => moment.leg === leg);
  const turned = turnBack && turnBack.time.value <= last.time ? turnBack : undefined;
  const at = turned && x(turned.time.value / MINUTE);
  return {
    width: WIDTH,
    height: HEIGHT,
    title: `${name} on ${pack}: charge and volts over the flight`,
    description: legs
      .map(({ text, charge: used, cellVoltage }, i) =>
        used === undefined
          ? `leg ${i + 1}, ${text}`
          : `after leg ${i + 1}, ${text}, ${formatValue(used.value, 'mAh')} are used${cellVoltage ? ` and a cell reads ${formatHundredths(cellVoltage.value)} V` : ''}`,
      )
      .join('; '),
    body: markup`${bands(moments, xOf)}${frame(
      CHARGE,
      { scale: x, label: '', ticks: 0 },
      { scale: charge, label: '% of the charge left', ticks: 5, raised: 16 },
    )}${frame(VOLTS, { scale: x, label: 'minutes from take-off', ticks: 6 }, { scale: volts, label: 'V per cell, in the air', ticks: 5 })}${
      floor === undefined
        ? undefined
        : markup`<line class="limit dashed" x1="${CHARGE.left}" x2="${CHARGE.right}" y1="${charge(100 * floor)}" y2="${charge(100 * floor)}"/>${label(CHARGE.left + 4, charge(100 * floor) - 5, `${formatShare(floor)} to be left`, 'halo')}`
    }${
      at === undefined
        ? undefined
        : markup`<line class="axis dotted" x1="${at}" x2="${at}" y1="${CHARGE.top}" y2="${VOLTS.bottom}"/>${label(Math.min(at, CHARGE.right - 30), CHARGE.top - 4, 'turn back', 'quiet', 'middle')}`
    }${path(
      curve(moments, (moment) => charge(100 * moment.charge)),
      'a0',
    )}${legs.map((_, leg) =>
      path(
        curve(ofLeg(leg), (moment) => volts(moment.cellVoltage ?? 0)),
        'a1',
      ),
    )}${mark('disc', xOf(last), charge(100 * last.charge), 'f0')}${label(xOf(last) - 8, charge(100 * last.charge) - 8, formatShare(last.charge), 'strong halo', 'end')}`,
  };
}

/** Every second leg is shaded; its number is at the foot of the upper picture. */
function bands(moments: readonly DrawnMoment[], xOf: (moment: DrawnMoment) => number): Markup[] {
  const flown = [...new Set(moments.map(({ leg }) => leg))];
  return flown.map((leg, i) => {
    const own = moments.filter((moment) => moment.leg === leg);
    const [first, last] = [own[0], own.at(-1)];
    if (!first || !last) return markup``;
    const [left, right] = [xOf(first), xOf(last)];
    const shade =
      i % 2 === 0
        ? markup`<rect class="room" x="${left}" y="${CHARGE.top}" width="${right - left}" height="${VOLTS.bottom - CHARGE.top}"/>`
        : undefined;
    const number =
      right - left < NARROW ? undefined : label((left + right) / 2, CHARGE.bottom - 6, leg + 1, 'quiet', 'middle');
    return markup`${shade}${number}`;
  });
}
