/** Leads that take too much of the pack's voltage. */

import { declaredLeads, leadResistanceOf } from '../../analysis/setup/leads.ts';
import { cellsInSeries } from '../../analysis/setup/pack-setup.ts';
import { scale } from '../../analysis/uncertainty/estimate.ts';
import { formatEstimate } from '../../analysis/uncertainty/print-estimate.ts';
import type { Check, Draft, OptionSubject } from '../check.ts';
import { gradeAbove } from '../grade.ts';
import { fullPackVoltage } from '../shared/cells.ts';
import { boundNumber, formatExact, number, percent, relativeTo } from '../shared/finding-numbers.ts';
import { THRESHOLDS } from '../thresholds.ts';

const { bySeries } = THRESHOLDS.leadDrop;

export const leadDrop: Check = {
  id: 'lead-drop',
  atMost: 'hint',
  option: findDrop,
  page: {
    title: 'The leads cost too many volts',
    cause:
      'What a lead drops in a burst is missing at the motors and at every rail, and comes off the pack as heat. On few cells a few tenths of a volt are a lot.',
    criterion: `drop in a burst over the full pack’s voltage, all declared leads together: above ${bySeries.map((share, i) => `${percent(share)} on ${i + 1}S`).join(', ')} and more: hint. Only where gauge or area is declared.`,
    standing: 'Resistance of copper: IEC 60028, ASTM B258. Thresholds: ours.',
    remedy: 'Shorter or thicker leads.',
    fixes: [],
    fails: `lead Tail {
  wire: 24 AWG
  length: 300 mm
  mass: 2 g
}
build Dim like Healthy {
  lead: Tail
}`,
    passes: `lead Stub {
  wire: 20 AWG
  length: 40 mm
  mass: 1 g
}
build Bright like Healthy {
  lead: Stub
}`,
  },
};

function* findDrop({ build, option, assessment }: OptionSubject): Iterable<Draft> {
  const leads = declaredLeads(build, option);
  const current = assessment.results.get('burst_current')?.estimate;
  const voltage = fullPackVoltage(option);
  const series = cellsInSeries(option);
  const [longest] = leads.toSorted((a, b) => leadResistanceOf(b) * b.share - leadResistanceOf(a) * a.share);
  if (!longest || !current || !voltage || !series) return;
  const limit = bySeries[Math.min(series, bySeries.length) - 1] ?? bySeries[3];
  const resistance = leads.reduce((sum, lead) => sum + leadResistanceOf(lead) * lead.share, 0);
  const drop = scale(current, resistance);
  if (gradeAbove(relativeTo(drop, voltage), [{ past: limit, severity: 'hint' }]) !== 'hint') return;
  yield {
    severity: 'hint',
    message: `In a burst of ${formatEstimate(current, 'A')} the leads take ${formatEstimate(drop, 'V')} of ${option.name}, ${percent(drop.value / voltage)} of its ${formatExact(voltage, 'V')}; up to ${percent(limit)} is usual. Shorten ${longest.part.name}’s lead or take thicker copper.`,
    names: [option, longest.part],
    place: longest.place,
    numbers: [number('drop', drop, 'V'), boundNumber('limit', limit * voltage, 'V')],
    related: longest.area.place ? [{ message: 'its copper', place: longest.area.place }] : [],
  };
}
