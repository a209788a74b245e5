/** A flight in legs takes more than the pack has before its reserve. */
import type { FlightResults } from '../../analysis/assessment.ts';
import { measurable } from '../../analysis/uncertainty/estimate.ts';
import { formatEstimate } from '../../analysis/uncertainty/print-estimate.ts';
import type { Use } from '../../model/build.ts';
import { flightResult } from '../../vocabulary/results.ts';
import type { Check, Draft, OptionSubject } from '../check.ts';
import { gradeAbove, withLeeway } from '../grade.ts';
import { formatExact, number, percent } from '../shared/finding-numbers.ts';
import { THRESHOLDS } from '../thresholds.ts';

export const flightTooLong: Check = {
  id: 'flight-too-long',
  option: findTooLong,
  page: {
    title: 'The pack does not store enough for a flight',
    cause:
      'The legs of a flight take more than the pack has before its reserve, or one of them cannot be flown any more on what is left. Whoever flies it as planned lands on the reserve, or not at home.',
    criterion:
      'the charge that the legs take over the charge before the reserve, or before the pack or a load’s supply gives out in one of them: above 1 with its whole ± error, likely above 1 warning.',
    standing: 'The legs that the build states, and its reserve.',
    remedy:
      'Fewer or shorter legs, a larger pack, less weight, or a calmer day. If the flight is meant for one pack only, name it behind `with`.',
    fixes: [],
    fails: `flight Patrol {
  leg: 90 min hover
}
build Watchful like Healthy {
  flight: Patrol
}`,
    passes: `flight Look {
  leg: 30 s hover
}
build Brisk like Healthy {
  flight: Look
}`,
  },
};

function* findTooLong({ option, assessment }: OptionSubject): Iterable<Draft> {
  for (const one of assessment.flights) {
    const { flight, demand } = one;
    if (!demand) continue;
    const of = measurable(demand);
    const grade = gradeAbove(of, [{ past: 1, severity: 'error' }]);
    const severity = withLeeway(of, 1, THRESHOLDS.flightTooLong.leeway, grade);
    if (!severity) continue;
    const charge = assessment.results.get(flightResult(flight.name, 'charge'))?.estimate;
    const takes = charge ? ` takes ${formatEstimate(charge, 'mAh')}` : ' takes more';
    const verb = severity === 'error' ? '' : ' likely';
    yield {
      severity,
      question: `whether ${option.name} stores enough for ${flight.name}, which takes ${percent(demand.value)} of what it may`,
      message: `${flight.name}${verb}${takes}, ${percent(demand.value)} of what ${option.name} has for it: ${whereItEnds(one)} Fly less, turn back earlier or take a larger pack.`,
      names: [option, ...released(one)],
      place: flight.place,
      numbers: [number('demand', demand, ''), ...(charge ? [number('charge', charge, 'mAh')] : [])],
      related: legPlace(one),
    };
  }
}

function shortLeg({ flight, flown }: FlightResults) {
  const at = flown?.shortIn;
  const leg = at === undefined ? undefined : flight.legs[at];
  const end = at === undefined ? undefined : flown?.ends[at];
  return at !== undefined && leg && end ? { at, leg, end } : undefined;
}

function whereItEnds(one: FlightResults): string {
  const short = shortLeg(one);
  if (!short) return 'hardly anything is to spare.';
  const { at, leg, end } = short;
  const begun = one.flown?.ends[at - 1]?.time ?? 0;
  const when =
    at === 0 ? 'in the first leg' : `in leg ${at + 1}, which begins ${formatExact(begun, 'min')} after take-off`;
  return `it runs out ${when} (${leg.text}), with ${percent(Math.max(0, end.charge))} left at the end of that leg and ${percent(end.floor)} to be left.`;
}

/** What the leg is written to release. */
const released = (one: FlightResults): Use[] => (shortLeg(one)?.leg.released ?? []).map(({ use }) => use);

const legPlace = (one: FlightResults) => {
  const short = shortLeg(one);
  return short ? [{ message: 'the leg in which it runs out', place: short.leg.place }] : [];
};
