/** What was found in a log, in a few sentences: for a terminal, a hover and a sheet. */

import { tooFull } from '../../analysis/learn/log-lines.ts';
import type { PackObserved } from '../../analysis/learn/observed-lines.ts';
import type { FlightInLog } from '../../analysis/log/flight-series.ts';
import { formatMeasurable } from '../../analysis/uncertainty/print-estimate.ts';
import { percent } from '../../checks/shared/finding-numbers.ts';
import { damageWords } from '../../model/log/recording.ts';
import { plusMinusOf } from '../../units/interval.ts';
import { formatValue } from '../../units/print.ts';
import { plural, upperFirst } from '../../vocabulary/phrasing.ts';

/** One sentence each. */
export function foundWords(flight: FlightInLog): string[] {
  const {
    airborne,
    legs,
    hops: parts,
    step,
    gaps,
    isCut,
    bursts,
    restBefore,
    restAfter,
    charge,
    power,
    sag,
    others,
  } = flight;
  const rate =
    step > 0 ? (step < 1 ? `${Math.round(1 / step)} readings per second` : `a reading every ${time(step)}`) : '';
  const hops = parts > 1 ? ` in ${parts} hops` : '';
  const { damaged } = flight.log.recording;
  const used = charge ? `, ${formatValue(charge.inAir, 'mAh')}` : '';
  const mean = power === undefined ? '' : `, ${formatValue(power, 'W')} on average`;
  const cut =
    isCut.before && isCut.after
      ? 'The log begins and ends in the air'
      : isCut.before
        ? 'The log begins in the air'
        : isCut.after
          ? 'The log ends in the air'
          : undefined;
  const [take, land] = [legs[0]?.from ?? 0, legs.at(-1)?.to ?? 0];
  const edges = [
    ...(isCut.before ? [] : [`take-off at ${moment(take, flight)}`]),
    ...(isCut.after ? [] : [`landing at ${moment(land, flight)}`]),
  ];
  return [
    `${time(airborne)} in the air${hops}${used}${mean}${rate === '' ? '' : `; ${rate}`}`,
    ...(edges.length > 0 ? [upperFirst(`${edges.join(', ')} of the log`)] : []),
    ...(cut ? [cut] : []),
    ...(gaps.count > 0 ? [`${plural(gaps.count, 'gap')}, the longest ${time(gaps.longest)}`] : []),
    steadyWords(flight),
    ...(bursts.length > 0 ? [`${upperFirst(plural(bursts.length, 'burst'))}, the strongest ${strongest(flight)}`] : []),
    ...(restBefore?.voltage === undefined ? [] : [`${formatValue(restBefore.voltage, 'V')} at rest before take-off`]),
    ...(restAfter?.voltage === undefined
      ? []
      : [`${formatValue(restAfter.voltage, 'V')} at rest, ${time(restAfter.after)} after landing`]),
    ...(sag
      ? [
          `Sag at equal charge: ${formatMeasurable({ value: sag.resistance, plusMinus: plusMinusOf(sag.error) }, 'mohm')}`,
        ]
      : []),
    ...warmthWords(flight),
    ...(damaged
      ? [
          `${upperFirst(plural(damaged.count, 'damaged row'))} left out, the first is line ${damaged.line}: ${damageWords(damaged.found)}`,
        ]
      : []),
    ...(others > 0 ? [`${upperFirst(plural(others, 'other flight'))} in the file, left alone`] : []),
  ].map((sentence) => `${sentence}.`);
}

function warmthWords({ airTemperature: air, packTemperature: pack }: FlightInLog): string[] {
  const words = [
    ...(air === undefined ? [] : [`air ${formatValue(air, 'degC')}`]),
    ...(pack === undefined ? [] : [`pack ${formatValue(pack, 'degC')} at take-off`]),
  ];
  return words.length === 0 ? [] : [upperFirst(words.join(', '))];
}

/** What is reported of the line of a pack that is fuller than its chemistry allows. */
export function tooFullWords(observed: PackObserved): string[] {
  const found = tooFull(observed);
  if (!found) return [];
  const [rests, full] = [formatValue(found.cell, 'V'), formatValue(found.full, 'V')];
  return [
    `At rest the log shows ${rests} per cell; ${observed.option.name} is declared with cells of ${full} when full. Are they high-voltage cells (chemistry: lihv), or do the recorder’s volts read high? The volts of this rest are left out.`,
  ];
}

function steadyWords({ steady }: FlightInLog): string {
  if (steady.length === 0) return 'No stretch is steady enough to be compared with hover';
  const seconds = (kind: string) =>
    steady.filter((one) => one.kind === kind).reduce((sum, { from, to }) => sum + to - from, 0);
  const kinds = (['hover', 'cruise', 'level'] as const).flatMap((kind) =>
    seconds(kind) > 0 ? [`${time(seconds(kind))} ${WORDS[kind]}`] : [],
  );
  return `Steady: ${kinds.join(', ')}`;
}

const WORDS = { hover: 'of hover', cruise: 'of cruise', level: 'of hover or slow cruise' };

function strongest({ bursts }: FlightInLog): string {
  const [first] = bursts;
  return [
    ...(first?.current === undefined ? [] : [formatValue(first.current, 'A')]),
    ...(first?.voltage === undefined ? [] : [`at ${formatValue(first.voltage, 'V')}`]),
    ...(first?.output === undefined ? [] : [`with ${formatValue(first.output, '%')} output`]),
  ].join(' ');
}

/** From the beginning of its own part of the log. */
const moment = (at: number, { log, legs }: FlightInLog): string => {
  const { runs, times } = log.recording;
  const run = runs.find(({ from, to }) => (times[from] ?? 0) <= (legs[0]?.from ?? 0) && at <= (times[to - 1] ?? 0));
  return time(at - (times[run?.from ?? 0] ?? 0));
};

export const differs = (share: number): string => (share < 0.005 ? 'less than 1 %' : percent(share));

/** `3 min 12 s`, `4.2 s` */
function time(seconds: number): string {
  if (seconds < 9.95) return `${Number(seconds.toFixed(1))} s`;
  const whole = Math.round(seconds);
  return whole < 60 ? `${whole} s` : `${Math.floor(whole / 60)} min${whole % 60 ? ` ${whole % 60} s` : ''}`;
}
