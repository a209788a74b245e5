/** An observed log for a terminal or a program. */
import type { ComparedStretches } from '../../analysis/log/comparison.ts';
import type { Measurable } from '../../analysis/uncertainty/estimate.ts';
import { formatMeasurable } from '../../analysis/uncertainty/print-estimate.ts';
import { plusMinusOf } from '../../units/interval.ts';
import { formatValue } from '../../units/print.ts';
import { columns } from '../present/display-width.ts';
import { differenceIn, levelIn, numberIn, tidy } from '../present/json-number.ts';
import { jsonText } from '../present/json-text.ts';
import { differs, foundWords, tooFullWords } from './found-words.ts';
import type { ObserveData } from './observe-data.ts';

export function observeText(data: ObserveData): string {
  const { build, pack, title, log, compared, volts, taught, setAside } = data;
  const rows = compared.map(({ words, unit, measured, predicted, plusMinus }) => [
    `  ${words}`,
    formatValue(measured, unit),
    formatMeasurable({ value: predicted, plusMinus }, unit),
  ]);
  const results = taught.map(({ label, unit, before, after }) => [
    `  ${label}`,
    formatMeasurable(before, unit),
    formatMeasurable(after, unit),
  ]);
  return [
    `${log}: ${build} on ${pack}, “${title}”\n`,
    foundWords(data.flight)
      .map((sentence) => `  ${sentence}\n`)
      .join(''),
    ...tooFullWords(data.observed).map((sentence) => `  ${sentence}\n`),
    '\n',
    columns([['', 'measured', 'predicted'], ...rows]),
    ...(volts === undefined
      ? []
      : [`  Voltage over the logged current: ${differs(volts)} from the prediction on average.\n`]),
    '\n',
    ...(setAside.length > 0
      ? setAside.map((sentence) => `  ${sentence}\n`)
      : [columns([['', 'before', 'with this log'], ...results])]),
  ].join('');
}

/** Numbers are in the unit stated with them; ± is expanded (k = 2); times in seconds of the log. */
export function observeJson(data: ObserveData, block: string, written: string | undefined): string {
  const { build, pack, title, log, flight, compared, volts, taught, tooFull, setAside } = data;
  const {
    whole,
    legs,
    isCut,
    airborne,
    restBefore,
    restAfter,
    charge,
    steady,
    bursts,
    sag,
    power,
    step,
    gaps,
    others,
    airTemperature,
    packTemperature,
  } = flight;
  const averages = ({ from, to, voltage, current, output, speed, used }: (typeof bursts)[number]) => ({
    from,
    to,
    ...(voltage !== undefined && { voltage: tidy(voltage) }),
    ...(current !== undefined && { current: tidy(current) }),
    ...(output !== undefined && { output: numberIn('%', output) }),
    ...(speed !== undefined && { speed: numberIn('rpm', speed) }),
    ...(used !== undefined && { used: numberIn('mAh', used) }),
  });
  return jsonText({
    version: 1,
    build,
    pack,
    title,
    log,
    found: {
      from: whole.from,
      to: whole.to,
      flights: legs,
      isCut,
      airborne: tidy(airborne),
      step: tidy(step),
      gaps,
      otherFlights: others,
      ...(restBefore && { restBefore: averages(restBefore) }),
      ...(restAfter && { restAfter: { ...averages(restAfter), after: tidy(restAfter.after) } }),
      ...(charge && { charge: { inAir: numberIn('mAh', charge.inAir), whole: numberIn('mAh', charge.whole) } }),
      ...(power !== undefined && { power: tidy(power) }),
      steady: steady.map((one) => ({ kind: one.kind, ...averages(one) })),
      bursts: bursts.map(averages),
      ...(sag && {
        sag: { resistance: numberIn('mohm', sag.resistance), plusMinus: differenceIn('mohm', plusMinusOf(sag.error)) },
      }),
      ...(airTemperature !== undefined && { airTemperature: numberIn('degC', airTemperature) }),
      ...(packTemperature !== undefined && { packTemperature: numberIn('degC', packTemperature) }),
      ...(tooFull && { cellTooFull: tidy(tooFull.cell) }),
    },
    compared: compared.map((one) => ({
      reading: one.reading,
      label: one.words,
      unit: one.unit,
      readings: one.count,
      measured: numberIn(one.unit, one.measured),
      predicted: levelIn(one.unit, levelOf(one)),
    })),
    ...(volts !== undefined && { voltageDifference: { value: tidy(100 * volts), unit: '%' } }),
    results: taught.map(({ name, label, unit, before, after }) => ({
      name,
      label,
      unit,
      before: levelIn(unit, before),
      after: levelIn(unit, after),
    })),
    ...(setAside.length > 0 && { setAside }),
    block,
    ...(written !== undefined && { written }),
  });
}

const levelOf = ({ predicted, plusMinus }: ComparedStretches): Measurable => ({ value: predicted, plusMinus });
