/** A regulator that gets too hot. */
import type { Assessment, Estimate, RailResults } from '../../analysis/assessment.ts';
import { add, exact, measurable, multiply, scale, subtract } from '../../analysis/uncertainty/estimate.ts';
import { formatEstimate } from '../../analysis/uncertainty/print-estimate.ts';
import type { Check, Draft, DraftWithout, OptionSubject } from '../check.ts';
import { gradeAbove } from '../grade.ts';
import { boundNumber, formatExact, number } from '../shared/finding-numbers.ts';
import { THRESHOLDS } from '../thresholds.ts';

const { linearLoss } = THRESHOLDS.regulatorOverheat;

export const regulatorOverheat: Check = {
  id: 'regulator-overheat',
  atMost: 'warning',
  option: findOverheat,
  page: {
    title: 'A regulator gets too hot',
    cause:
      'A linear regulator turns the difference between input and output voltage into heat; a switching one loses 10 to 20 %. When too hot it shuts down, and its loads go out.',
    criterion: `air temperature plus \`thermal_resistance\` × loss above \`max_temperature\`: warning, where both are declared. A linear one that burns more than ${linearLoss} W: hint. Loss in hover, on the full pack.`,
    standing: 'Textbook; the hint’s threshold: ours.',
    remedy: 'Feed it from a lower rail, take a switching one, or give it copper and air.',
    fixes: [],
    fails: `regulator Burner {
  type: linear
  output: 5 V
  continuous: 2 A
  mass: 1 g
}
load Lamps {
  draw: 0.6 A
  supply: 4.5 V .. 5.5 V
  mass: 2 g
}
build Warm like Healthy {
  regulator: Burner from pack
  load: Lamps from Burner
}`,
    passes: `regulator Saver {
  type: buck
  output: 5 V
  continuous: 2 A
  mass: 1 g
}
load Lamps {
  draw: 0.6 A
  supply: 4.5 V .. 5.5 V
  mass: 2 g
}
build Cool like Healthy {
  regulator: Saver from pack
  load: Lamps from Saver
}`,
  },
};

function* findOverheat({ option, assessment }: OptionSubject): Iterable<Draft> {
  for (const results of assessment.rails) {
    const { rail } = results;
    const loss = lossOf(results);
    const draft = loss && (tooHot(results, loss, assessment) ?? burning(results, loss));
    if (draft) yield { ...draft, place: rail.place, related: [{ message: `on ${option.name}`, place: option.place }] };
  }
}

/** W */
function lossOf({ rail, hoverCurrent, restInputVoltage }: RailResults): Estimate | undefined {
  const output = rail.part.figure('output');
  if (!output || !hoverCurrent || !restInputVoltage) return undefined;
  if (isLinear({ rail })) return multiply(subtract(restInputVoltage, exact(output.value)), hoverCurrent);
  const efficiency = rail.part.figure('efficiency')?.value;
  return efficiency ? scale(hoverCurrent, output.value * (1 / efficiency - 1)) : undefined;
}

const isLinear = ({ rail }: Pick<RailResults, 'rail'>): boolean => rail.part.word('type') === 'linear';

type Heat = DraftWithout<'place' | 'related'>;

function tooHot({ rail }: RailResults, loss: Estimate, { build }: Assessment): Heat | undefined {
  const path = rail.part.declared('thermal_resistance');
  const hottest = rail.part.declared('max_temperature');
  if (!path || !hottest) return undefined;
  const temperature = add(scale(loss, path.value), exact(build.rules.airTemperature.value));
  const severity = gradeAbove(measurable(temperature), [{ past: hottest.value, severity: 'warning' }]);
  if (!severity) return undefined;
  const limit = formatExact(hottest.value, 'degC');
  return {
    severity,
    question: `whether ${rail.name} stays below ${limit} (${formatEstimate(temperature, 'degC')})`,
    message: `${rail.name} loses ${formatEstimate(loss, 'W')} in hover on the full pack and gets ${formatEstimate(temperature, 'degC')} hot; it is rated for ${limit}. It shuts down, and every load it supplies goes out.`,
    names: [rail],
    numbers: [number('temperature', temperature, 'degC'), boundNumber('limit', hottest.value, 'degC')],
  };
}

function burning(results: RailResults, loss: Estimate): Heat | undefined {
  const { rail } = results;
  if (!isLinear(results) || gradeAbove(measurable(loss), [{ past: linearLoss, severity: 'hint' }]) !== 'hint')
    return undefined;
  return {
    severity: 'hint',
    message: `${rail.name} burns ${formatEstimate(loss, 'W')} in hover on the full pack, being linear. Above ${formatExact(linearLoss, 'W')} it needs copper and air, or a switching one in its place.`,
    names: [rail],
    numbers: [number('loss', loss, 'W'), boundNumber('limit', linearLoss, 'W')],
  };
}
