/** What was observed lies outside what was predicted for it. */
import { learntOn } from '../../analysis/assess.ts';
import type { Learnt, LearntLine } from '../../analysis/assessment.ts';
import { disputedOf } from '../../analysis/learn/log-readings.ts';
import { afterLanding, conditionAt, overfull } from '../../analysis/learn/observed-lines.ts';
import { readingPlusMinus } from '../../analysis/learn/scene.ts';
import { suspectOf } from '../../analysis/learn/taught.ts';
import { flightIn } from '../../analysis/log/flight-in-log.ts';
import { standardUncertainty } from '../../analysis/uncertainty/estimate.ts';
import { formatEstimate, formatMeasurable } from '../../analysis/uncertainty/print-estimate.ts';
import type { Build, Observation, PackOption } from '../../model/build.ts';
import { namedByLabel } from '../../model/named.ts';
import { plusMinusOf } from '../../units/interval.ts';
import { upperFirst } from '../../vocabulary/phrasing.ts';
import type { BuildSubject, Check, Draft } from '../check.ts';
import { exactNumber, formatExact, number } from '../shared/finding-numbers.ts';
import { isOfAge, isOwnLine, likeliestWrong, type Observed, observedOn, type Wrong } from '../shared/observations.ts';

export const observedDisagrees: Check = {
  id: 'observed-disagrees',
  atMost: 'warning',
  build: findDisagreement,
  page: {
    title: 'What was observed contradicts what else is known',
    cause:
      'A line was misread or mistyped, a figure of a part is wrong, or the craft was not flown as described. Until it is found, the other numbers of this build are in doubt as well: where measurements contradict each other, each ± grows until it includes both sides.',
    criterion:
      'an observed line lies more than three standard deviations off what the fit makes of it without this line (by residual over sd·√(1 − leverage), and where that is past 3 by a fit without it; 3.3 where twenty were measured, for of many one lies far off by chance), and more than two off what the other measurements alone make of it: warning, the likeliest line alone, with the one figure of a part, an instrument or the day that would explain it best (score test) and what it would have to be. A flight or a stand as a whole, past the same bound against the other measurements, where none of its lines is: warning, the likelier of the two, or both where nothing shows which is right. What only the figures of the parts contradict is learnt, see [estimate-gives-way](estimate-gives-way.md); if the charger put back more than the pack stores, only that is reported. A reading in hover after a longer time than `airborne`: warning. A charge without `airborne`, or `airborne` without a charge, from which nothing is learnt: information. A bell that is hotter than its winding should be by more than both ± (k = 2): warning.',
    standing:
      'Three standard deviations: in simulated craft a current 30 % off is found and rightly named, and healthy craft stay quiet (ours).',
    remedy: 'Read the line again; then look at the likely causes that the message lists, and measure the part.',
    fixes: [],
    fails: `build Puzzling like Healthy {
  observed "first flight" with Mast900_4S {
    hover_current: 4.4 A at 60 %
    airborne: 5 min
    put_back: 370 mAh
  }
  observed "second flight" with Mast900_4S {
    hover_current: 9.5 A at 60 %
  }
}`,
    passes: `build Expected like Healthy {
  observed "second flight" with Mast900_4S {
    hover_current: 4.6 A
  }
}`,
  },
};

/** Whatever else was observed, this cannot be: what follows from it is not worth a word. */
function moreThanItHolds(observation: Observation, option: PackOption): Draft | undefined {
  const found = overfull(observation, option);
  if (!found) return undefined;
  const { back, capacity } = found;
  const label = option.part.figure('capacity');
  return {
    severity: 'warning',
    message: `Observed: the charger put back ${formatExact(back.value, 'mAh')}; ${option.name} stores ${formatExact(capacity, 'mAh')}. One of the two figures is mistyped, or it was another pack; nothing is learnt from this line.`,
    names: [option],
    place: back.place ?? option.place,
    numbers: [exactNumber('put_back', back.value, 'mAh'), exactNumber('capacity', capacity, 'mAh')],
    related: label?.place ? [{ message: `stores ${formatExact(capacity, 'mAh')}`, place: label.place }] : [],
  };
}

/** A log that is not used is not passed over without a word. */
function logWithoutFlight({ title, log }: Observation): Draft[] {
  const found = log && flightIn(log);
  // A table without rows is reported where its file is named.
  if (!log || !found || !('none' in found) || log.recording.rows === 0) return [];
  return [
    {
      severity: 'information',
      message: `“${title}”: nothing is learnt from ${log.file}: ${found.none}.`,
      names: [],
      place: log.place,
      numbers: [],
      related: [],
    },
  ];
}

/** A charge and the time that it lasted teach the power together only. */
function halfOfAPower({ title, part, log, place }: Observation): Draft[] {
  const [time, back, counted] = [part.declared('airborne'), part.declared('put_back'), part.declared('counted')];
  const charge = back ?? counted;
  // Two charges are compared with each other, and with the rest after them.
  if (log || (time && charge) || (!time && ((back && counted) || part.declared('rested')))) return [];
  const alone = time ?? charge;
  // The time limits after how long a reading can be taken.
  if (!alone || (time && conditionAt('hover', part, 'after'))) return [];
  const [half, lacks] = time
    ? ['the time in the air', 'the charge of that flight is not stated: `put_back: 640 mAh`']
    : [back ? 'the charge put back' : 'the charge counted', 'the time in the air is not stated: `airborne: 5 min`'];
  return [
    {
      severity: 'information',
      message: `“${title}”: nothing is learnt from ${half}: ${lacks}.`,
      names: [],
      place: alone.place ?? place,
      numbers: [],
      related: [],
    },
  ];
}

function readAfterLanding(observation: Observation): Draft[] {
  const { after, airborne } = afterLanding(observation) ?? {};
  if (!after || !airborne) return [];
  const [read, lasted] = [formatExact(after.value, 'min'), formatExact(airborne.value, 'min')];
  return [
    {
      severity: 'warning',
      message: `“${observation.title}”: read in hover after ${read}, and the flight lasted ${lasted}. One of the two times is mistyped; the reading counts as one at any charge.`,
      names: [],
      place: after.place ?? observation.place,
      numbers: [exactNumber('after', after.value, 'min'), exactNumber('airborne', airborne.value, 'min')],
      related: airborne.place ? [{ message: `lasted ${lasted}`, place: airborne.place }] : [],
    },
  ];
}

function* findDisagreement(subject: BuildSubject): Iterable<Draft> {
  yield* subject.build.observations.flatMap(logWithoutFlight);
  yield* subject.build.observations.flatMap(readAfterLanding);
  const observed = observedOn(subject);
  const overfull = observed.flatMap(
    ({ observation, predicted }) => moreThanItHolds(observation, predicted.option) ?? [],
  );
  yield* overfull;
  // What follows from it is not worth a word.
  if (overfull.length > 0) return;
  yield* subject.build.observations.flatMap(halfOfAPower);
  const wrong = likeliestWrong(subject);
  if (wrong && !isOfAge(subject.build, wrong.lines[0])) yield* disagreements(wrong, subject, observed);
  for (const one of observed) yield* hotBell(one);
}

function* disagreements(wrong: Wrong, { build }: BuildSubject, observed: readonly Observed[]): Iterable<Draft> {
  const { lines, rival, isWhole, isDecided } = wrong;
  const [line] = lines;
  const learnt = learntOn(build);
  // Of two sides that contradict each other either may be what this build's owner reads again.
  if (!isOwnLine(build, line) && !(rival && !isDecided && isOwnLine(build, rival))) return;
  const suspected = suspectedOf(build, line, learnt);
  if (isWhole) yield wholeAgainst(wrong, suspected, learnt);
  else if (rival && !isDecided && [line, rival].every(({ reading }) => disputedOf(reading)))
    yield eitherOf(line, rival, suspected, learnt);
  else yield* disagreement(line, observed, suspected, learnt);
}

const settledOnly = (learnt: Learnt | undefined): string =>
  learnt?.doubts.length
    ? 'Until that is settled, each ± includes both.'
    : 'Until that is settled, results rest on both and may lie outside their ±.';

/** Two lines, of which nothing else shows which is right. */
const eitherOf = (
  line: LearntLine,
  rival: LearntLine,
  { words = '', names }: Suspected,
  learnt: Learnt | undefined,
): Draft => ({
  severity: 'warning',
  message: `${upperFirst(readOff(line))} and ${readOff(rival)} contradict each other, and nothing else that was measured shows which is right. Likely causes: a slip in one of the two lines${words}; another pack, propeller or load than stated. ${settledOnly(learnt)}`,
  names,
  place: line.place,
  numbers: [exactNumber('read', line.value, line.unit), exactNumber('otherwise', rival.value, rival.unit)],
  related: [{ message: readOff(rival), place: rival.place }],
});

const readOff = ({ label, value, unit }: LearntLine): string => `${label} (${formatExact(value, unit)})`;

/** A flight or a stand of which no line is off far enough, but all of them together. */
function wholeAgainst(
  { lines: [line], rival, isDecided }: Wrong,
  { words = '', names }: Suspected,
  learnt: Learnt | undefined,
): Draft {
  const other = rival ? `“${rival.from}”` : 'the other measurements';
  const together = isDecided
    ? `“${line.from}” as a whole does not go with ${other}`
    : `“${line.from}” and ${other} contradict each other, and nothing else that was measured shows which is right`;
  const { otherwise = line.value, otherwiseDeviation } = line;
  const plusMinus = readingPlusMinus(line, otherwiseDeviation, otherwise);
  return {
    severity: 'warning',
    message: `${together}. Farthest off is ${readOff(line)}, which everything else makes ${formatMeasurable({ value: otherwise, plusMinus }, line.unit)}. Likely causes: another pack, propeller or load than stated, or an instrument that was set otherwise on that day${words}. ${settledOnly(learnt)}`,
    names,
    place: line.place,
    numbers: [
      exactNumber('read', line.value, line.unit),
      { name: 'otherwise', value: otherwise, unit: line.unit, plusMinus },
    ],
    related: rival ? [{ message: `measured in “${rival.from}”`, place: rival.place }] : [],
  };
}

function* disagreement(
  line: LearntLine,
  observed: readonly Observed[],
  { words = ', for no one figure would explain it', names }: Suspected,
  learnt: Learnt | undefined,
): Iterable<Draft> {
  const disputed = disputedOf(line.reading);
  // The resistance of a pack differs as it warms up, and electronics are not
  // always listed: that is no slip.
  const { value, unit, from, error, place, otherwise, otherwiseDeviation } = line;
  if (!disputed || otherwise === undefined) return;
  const more = value > otherwise;
  const plusMinus = readingPlusMinus(line, otherwiseDeviation, otherwise);
  const difference = Math.abs(value - otherwise);
  yield {
    severity: 'warning',
    message: `“${from}”: ${disputed.words} ${formatExact(value, unit)} does not go with what else is known, which makes it ${formatMeasurable({ value: otherwise, plusMinus }, unit)}. Likely causes: a slip in this line${words}; ${more ? disputed.more : disputed.less}. ${settledOnly(learnt)}`,
    names,
    place,
    numbers: [
      {
        name: 'difference',
        value: difference,
        unit,
        plusMinus: readingPlusMinus(line, Math.hypot(otherwiseDeviation, error), otherwise),
      },
      { name: 'otherwise', value: otherwise, unit, plusMinus },
    ],
    related: observed
      .filter(({ observation }) => observation.id === line.source)
      .map(({ predicted: { option } }) => ({ message: `flown with ${option.name}`, place: option.place })),
  };
}

/** The one figure that would explain it best; without words where none would. */
interface Suspected extends Pick<Draft, 'names'> {
  readonly words?: string;
}

function suspectedOf(build: Build, line: LearntLine, learnt: Learnt | undefined): Suspected {
  const suspect = learnt && suspectOf(learnt, line);
  if (!suspect) return { names: [] };
  const { figure } = suspect;
  const words = `; by the fit, ${figure.label} (${formatMeasurable(suspect, figure.unit)} in place of ${formatExact(figure.value, figure.unit)})`;
  return { words, names: namedByLabel(build, figure) };
}

/** A bell is never hotter than its winding; how much cooler it is cannot be known, so that nothing is learnt from it. */
function* hotBell({ observation, predicted }: Observed): Iterable<Draft> {
  const bell = observation.part.declared('motor_temperature');
  const winding = predicted.results.get('motor_temperature')?.estimate;
  if (!bell || !winding) return;
  const difference = bell.value - winding.value;
  const plusMinus = plusMinusOf(Math.hypot(bell.standardUncertainty, standardUncertainty(winding)));
  if (difference <= plusMinus) return;
  yield {
    severity: 'warning',
    message: `“${observation.title}”: bell after landing ${formatExact(bell.value, 'degC')}; predicted for the winding: ${formatEstimate(winding, 'degC')}. Likely causes: a flight harder than described, poor cooling, or a wrong thermal resistance.`,
    names: [],
    place: bell.place ?? observation.place,
    numbers: [{ name: 'difference', value: difference, unit: 'degC', plusMinus }, number('predicted', winding, 'degC')],
    related: [{ message: `flown with ${predicted.option.name}`, place: predicted.option.place }],
  };
}
