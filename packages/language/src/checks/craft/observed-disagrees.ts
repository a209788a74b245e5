/** What was observed lies outside what was predicted for it. */
import { learntOn } from '../../analysis/assess.ts';
import type { Learnt, LearntLine } from '../../analysis/assessment.ts';
import { agedOf, packOverDays } from '../../analysis/learn/ageing.ts';
import type { Reading } from '../../analysis/learn/flight-readings.ts';
import type { LogReading } from '../../analysis/learn/log-readings.ts';
import { overfull } from '../../analysis/learn/observed-lines.ts';
import { suspectOf } from '../../analysis/learn/taught.ts';
import { flightIn } from '../../analysis/log/flight-in-log.ts';
import { COVERAGE, standardUncertainty } from '../../analysis/uncertainty/estimate.ts';
import type { Observation, PackOption } from '../../model/build.ts';
import { formatPlusMinus } from '../../units/print.ts';
import type { BuildSubject, Check, Draft } from '../check.ts';
import { exactNumber, formatEstimate, formatExact, number } from '../shared/finding-numbers.ts';
import { isOwnLine, likeliestWrong, type Observed, observedOn } from '../shared/observations.ts';
import { THRESHOLDS } from '../thresholds.ts';

export const observedDisagrees: Check = {
  id: 'observed-disagrees',
  atMost: 'warning',
  build: findDisagreement,
  page: {
    title: 'What was observed contradicts what else is known',
    cause:
      'A line was misread or mistyped, a figure of a part is wrong, or the craft was not flown as described. Until it is found, the other numbers of this build are in doubt as well: where measurements contradict each other, each ± grows until it includes both sides.',
    criterion:
      'an observed line lies more than three standard deviations off what the fit makes of it without this line (by residual over sd·√(1 − leverage), and where that is past 3 by a fit without it; 3.3 where twenty were measured, for of many one lies far off by chance): warning, the likeliest line alone, with the one figure of a part, an instrument or the day that would explain it best (score test) and what it would have to be; if the charger put back more than the pack stores, only that is reported. A bell that is hotter than its winding should be by more than both ± (k = 2): warning.',
    standing:
      'Three standard deviations: in simulated craft a current 30 % off is found and rightly named, and healthy craft stay quiet (ours).',
    remedy: 'Read the line again; then look at the likely causes that the message lists, and measure the part.',
    fails: `build Puzzling like Healthy {
  observed "second flight" with Mast900_4S {
    hover_current: 9.5 A
  }
}`,
    passes: `build Expected like Healthy {
  observed "second flight" with Mast900_4S {
    hover_current: 4.6 A
  }
}`,
  },
};

/** What a line is called, and its likely causes. */
interface Words {
  readonly words: string;
  /** When more was observed. */
  readonly more: string;
  /** When less was. */
  readonly less: string;
}

const HARD_WORK = 'bent or wrong propellers, a dragging bearing, more weight, or a coefficient that is off';
const EASY_WORK = 'less weight, help from the ground or a wind, or a coefficient that is off';
const WEAK_PACK = 'a cold, worn or half-charged pack, a poor plug, or a resistance that is off';
const STRONG_PACK = 'a better pack than its figures state, or a burst that was too short';

const WORDS: Readonly<
  Record<Exclude<Reading, 'scale'> | Exclude<LogReading, 'logged_voltage' | 'sag' | 'rest_current'>, Words>
> = {
  rested_before: {
    words: 'resting voltage before take-off',
    more: 'cells of another chemistry than stated, or a recorder whose volts read high',
    less: 'a recorder whose volts read low, or a craft that did not rest',
  },
  flown_power: {
    words: 'mean power in the air',
    more: `${HARD_WORK}; it was flown harder than in hover`,
    less: EASY_WORK,
  },
  hover_current: { words: 'current in hover', more: HARD_WORK, less: EASY_WORK },
  put_back: {
    words: 'charge put back',
    more: `${HARD_WORK}; it did not only hover, or ran on the ground before`,
    less: `${EASY_WORK}; a pack that was not charged full`,
  },
  counted: {
    words: 'charge counted',
    more: 'a recorder whose amperes are off, or a flight longer than stated',
    less: 'a recorder whose amperes are off, or a flight shorter than stated',
  },
  hover_output: {
    words: 'output in hover',
    more: `${HARD_WORK}, or a lower kv; an output that is not the duty`,
    less: `${EASY_WORK}, or a higher kv; an output that is not the duty`,
  },
  hover_speed: {
    words: 'speed in hover',
    more: 'a wrong pole count, smaller or flatter propellers, or more weight',
    less: 'a wrong pole count, larger or steeper propellers, or less weight',
  },
  hover_voltage: {
    words: 'voltage in hover',
    more: 'another pack than stated, or a voltmeter that is off',
    less: 'another pack than stated, one that was flown past its reserve, or a voltmeter that is off',
  },
  burst_current: {
    words: 'current in a full burst',
    more: 'steeper propellers, a higher kv, or less resistance than assumed',
    less: 'a burst that was not full or too short, flatter propellers, or more resistance than assumed',
  },
  burst_voltage: { words: 'voltage in a full burst', more: STRONG_PACK, less: WEAK_PACK },
  burst_speed: {
    words: 'speed in a full burst',
    more: 'a wrong pole count, flatter propellers, or a higher kv',
    less: 'a wrong pole count, steeper propellers, a lower kv, or a weak pack',
  },
  rested: {
    words: 'resting voltage after landing',
    more: 'less charge used than the charger reports, or a larger pack than its label',
    less: 'a worn pack with less charge than its label, one that was not full at take-off, or a voltage read too soon',
  },
  cell_resistance: {
    words: 'resistance of a cell',
    more: 'a worn or cold pack, or a claimed rate that is a wish',
    less: 'a charger that shows another figure (of the group, or at another charge), or a better pack than it claims',
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
    message: `Observed: the charger put back ${formatExact(back.value, 'mAh')}; ${option.name} stores ${formatExact(capacity, 'mAh')}. One of the two figures is mistyped, or it was another pack.`,
    place: back.place ?? option.place,
    numbers: [exactNumber('put_back', back.value, 'mAh'), exactNumber('capacity', capacity, 'mAh')],
    related: label?.place ? [{ message: `stores ${formatExact(capacity, 'mAh')}`, place: label.place }] : [],
  };
}

/** A log that is not used is not passed over without a word. */
function logWithoutFlight({ title, log }: Observation): Draft[] {
  const found = log && flightIn(log);
  if (!log || !found || !('none' in found)) return [];
  return [
    {
      severity: 'information',
      message: `“${title}”: nothing is learnt from ${log.file}: ${found.none}.`,
      place: log.place,
      numbers: [],
      related: [],
    },
  ];
}

function* findDisagreement(subject: BuildSubject): Iterable<Draft> {
  yield* subject.build.observations.flatMap(logWithoutFlight);
  const observed = observedOn(subject);
  const overfull = observed.flatMap(
    ({ observation, predicted }) => moreThanItHolds(observation, predicted.option) ?? [],
  );
  yield* overfull;
  // What follows from it is not worth a word.
  if (overfull.length > 0) return;
  const worst = likeliestWrong(subject);
  if (worst && isOwnLine(subject.build, worst) && !isOfAge(subject, worst))
    yield* disagreement(worst, observed, learntOn(subject.build));
  for (const one of observed) yield* hotBell(one);
}

/** A pack that has aged is reported as that. */
function isOfAge({ build }: BuildSubject, { reading, value }: LearntLine): boolean {
  if (reading !== 'cell_resistance') return false;
  return build.packs.some(({ part }) => {
    const { first, last } = agedOf(packOverDays(build, part)) ?? {};
    return first && last && last.resistance >= THRESHOLDS.packAged.times * first.resistance && value > first.resistance;
  });
}

function* disagreement(line: LearntLine, observed: readonly Observed[], learnt: Learnt | undefined): Iterable<Draft> {
  const words = isReading(line.reading) ? WORDS[line.reading] : undefined;
  // The scale has a finding of its own, and rows of stands. The resistance of a pack differs as it warms up, and electronics are not
  // always listed: that is no slip.
  const { value, unit, from, isPlain, error, place, otherwise, otherwiseDeviation } = line;
  if (!words || otherwise === undefined) return;
  const more = value > otherwise;
  const plusMinus = COVERAGE * otherwiseDeviation * (isPlain ? 1 : otherwise);
  const difference = Math.abs(value - otherwise);
  yield {
    severity: 'warning',
    message: `“${from}”: ${words.words} ${formatExact(value, unit)} does not go with what else is known, which makes it ${formatPlusMinus(otherwise, plusMinus, unit)}. Likely causes: a slip in this line${suspected(line, learnt)}; ${more ? words.more : words.less}. ${learnt?.doubt ? 'Until that is settled, each ± includes both.' : 'Until that is settled, results rest on both and may lie outside their ±.'}`,
    place,
    numbers: [
      {
        name: 'difference',
        value: difference,
        unit,
        plusMinus: COVERAGE * Math.hypot(otherwiseDeviation, error) * (isPlain ? 1 : otherwise),
      },
      { name: 'otherwise', value: otherwise, unit, plusMinus },
    ],
    related: observed
      .filter(({ observation }) => observation.id === line.source)
      .map(({ predicted: { option } }) => ({ message: `flown with ${option.name}`, place: option.place })),
  };
}

/** The one figure that would explain it best. */
function suspected(line: LearntLine, learnt: Learnt | undefined): string {
  const suspect = learnt && suspectOf(learnt, line);
  if (!suspect) return ', for no one figure would explain it';
  const { figure, value, plusMinus } = suspect;
  return `; by the fit, ${figure.label} (${formatPlusMinus(value, plusMinus, figure.unit)} in place of ${formatExact(figure.value, figure.unit)})`;
}

const isReading = (reading: string): reading is keyof typeof WORDS => Object.hasOwn(WORDS, reading);

/** A bell is never hotter than its winding; how much cooler it is cannot be known, so that nothing is learnt from it. */
function* hotBell({ observation, predicted }: Observed): Iterable<Draft> {
  const bell = observation.part.declared('motor_temperature');
  const winding = predicted.results.get('motor_temperature')?.estimate;
  if (!bell || !winding) return;
  const difference = bell.value - winding.value;
  const plusMinus = COVERAGE * Math.hypot(bell.standardUncertainty, standardUncertainty(winding));
  if (difference <= plusMinus) return;
  yield {
    severity: 'warning',
    message: `“${observation.title}”: bell after landing ${formatExact(bell.value, 'degC')}; predicted for the winding: ${formatEstimate(winding, 'degC')}. Likely causes: a flight harder than described, poor cooling, or a wrong thermal resistance.`,
    place: bell.place ?? observation.place,
    numbers: [{ name: 'difference', value: difference, unit: 'degC', plusMinus }, number('predicted', winding, 'degC')],
    related: [{ message: `flown with ${predicted.option.name}`, place: predicted.option.place }],
  };
}
