/** A regulator gets fewer volts at its input than it works from. */
import { assessPlainly } from '../../analysis/assess.ts';
import type { RailResults } from '../../analysis/assessment.ts';
import { withHoldingRail } from '../../analysis/decide/changed-craft.ts';
import { measurable } from '../../analysis/uncertainty/estimate.ts';
import { formatEstimate } from '../../analysis/uncertainty/print-estimate.ts';
import type { Range } from '../../model/part-values.ts';
import type { Severity } from '../../vocabulary/severities.ts';
import type { Check, Draft, OptionSubject } from '../check.ts';
import { gradeBelow } from '../grade.ts';
import { boundNumber, formatExact, number } from '../shared/finding-numbers.ts';

export const regulatorUndervoltage: Check = {
  id: 'regulator-undervoltage',
  option: findUndervoltage,
  folds: ['rail-undervoltage', 'regulator-dropout'],
  page: {
    title: 'A regulator gets less voltage than it needs',
    cause:
      'Below the range it is made for a regulator switches off or its output voltage falls: every load it supplies goes out at once.',
    criterion:
      'input of a rail or regulator that feeds something, below the bottom of its `supply`: in hover at the reserve error, in a burst at the reserve warning.',
    standing: 'The part maker’s range; which point counts how much: ours.',
    remedy: 'A regulator for the voltage, or a pack with more cells.',
    fixes: [],
    fails: `regulator High5 {
  output: 5 V
  supply: 18 V .. 30 V
  continuous: 2 A
  mass: 1 g
}
build Dark like Healthy {
  regulator: High5 from pack
  without: Receiver
  load: Receiver from High5
}`,
    passes: `regulator Low5 {
  output: 5 V
  supply: 5.5 V .. 30 V
  continuous: 2 A
  mass: 1 g
}
build Lit like Healthy {
  regulator: Low5 from pack
  without: Receiver
  load: Receiver from Low5
}`,
  },
};

function* findUndervoltage({ build, option, assessment }: OptionSubject): Iterable<Draft> {
  for (const [index, results] of assessment.rails.entries()) {
    const { rail } = results;
    const supply = rail.part.range('supply');
    const feeds = [...build.loads, ...build.rails].some(({ from }) => 'rail' in from && from.rail === rail);
    const found = supply && feeds && worstInput(results, supply);
    if (!found) continue;
    const { input, severity, when } = found;
    const least = formatExact(supply.low, 'V');
    yield {
      severity,
      question: `whether ${rail.name} keeps ${least} at its input ${when} (${formatEstimate(input, 'V')})`,
      message: `${rail.name} works from ${least} at its input and gets ${formatEstimate(input, 'V')} ${when}: its loads go out. Use one that works from a lower voltage, or a pack with more cells.`,
      names: [rail],
      place: rail.place,
      numbers: [number('voltage', input, 'V'), boundNumber('minimum', supply.low, 'V')],
      related: [
        { message: `${rail.part.name} works from ${least}`, place: supply.place },
        { message: `on ${option.name}`, place: option.place },
      ],
      cured: () => assessPlainly(build, option, withHoldingRail(index)),
    };
  }
}

function worstInput({ hoverInputVoltage, burstInputVoltage }: RailResults, { low }: Range) {
  const points: readonly (readonly [typeof hoverInputVoltage, Severity, string])[] = [
    [hoverInputVoltage, 'error', 'hovering at the reserve'],
    [burstInputVoltage, 'warning', 'in a burst at the reserve'],
  ];
  const graded = points.flatMap(([input, past, when]) => {
    const severity = input && gradeBelow(measurable(input), [{ past: low, severity: past }]);
    return input && severity ? [{ input, severity, when }] : [];
  });
  return graded.find(({ severity }) => severity !== 'undecided') ?? graded[0];
}
