/** A regulator gets more volts at its input than it is rated for. */
import { measurable } from '../../analysis/uncertainty/estimate.ts';
import { formatEstimate } from '../../analysis/uncertainty/print-estimate.ts';
import { formatValue } from '../../units/print.ts';
import type { Check, Draft, OptionSubject } from '../check.ts';
import { gradeAbove } from '../grade.ts';
import { boundNumber, number } from '../shared/finding-numbers.ts';
import { isMeantByCells } from '../shared/supply.ts';

export const regulatorOvervoltage: Check = {
  id: 'regulator-overvoltage',
  option: findOvervoltage,
  page: {
    title: 'A regulator gets more voltage than it is rated for',
    cause:
      'A regulator fed above its range fails short and puts the pack voltage on every load it supplies. The voltage of the full pack at plug-in decides.',
    criterion: 'input of the rail or regulator, full pack at rest, above the top of its `supply`: error.',
    standing: 'The part maker’s limit.',
    remedy: 'A regulator for the voltage, or a pack with fewer cells.',
    fixes: [],
    fails: `regulator Low5 {
  output: 5 V
  supply: 6 V .. 13 V
  continuous: 2 A
  mass: 1 g
}
build Broken like Healthy {
  regulator: Low5 from pack
}`,
    passes: `regulator High5 {
  output: 5 V
  supply: 6 V .. 26 V
  continuous: 2 A
  mass: 1 g
}
build Sound like Healthy {
  regulator: High5 from pack
}`,
  },
};

function* findOvervoltage({ option, assessment }: OptionSubject): Iterable<Draft> {
  for (const { rail, restInputVoltage } of assessment.rails) {
    const supply = rail.part.range('supply');
    if (!supply || !restInputVoltage) continue;
    const severity = gradeAbove(measurable(restInputVoltage), [{ past: supply.high, severity: 'error' }]);
    if (!severity || isMeantByCells(severity, supply, option)) continue;
    // As it is written: a hundredth may decide.
    const limit = formatValue(supply.high, 'V', 4);
    yield {
      severity,
      question: `whether ${rail.name} stays below ${limit} at its input (${formatEstimate(restInputVoltage, 'V')})`,
      message: `${rail.name} is rated for ${limit} at its input and gets ${formatEstimate(restInputVoltage, 'V')} from the full pack: it fails short at plug-in, and its loads see the pack voltage. Do not connect it.`,
      names: [rail],
      place: rail.place,
      numbers: [number('voltage', restInputVoltage, 'V'), boundNumber('maximum', supply.high, 'V')],
      related: [
        { message: `${rail.part.name} is rated for ${limit} at most`, place: supply.place },
        { message: `on ${option.name}`, place: option.place },
      ],
    };
  }
}
