/** More current through a lead than its copper is rated for. */

import { burstDuration, burstRise, declaredLeads, type Lead } from '../../analysis/setup/leads.ts';
import { measurable, scale } from '../../analysis/uncertainty/estimate.ts';
import { formatEstimate } from '../../analysis/uncertainty/print-estimate.ts';
import { continuousCurrent, gaugeFor, gaugeOf } from '../../vocabulary/wires.ts';
import type { Check, Draft, OptionSubject } from '../check.ts';
import { gradeAbove } from '../grade.ts';
import { boundNumber, formatExact, number, percent, relativeTo } from '../shared/finding-numbers.ts';
import { THRESHOLDS } from '../thresholds.ts';

const { average, burstRise: mostRise } = THRESHOLDS.leadOvercurrent;

export const leadOvercurrent: Check = {
  id: 'lead-overcurrent',
  atMost: 'warning',
  option: findOvercurrent,
  page: {
    title: 'More current through the lead than its copper is rated for',
    cause:
      'A thin lead gets hot enough to soften its solder joints, and a joint that lets go in flight is a crash. The heat is taken from the pack as well.',
    criterion: `average current of the flight as flown above the continuous rating of the gauge: warning. A burst that would warm the copper by more than ${mostRise} K without cooling: warning. Only where gauge or area is declared.`,
    standing:
      'Ratings by gauge for short silicone leads: common practice, unverified. Burst: adiabatic rise after IEC 60949; the limit: ours.',
    remedy: 'The next thicker gauge, or two leads side by side.',
    fixes: [],
    fails: `lead Hair {
  wire: 30 AWG
  length: 40 mm
  mass: 0.3 g
}
build Glowing like Healthy {
  lead: Hair
}`,
    passes: `lead Cord {
  wire: 20 AWG
  length: 40 mm
  mass: 1 g
}
build Cold like Healthy {
  lead: Cord
}`,
  },
};

function* findOvercurrent(subject: OptionSubject): Iterable<Draft> {
  for (const lead of declaredLeads(subject.build, subject.option)) {
    const draft = continuous(subject, lead) ?? burst(subject, lead);
    if (draft) {
      const { place } = lead.area;
      yield { ...draft, related: place ? [{ message: gaugeWords(lead), place }] : [] };
    }
  }
}

function continuous({ assessment }: OptionSubject, lead: Lead): Draft | undefined {
  const rating = continuousCurrent(lead.area.value);
  const whole = assessment.pack.mixCurrent;
  if (!rating || !whole) return undefined;
  const current = scale(whole, lead.share);
  const severity = gradeAbove(relativeTo(current, rating), [{ past: average, severity: 'warning' }]);
  if (!severity) return undefined;
  const thicker = gaugeFor(current.value);
  return {
    severity,
    question: `whether the lead of ${lead.part.name} stays within ${formatExact(rating, 'A')} over the flight (${formatEstimate(current, 'A')})`,
    message: `Over the flight as flown ${formatEstimate(current, 'A')} flow through the lead of ${lead.part.name}; ${gaugeWords(lead)} is rated for ${formatExact(rating, 'A')} continuous. Its joints get hot${thicker === undefined ? '' : `: take ${thicker} AWG`}.`,
    names: [lead.part],
    place: lead.place,
    numbers: [number('current', current, 'A'), boundNumber('limit', rating, 'A')],
  };
}

function burst({ build, assessment }: OptionSubject, lead: Lead): Draft | undefined {
  const whole = assessment.results.get('burst_current')?.estimate;
  if (!whole) return undefined;
  const time = burstDuration(build);
  const rise = burstRise(lead, whole, time);
  const severity = gradeAbove(measurable(rise), [{ past: mostRise, severity: 'warning' }]);
  if (!severity) return undefined;
  const current = scale(whole, lead.share);
  return {
    severity,
    question: `whether a burst warms the lead of ${lead.part.name} by less than ${mostRise} K (${formatEstimate(rise, 'K')})`,
    message: `A burst of ${formatEstimate(current, 'A')} for ${formatExact(time, 's')} warms the lead of ${lead.part.name} (${gaugeWords(lead)}) by ${formatEstimate(rise, 'K')}, ${percent(rise.value / mostRise)} of what its joints withstand. Use thicker copper.`,
    names: [lead.part],
    place: lead.place,
    numbers: [number('rise', rise, 'K'), boundNumber('limit', mostRise, 'K')],
  };
}

/** "20 AWG" as written, or the nearest number to an area. */
function gaugeWords({ area }: Lead): string {
  return area.unit === 'AWG'
    ? `${Math.round(gaugeOf(area.value))} AWG`
    : `${formatExact(area.value, 'mm^2')} (${Math.round(gaugeOf(area.value))} AWG)`;
}
