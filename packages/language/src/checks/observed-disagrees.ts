/** What was observed lies outside what was predicted for it. */
import { ALIKE, errorOfLine } from '../analysis/calibration.ts';
import { packsInParallel } from '../analysis/craft.ts';
import { COVERAGE } from '../analysis/estimate.ts';
import { compare, type ObservedLine, type Reading } from '../analysis/observations.ts';
import type { Observation, PackOption } from '../model/build.ts';
import type { BuildSubject, Check, Draft } from './check.ts';
import { type Observed, observedOn } from './observations.ts';
import { exactNumber, number, say, sayExact } from './say.ts';

export const observedDisagrees: Check = {
  id: 'observed-disagrees',
  build: findDisagreement,
  page: {
    title: 'What was observed lies outside what was predicted',
    cause:
      'A figure of a part is wrong, the craft is not the one described, or it was not flown as described. Until it is found, the other numbers of this build are in doubt as well.',
    criterion:
      'an observed line and its prediction, with the observation’s pack and air, differ by more than both ± together (k = 2): warning, one an observation, with the line that lies farthest out first; more put back by the charger than the pack holds is told alone. Two observations of one thing that lie farther apart than two flights do: warning. Such a line teaches the build nothing; one that agrees moves what was guessed.',
    standing: 'JCGM 100 (the ± of a difference).',
    remedy: 'Look at the likely causes that the message names, and measure the part.',
    fails: `build Puzzling like Healthy {
  observed "second flight" with Mast900_4S {
    hover_current: 14 A
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
  /** When less was; none where less says nothing. */
  readonly less: string | undefined;
}

const HARD_WORK = 'bent or wrong propellers, a dragging bearing, more weight, or a coefficient that is off';
const EASY_WORK = 'less weight, help from the ground or a wind, or a coefficient that is off';
const WEAK_PACK = 'a cold, worn or half-charged pack, a poor plug, or a resistance that is off';
const STRONG_PACK = 'a better pack than its figures say, or a burst that was too short';

const WORDS: Readonly<Record<Reading, Words>> = {
  hover_current: { words: 'current in hover', more: HARD_WORK, less: EASY_WORK },
  average_current: {
    words: 'average current, from what the charger put back',
    more: `${HARD_WORK}; it did not only hover, or ran on the ground before`,
    less: `${EASY_WORK}; a pack that was not charged full`,
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
    more: 'another pack than named, or a voltmeter that is off',
    less: 'another pack than named, one that was flown past its reserve, or a voltmeter that is off',
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
    more: 'less charge used than the charger says, or a larger pack than its label',
    less: 'a worn pack with less charge than its label, one that was not full at take-off, or a voltage read too soon',
  },
  motor_temperature: {
    // A bell is never hotter than its winding; how much cooler it is nobody can say.
    words: 'bell after landing',
    more: 'a flight harder than described, poor cooling, or a heat path that is off',
    less: undefined,
  },
  cell_resistance: {
    words: 'resistance of a cell',
    more: 'a worn or cold pack, or a claimed rate that is a wish',
    less: 'a charger that shows another figure (of the group, or at another charge), or a better pack than it claims',
  },
};

/** How far a line lies outside, in its ±; up to 1 it agrees. */
function outside({ reading, observed, predicted }: ObservedLine): number {
  const { difference, standardUncertainty } = compare(observed, predicted);
  if (difference < 0 && WORDS[reading].less === undefined) return 0;
  return Math.abs(difference) / (COVERAGE * standardUncertainty);
}

/** What a charger loses on the way, and what labels understate. */
const OVERFULL = 1.25;

/** Whatever else was observed, this cannot be: what follows from it is not worth a word. */
function moreThanItHolds({ part }: Observation, option: PackOption): Draft | undefined {
  const back = part.declared('put_back');
  const label = option.part.figure('capacity');
  const capacity = label && label.value * packsInParallel(option);
  if (!back || !capacity || back.value <= OVERFULL * capacity) return undefined;
  return {
    severity: 'warning',
    message: `Observed: the charger put back ${sayExact(back.value, 'mAh')}; ${option.name} holds ${sayExact(capacity, 'mAh')}. One of the two is mistyped, or it was another pack.`,
    place: back.place ?? option.place,
    numbers: [exactNumber('put_back', back.value, 'mAh'), exactNumber('capacity', capacity, 'mAh')],
    related: label.place ? [{ message: `holds ${sayExact(capacity, 'mAh')}`, place: label.place }] : [],
  };
}

function* findDisagreement(subject: BuildSubject): Iterable<Draft> {
  const observed = observedOn(subject);
  const alone = [...disagreeingAlone(observed)];
  yield* alone;
  // What already lies outside says nothing about the others.
  if (alone.length === 0) yield* contradiction(observed);
}

/** Two observations of one thing on one pack, each within the ± of its prediction, that lie farther apart than two flights do. */
function* contradiction(observed: readonly Observed[]): Iterable<Draft> {
  const lines = observed.flatMap(({ observation, lines: own, predicted: { option } }) =>
    own.map((line) => ({ observation, option, line })),
  );
  for (const [i, one] of lines.entries()) {
    for (const other of lines.slice(i + 1)) {
      const { reading, unit } = one.line;
      if (other.observation === one.observation || other.option.name !== one.option.name) continue;
      if (other.line.reading !== reading || ALIKE[reading] === undefined) continue;
      const [a, b] = [one.line, other.line].map((line) => line.observed.value - line.predicted.value);
      const apart = Math.abs((a ?? 0) - (b ?? 0));
      const sure = COVERAGE * Math.hypot(errorOfLine(one.line), errorOfLine(other.line));
      if (apart <= sure) continue;
      yield {
        severity: 'warning',
        message: `“${one.observation.title}” and “${other.observation.title}” contradict each other: ${WORDS[reading].words} ${sayExact(one.line.observed.value, unit)} and ${sayExact(other.line.observed.value, unit)} on ${one.option.name}. One was misread, or flown with another craft or pack; what both teach is taken with a ± as wide as they are apart.`,
        place: other.line.observed.place ?? other.observation.place,
        numbers: [exactNumber('difference', apart, unit)],
        related: [{ message: 'the other one', place: one.line.observed.place ?? one.observation.place }],
      };
      return;
    }
  }
}

function* disagreeingAlone(seen: readonly Observed[]): Iterable<Draft> {
  for (const { observation, lines, predicted: assessment } of seen) {
    const overfull = moreThanItHolds(observation, assessment.option);
    if (overfull) {
      yield overfull;
      continue;
    }
    const [worst, ...others] = lines.filter((line) => outside(line) > 1).sort((a, b) => outside(b) - outside(a));
    if (!worst) continue;
    const { reading, unit, observed, predicted } = worst;
    const { words, more, less } = WORDS[reading];
    const { difference, standardUncertainty } = compare(observed, predicted);
    yield {
      severity: 'warning',
      message: `Observed: ${words} ${sayExact(observed.value, unit)}; predicted: ${say(predicted, unit)}. Likely causes: ${difference > 0 ? more : less}.`,
      place: observed.place ?? observation.place,
      numbers: [
        { name: 'difference', value: Math.abs(difference), unit, plusMinus: COVERAGE * standardUncertainty },
        number('predicted', predicted, unit),
      ],
      related: [
        { message: `predicted on ${assessment.option.name}`, place: assessment.option.place },
        ...others.map((other) => ({
          message: `and ${WORDS[other.reading].words}: observed ${sayExact(other.observed.value, other.unit)}, predicted ${say(other.predicted, other.unit)}`,
          place: other.observed.place ?? observation.place,
        })),
      ],
    };
  }
}
