/** What was observed lies outside what was predicted for it. */
import type { Assessment, Estimate } from '../analysis/assessment.ts';
import type { Figure, Part } from '../model/build.ts';
import type { BuildSubject, Check, Draft } from './check.ts';
import { compare, type Observed, observedOn } from './observations.ts';
import { number, say, sayExact } from './say.ts';

export const observedDisagrees: Check = {
  id: 'observed-disagrees',
  build: findDisagreement,
  page: {
    title: 'What was observed lies outside what was predicted',
    cause:
      'A figure of a part is wrong, the craft is not the one described, or it was not flown as described. Until it is found, the other numbers of this build are in doubt as well.',
    criterion:
      'an observed line and its prediction, with the observation’s pack and air, differ by more than both ± together (k = 2): warning, one an observation, with the line that lies farthest out first.',
    standing: 'JCGM 100 (the ± of a difference).',
    remedy: 'Look at the likely causes that the message names, and measure the part.',
    fails: `build Puzzling like Healthy {
  observed "second flight" with Slim480_2S {
    hover_current: 19 A
  }
}`,
    passes: `build Expected like Healthy {
  observed "second flight" with Slim480_2S {
    hover_current: 4.3 A
  }
}`,
  },
};

/** One line of an observation beside its prediction. */
interface Line {
  readonly words: string;
  readonly unit: string;
  readonly observed: Figure;
  readonly predicted: Estimate;
  /** Likely causes when more, and when less, was observed. */
  readonly more: string;
  /** None where less says nothing. */
  readonly less: string | undefined;
}

type Reading = Pick<Line, 'words' | 'unit' | 'more' | 'less'> & {
  readonly property: string;
  readonly predicted: (assessment: Assessment) => Estimate | undefined;
};

const result =
  (name: string) =>
  ({ results }: Assessment): Estimate | undefined =>
    results.get(name)?.estimate;

const HARD_WORK = 'bent or wrong propellers, a dragging bearing, more weight, or a coefficient that is off';
const EASY_WORK = 'less weight, help from the ground or a wind, or a coefficient that is off';
const WEAK_PACK = 'a cold, worn or half-charged pack, a poor plug, or a resistance that is off';
const STRONG_PACK = 'a better pack than its figures say, or a burst that was too short';

const READINGS: readonly Reading[] = [
  {
    property: 'hover_current',
    words: 'current in hover',
    unit: 'A',
    predicted: result('hover_current'),
    more: HARD_WORK,
    less: EASY_WORK,
  },
  {
    property: 'hover_output',
    words: 'output in hover',
    unit: '%',
    predicted: result('hover_duty'),
    more: `${HARD_WORK}, or a lower kv; an output that is not the duty`,
    less: `${EASY_WORK}, or a higher kv; an output that is not the duty`,
  },
  {
    property: 'hover_speed',
    words: 'speed in hover',
    unit: 'rpm',
    predicted: result('hover_speed'),
    more: 'a wrong pole count, smaller or flatter propellers, or more weight',
    less: 'a wrong pole count, larger or steeper propellers, or less weight',
  },
  {
    property: 'burst_current',
    words: 'current in a full burst',
    unit: 'A',
    predicted: result('full_current'),
    more: 'steeper propellers, a higher kv, or less resistance than assumed',
    less: 'a burst that was not full or too short, flatter propellers, or more resistance than assumed',
  },
  {
    property: 'burst_voltage',
    words: 'voltage in a full burst',
    unit: 'V',
    predicted: result('full_voltage'),
    more: STRONG_PACK,
    less: WEAK_PACK,
  },
  {
    property: 'burst_speed',
    words: 'speed in a full burst',
    unit: 'rpm',
    predicted: result('full_speed'),
    more: 'a wrong pole count, flatter propellers, or a higher kv',
    less: 'a wrong pole count, steeper propellers, a lower kv, or a weak pack',
  },
  {
    // A bell is never hotter than its winding; how much cooler it is nobody can say.
    property: 'bell',
    words: 'bell after landing',
    unit: 'degC',
    predicted: result('motor_temperature'),
    more: 'a flight harder than described, poor cooling, or a heat path that is off',
    less: undefined,
  },
  {
    property: 'cell_resistance',
    words: 'resistance of a cell',
    unit: 'mohm',
    predicted: ({ option }) => estimateOf(option.part.figure('cell_resistance')),
    more: 'a worn or cold pack, or a claimed rate that is a wish',
    less: 'a charger that shows another figure (of the group, or at another charge), or a better pack than it claims',
  },
];

/** A figure as an estimate with one error of its own. */
function estimateOf(figure: Figure | undefined): Estimate | undefined {
  return figure && { value: figure.value, contributions: Float64Array.of(figure.standardUncertainty) };
}

function* findDisagreement(subject: BuildSubject): Iterable<Draft> {
  for (const observed of observedOn(subject)) {
    const outside = linesOf(observed)
      .map((line) => ({ line, ...compare(line.observed, line.predicted) }))
      .filter(
        ({ line, difference, plusMinus }) =>
          difference > plusMinus || (line.less !== undefined && -difference > plusMinus),
      )
      .sort((a, b) => Math.abs(b.difference) / b.plusMinus - Math.abs(a.difference) / a.plusMinus);
    const [worst] = outside;
    if (!worst) continue;
    const { line, difference, plusMinus } = worst;
    const { predicted, unit } = line;
    yield {
      severity: 'warning',
      message: `Observed: ${line.words} ${sayExact(line.observed.value, unit)}; predicted: ${say(predicted, unit)}. Likely causes: ${difference > 0 ? line.more : line.less}.`,
      place: line.observed.place ?? observed.observation.place,
      numbers: [
        { name: 'difference', value: Math.abs(difference), unit, plusMinus },
        number('predicted', predicted, unit),
      ],
      related: outside.slice(1).map(({ line: other }) => ({
        message: `and ${other.words}: observed ${sayExact(other.observed.value, other.unit)}, predicted ${say(other.predicted, other.unit)}`,
        place: other.observed.place ?? observed.observation.place,
      })),
    };
  }
}

function linesOf({ observation: { part }, predicted }: Observed): Line[] {
  const read = READINGS.flatMap(({ property, predicted: of, ...words }): Line[] => {
    const observed = part.declared(property);
    const expected = of(predicted);
    return observed && expected ? [{ ...words, observed, predicted: expected }] : [];
  });
  return [...read, ...averageCurrent(part, predicted)];
}

/** What the charger put back, over the time in the air; only where it hovered all the time, as it does unless `flown` says otherwise. */
function averageCurrent(part: Part, { results }: Assessment): Line[] {
  const time = part.declared('airborne');
  const charge = part.declared('put_back');
  const predicted = results.get('hover_current')?.estimate;
  if (!time || !charge || !predicted || time.value === 0 || part.declared('flown')) return [];
  const value = charge.value / time.value;
  const relative = Math.hypot(time.standardUncertainty / time.value, charge.standardUncertainty / charge.value);
  const observed = { ...charge, value, unit: 'A', standardUncertainty: value * relative };
  return [
    {
      words: 'average current, from what the charger put back',
      unit: 'A',
      observed,
      predicted,
      more: `${HARD_WORK}; it did not only hover, or ran on the ground before`,
      less: `${EASY_WORK}; a pack that was not charged full`,
    },
  ];
}
