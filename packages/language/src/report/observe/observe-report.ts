/** An observed log for a terminal or a program. */
import type { Compared } from '../../analysis/log/comparison.ts';
import { displayUnit, formatPlusMinus, formatValue } from '../../units/print.ts';
import { endsIn } from '../formats/json.ts';
import { columns } from '../present/display-width.ts';
import { jsonText } from '../present/json-text.ts';
import { differs, foundWords, tooFullWords } from './found-words.ts';
import type { Level, ObserveData } from './observe-data.ts';

export function observeText(data: ObserveData): string {
  const { build, pack, title, log, compared, volts, taught, setAside } = data;
  const rows = compared.map(({ words, unit, measured, predicted, plusMinus }) => [
    `  ${words}`,
    formatValue(measured, unit),
    formatPlusMinus(predicted, plusMinus, unit),
  ]);
  const results = taught.map(({ label, unit, before, after }) => [
    `  ${label}`,
    formatPlusMinus(before.value, before.plusMinus, unit),
    formatPlusMinus(after.value, after.plusMinus, unit),
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
    ...(output !== undefined && { output: inUnit(output, '%') }),
    ...(speed !== undefined && { speed: inUnit(speed, 'rpm') }),
    ...(used !== undefined && { used: inUnit(used, 'mAh') }),
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
      ...(charge && { charge: { inAir: inUnit(charge.inAir, 'mAh'), whole: inUnit(charge.whole, 'mAh') } }),
      ...(power !== undefined && { power: tidy(power) }),
      steady: steady.map((one) => ({ kind: one.kind, ...averages(one) })),
      bursts: bursts.map(averages),
      ...(sag && { sag: { resistance: inUnit(sag.resistance, 'mohm'), plusMinus: inUnit(2 * sag.error, 'mohm') } }),
      ...(airTemperature !== undefined && { airTemperature: inUnit(airTemperature, 'degC') }),
      ...(packTemperature !== undefined && { packTemperature: inUnit(packTemperature, 'degC') }),
      ...(tooFull && { cellTooFull: tidy(tooFull.cell) }),
    },
    compared: compared.map((one) => ({
      reading: one.reading,
      label: one.words,
      unit: one.unit,
      readings: one.count,
      measured: inUnit(one.measured, one.unit),
      predicted: levelIn(levelOf(one), one.unit),
    })),
    ...(volts !== undefined && { voltageDifference: { value: tidy(100 * volts), unit: '%' } }),
    results: taught.map(({ name, label, unit, before, after }) => ({
      name,
      label,
      unit,
      before: levelIn(before, unit),
      after: levelIn(after, unit),
    })),
    ...(setAside.length > 0 && { setAside }),
    block,
    ...(written !== undefined && { written }),
  });
}

const levelOf = ({ predicted, plusMinus }: Compared): Level => ({ value: predicted, plusMinus });

const inUnit = (si: number, unit: string): number => tidy(displayUnit(unit).fromSI(si));

function levelIn({ value, plusMinus }: Level, unit: string) {
  const known = displayUnit(unit);
  return {
    value: tidy(known.fromSI(value)),
    plusMinus: tidy(known.fromSI(plusMinus) - known.fromSI(0)),
    ...endsIn(known, value, plusMinus),
  };
}

const tidy = (value: number): number => Number(value.toPrecision(7));
