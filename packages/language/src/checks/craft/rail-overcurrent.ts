/** More current out of a rail or regulator than it is rated for. */
import type { Estimate, LoadResults, RailResults } from '../../analysis/assessment.ts';
import { drawOf } from '../../analysis/setup/rail-setup.ts';
import { add, scale, subtract } from '../../analysis/uncertainty/estimate.ts';
import { formatEstimate } from '../../analysis/uncertainty/print-estimate.ts';
import type { Check, Draft, OptionSubject } from '../check.ts';
import { gradeAbove } from '../grade.ts';
import { boundNumber, formatExact, number, percent, relativeTo } from '../shared/finding-numbers.ts';
import { THRESHOLDS } from '../thresholds.ts';

const { burstShare } = THRESHOLDS.railOvercurrent;

export const railOvercurrent: Check = {
  id: 'rail-overcurrent',
  option: findOvercurrent,
  page: {
    title: 'More current out of a rail than it is rated for',
    cause:
      'A regulator above its rating limits its current, overheats and shuts down; every load on its rail then loses power.',
    criterion: `what its loads draw in hover over the continuous rating, or their peaks over the burst rating (absent: ${burstShare} × continuous): error. So is a \`peak … for\` above the continuous rating that lasts longer than the burst rating allows.`,
    standing: `The part maker’s limit; ${burstShare} × for a second or less: ours.`,
    remedy: 'Move a load to another rail, or take a regulator with a higher rating.',
    fixes: [],
    fails: `load Floodlight like LinkCam {
  draw: 30 W
  peak: 30 W
}
build Overdrawn like Healthy {
  load: Floodlight from Board28.camera
}`,
    passes: `build Modest like Healthy {
  rules: ExampleRules
}`,
  },
};

function* findOvercurrent({ option, assessment }: OptionSubject): Iterable<Draft> {
  for (const results of assessment.rails) {
    const draft = overdrawn(results, assessment.loads);
    if (draft)
      yield { ...draft, related: [...(draft.related ?? []), { message: `on ${option.name}`, place: option.place }] };
  }
}

/** What peaks draw that last longer than the burst rating: each load has its part of the rise from hover. */
function peakBeyondBurst(
  { rail, hoverCurrent, peakCurrent }: RailResults,
  loads: readonly LoadResults[],
  seconds: number,
): Estimate | undefined {
  const rises = loads.flatMap(({ load }) => {
    const { draw, peak } = drawOf(load.part);
    if (!('rail' in load.from) || load.from.rail !== rail || !draw || !peak) return [];
    return [{ rise: load.count * Math.max(0, peak.value - draw.value), lasts: peak.conditions.for?.value ?? 0 }];
  });
  const whole = rises.reduce((sum, { rise }) => sum + rise, 0);
  const longRise = rises.reduce((sum, { rise, lasts }) => (lasts > seconds ? sum + rise : sum), 0);
  if (!hoverCurrent || !peakCurrent || longRise === 0) return undefined;
  return add(hoverCurrent, scale(subtract(peakCurrent, hoverCurrent), longRise / whole));
}

function overdrawn(results: RailResults, loads: readonly LoadResults[]): Draft | undefined {
  const { rail, hoverCurrent, peakCurrent } = results;
  const continuous = rail.part.declared('continuous');
  const burst = rail.part.declared('burst') ?? rail.part.declared('max');
  const burstLimit = burst?.value ?? (continuous && continuous.value * burstShare);
  const seconds = burst?.conditions.for?.value;
  const longPeak = seconds === undefined ? undefined : peakBeyondBurst(results, loads, seconds);
  const comparisons = [
    { words: 'in hover', current: hoverCurrent, limit: continuous?.value, figure: continuous },
    {
      words: `in peaks longer than the ${formatExact(seconds ?? 0, 's')} of its burst rating`,
      current: longPeak,
      limit: continuous?.value,
      figure: continuous,
    },
    { words: 'with its loads at their peak', current: peakCurrent, limit: burstLimit, figure: burst ?? continuous },
  ];
  for (const { words, current, limit, figure } of comparisons) {
    if (!current || !limit || !figure) continue;
    const severity = gradeAbove(relativeTo(current, limit), [{ past: 1, severity: 'error' }]);
    if (!severity) continue;
    return {
      severity,
      question: `whether ${rail.name} stays within ${formatExact(limit, 'A')} ${words} (${formatEstimate(current, 'A')})`,
      message: `${rail.name} delivers ${formatEstimate(current, 'A')} ${words}, ${percent(current.value / limit)} of the ${formatExact(limit, 'A')} it is rated for. When hot it shuts down, and every load it supplies goes out.`,
      names: [rail],
      place: rail.place,
      foldKey: rail.name,
      numbers: [number('current', current, 'A'), boundNumber('limit', limit, 'A')],
      related: figure.place ? [{ message: `rated for ${formatExact(figure.value, 'A')}`, place: figure.place }] : [],
    };
  }
  return undefined;
}
