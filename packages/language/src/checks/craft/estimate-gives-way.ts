/** What was measured moves a figure farther than its ±. */
import { learntOn } from '../../analysis/assess.ts';
import type { LearntLine, StandPower } from '../../analysis/assessment.ts';
import { readingPlusMinus } from '../../analysis/learn/scene.ts';
import { FARTHER, type GivingWay, givingWay } from '../../analysis/learn/taught.ts';
import type { Measurable } from '../../analysis/uncertainty/estimate.ts';
import { formatMeasurable } from '../../analysis/uncertainty/print-estimate.ts';
import { spreadOf } from '../../analysis/uncertainty/spread.ts';
import type { Build } from '../../model/build.ts';
import { type Nameable, namedByLabel } from '../../model/named.ts';
import type { Place } from '../../syntax/place.ts';
import { plusMinusOf } from '../../units/interval.ts';
import { formatLogarithmic } from '../../units/print.ts';
import type { BuildSubject, Check, Draft } from '../check.ts';
import { exactNumber, percent } from '../shared/finding-numbers.ts';
import { agedPacks, isOfAge, isOwnLine, likeliestWrong } from '../shared/observations.ts';
import { THRESHOLDS } from '../thresholds.ts';

const { farLine } = THRESHOLDS.estimateGivesWay;

export const estimateGivesWay: Check = {
  id: 'estimate-gives-way',
  atMost: 'information',
  build: findGivingWay,
  page: {
    title: 'What was measured lies beyond the ± of what was stated or estimated',
    cause:
      'A part differs from its data sheet or from what its size suggests: a propeller takes more power, or a pack has more resistance. That is what measuring is for: the results follow what was measured.',
    criterion: `taken together, the lines that were measured put a figure of a part more than ${FARTHER} standard deviations off what is stated or estimated (of an estimate: by what it rests on, as it is known now), or the power that rows of a stand show for their thrust as far off what the figures make it, or one line lies more than ${farLine} off what the figures made it; and the measurements do not contradict each other: information, one per build.`,
    standing:
      'Beyond the ± that was shown before (k = 2); thresholds: ours. Rows with torque reveal every simulated propeller that is three standard deviations off its data sheet; without torque an efficient motor looks like a weak propeller, see [what is learnt](../learning.md).',
    remedy: 'Nothing. Write the figure into the part, where others who use it should know.',
    fixes: [],
    fails: `build Hungry like Healthy {
  observed "granary" with Mast900_4S {
    scale: 288 g
    airborne: 5 min
    put_back: 600 mAh
    hover_current: 7.2 A at 60 %
  }
}`,
    passes: `build Usual like Healthy {
  observed "granary" with Mast900_4S {
    scale: 288 g
    airborne: 5 min
    put_back: 325 mAh
    hover_current: 3.9 A at 60 %
  }
}`,
  },
};

function* findGivingWay({ build }: BuildSubject): Iterable<Draft> {
  const learnt = learntOn(build);
  // While measurements contradict each other nobody knows which is to be believed.
  if (!learnt || likeliestWrong({ build })) return;
  const own = learnt.lines.filter((line) => isOwnLine(build, line));
  if (own.length === 0) return;
  const ofAge = new Set(agedPacks(build).map(({ part }) => part.figure('cell_resistance')?.id));
  const figures = givingWay(learnt)
    .filter(({ figure }) => !ofAge.has(figure.id))
    .map((one) => ofFigure(one, build));
  const power = learnt.powers.find(
    ({ line, difference, deviation }) => isOwnLine(build, line) && Math.abs(difference) > FARTHER * deviation,
  );
  // Motor and propeller in one are worth a word where neither is known for itself.
  if (power && figures.length === 0) return yield ofPower(power, build);
  const [first, ...others] = [...figures, ...farLines(own.filter((line) => !isOfAge(build, line))).map(ofLine)];
  if (!first) return;
  const { label, names, now, before, unit, place, whence } = first;
  const isAlone = learnt.lines.filter(({ reading }) => reading !== 'scale').length === 1;
  yield {
    severity: 'information',
    message: `The measurements give ${label} ${formatKnown(now, unit)}, where ${whence} ${formatKnown(before, unit)}. ${isAlone ? 'The results follow that one reading, which nothing else that was measured confirms.' : 'The results follow what was measured.'}`,
    names,
    place: place ?? build.place,
    numbers: [
      { name: 'learnt', unit, ...now },
      { name: 'before', unit, value: before.value, plusMinus: before.plusMinus },
    ],
    related: [
      ...others.map((other) => ({
        message: `and ${other.label} ${formatKnown(other.now, other.unit)}, before ${formatKnown(other.before, other.unit)}`,
        place: other.place ?? build.place,
      })),
      ...own.slice(0, 1).map(({ from, place: measured }) => ({ message: `measured in “${from}”`, place: measured })),
    ],
  };
}

interface Known extends Measurable {
  readonly isLog?: true;
}

interface Reported {
  readonly label: string;
  /** What the label names. */
  readonly names: readonly Nameable[];
  readonly unit: string;
  readonly now: Known;
  readonly before: Known;
  readonly whence: string;
  readonly place: Place | undefined;
}

const formatKnown = (known: Known, unit: string): string =>
  known.isLog ? formatLogarithmic(known.value, known.plusMinus, unit) : formatMeasurable(known, unit);

const ofFigure = ({ figure, before, beforePlusMinus, value, plusMinus }: GivingWay, build: Build): Reported => ({
  label: figure.label,
  names: namedByLabel(build, figure),
  unit: figure.unit,
  now: { value, plusMinus },
  before: {
    value: before,
    plusMinus: beforePlusMinus,
    // Its error is normal in its logarithm: so are the ends beyond which it lies.
    ...(spreadOf(figure) === 'log' && { isLog: true }),
  },
  whence: figure.recompute
    ? 'by what else is known now the estimate would be'
    : figure.origin === 'estimated' || figure.origin === 'default'
      ? 'the estimate was'
      : figure.origin === 'measured'
        ? 'it was measured before as'
        : 'its data sheet states',
  place: figure.place,
});

const ofPower = ({ line, difference, deviation }: StandPower, build: Build): Draft => {
  const share = percent(Math.abs(Math.expm1(difference)));
  const more = difference > 0;
  return {
    severity: 'information',
    message: `On ${line.from} motor and propeller together take ${share} ${more ? 'more' : 'less'} power for their thrust and speed than the figures of the parts make it (known to ± ${percent(plusMinusOf(deviation))}): the propeller takes ${more ? 'more' : 'less'}, or the motor loses ${more ? 'more' : 'less'}; a column of torque would show which. The results follow what was measured.`,
    names: [],
    place: build.place,
    numbers: [exactNumber('difference', Math.expm1(difference), '%')],
    related: [{ message: `measured in “${line.from}”`, place: line.place }],
  };
};

const ofLine = ({ label, unit, value, error, isPlain, before = 0, beforeDeviation, place }: LearntLine): Reported => ({
  label,
  names: [],
  unit,
  now: { value, plusMinus: readingPlusMinus({ isPlain }, error, value) },
  before: { value: before, plusMinus: readingPlusMinus({ isPlain }, beforeDeviation, before) },
  whence: 'the figures of the parts made it',
  place,
});

function farLines(lines: readonly LearntLine[]): LearntLine[] {
  const far = ({ value, before, beforeDeviation, error, isPlain }: LearntLine): number => {
    if (before === undefined || before <= 0) return 0;
    const difference = isPlain ? value - before : Math.log(value / before);
    return Math.abs(difference) / Math.hypot(beforeDeviation, error);
  };
  return lines.filter((line) => line.reading !== 'scale' && far(line) > farLine).toSorted((a, b) => far(b) - far(a));
}
