/** A load sees more voltage than it is rated for. */
import { measurable } from '../../analysis/uncertainty/estimate.ts';
import { formatEstimate } from '../../analysis/uncertainty/print-estimate.ts';
import { formatValue } from '../../units/print.ts';
import type { Check, Draft, OptionSubject } from '../check.ts';
import { gradeAbove } from '../grade.ts';
import { boundNumber, number } from '../shared/finding-numbers.ts';
import { isMeantByCells, supplierOf, supplyName } from '../shared/supply.ts';

export const railOvervoltage: Check = {
  id: 'rail-overvoltage',
  option: findOvervoltage,
  page: {
    title: 'A load sees more voltage than it is rated for',
    cause:
      'A receiver or camera fed above its range dies at plug-in. What counts is the full pack at rest, or the rail’s output.',
    criterion: 'supply at the load, full pack at rest, above its maximum: error.',
    standing: 'The part maker’s limit.',
    remedy: 'Feed it from a rail inside its range, or take a pack with fewer cells. Do not plug it in to try.',
    fixes: [],
    fails: `build Fried like Healthy {
  without: Receiver
  load: Receiver from pack
}`,
    passes: `build Fed like Healthy {
  without: Receiver
  load: Receiver from Board28.logic
}`,
  },
};

function* findOvervoltage({ option, assessment }: OptionSubject): Iterable<Draft> {
  for (const { load, restVoltage } of assessment.loads) {
    const supply = load.part.range('supply');
    const severity =
      supply && restVoltage && gradeAbove(measurable(restVoltage), [{ past: supply.high, severity: 'error' }]);
    if (!supply || !restVoltage || !severity || isMeantByCells(severity, supply, option)) continue;
    // As it is written: a hundredth may decide.
    const limit = formatValue(supply.high, 'V', 4);
    yield {
      severity,
      question: `whether ${load.name} stays below ${limit} ${supplyName(load.from, option)} (${formatEstimate(restVoltage, 'V')})`,
      message: `${load.name} takes ${limit} at most and sees ${formatEstimate(restVoltage, 'V')} ${supplyName(load.from, option)}, on the full pack before take-off: it can fail at plug-in. Do not connect it.`,
      names: [load, supplierOf(load.from, option)],
      place: load.place,
      numbers: [number('voltage', restVoltage, 'V'), boundNumber('maximum', supply.high, 'V')],
      related: [{ message: `${load.part.name} takes ${limit} at most`, place: supply.place }],
    };
  }
}
