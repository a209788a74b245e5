/** More current through a plug than its contacts are rated for. */

import type { Estimate } from '../../analysis/assessment.ts';
import { scale } from '../../analysis/uncertainty/estimate.ts';
import { formatEstimate } from '../../analysis/uncertainty/print-estimate.ts';
import type { Part } from '../../model/build.ts';
import type { Place } from '../../syntax/place.ts';
import { upperFirst } from '../../vocabulary/phrasing.ts';
import { PLUGS } from '../../vocabulary/plugs.ts';
import type { Check, Draft, OptionSubject } from '../check.ts';
import { gradeAbove } from '../grade.ts';
import { boundNumber, formatExact, number, percent, relativeTo } from '../shared/finding-numbers.ts';
import { connects, type FittedPlug, plugAt } from '../shared/fitted-plugs.ts';
import { THRESHOLDS } from '../thresholds.ts';

const { average } = THRESHOLDS.plugOvercurrent;

export const plugOvercurrent: Check = {
  id: 'plug-overcurrent',
  atMost: 'warning',
  option: findOvercurrent,
  page: {
    title: 'More current through the plug than its contacts are rated for',
    cause:
      'Contacts that run hot lose their spring, resist more, run hotter and melt their shell. It happens over weeks, and ends in flight.',
    criterion:
      'average current of the flight as flown above the continuous rating of the plug’s contacts, or a burst above the burst rating of a declared `plug`: warning. Only where the pack or a lead declares its `plug`.',
    standing: 'Ratings by type of contact: common practice, unverified; those of a declared `plug` as its file states.',
    remedy: 'The next larger plug, on pack and craft.',
    fixes: [],
    fails: `pack Pinched like Mast900_4S {
  plug: Pitch125
}
build Melting like Healthy {
  without: Mast900_4S
  pack: Pinched
}`,
    passes: `pack Free like Mast900_4S {
  plug: Bullet2
}
build Enduring like Healthy {
  without: Mast900_4S
  pack: Free
}`,
  },
};

interface Plugged {
  readonly part: Part<'pack' | 'lead'>;
  readonly place: Place;
  readonly share: number;
}

function* findOvercurrent({ build, option, assessment }: OptionSubject): Iterable<Draft> {
  const whole = assessment.pack.mixCurrent;
  if (!whole) return;
  const burst = assessment.results.get('burst_current')?.estimate;
  const packShare = option.arrangement === 'parallel' ? 1 / option.count : 1;
  const plugged: Plugged[] = [
    { part: option.part, place: option.place, share: packShare },
    ...build.leads.map(({ part, place, count }) => ({ part, place, share: 1 / count })),
  ];
  // What cannot be connected conducts nothing: that has its own finding.
  const own = plugAt(option.part);
  const ends = build.leads.flatMap(({ part }) => plugAt(part) ?? []);
  if (own && ends.length > 0 && !ends.some((end) => connects(end, own))) return;
  for (const { part, place, share } of plugged) {
    const plug = plugAt(part);
    if (!plug) continue;
    const found = hot(plug, part, place, [
      {
        words: 'over the flight as flown',
        current: scale(whole, share),
        rated: plug.continuous,
        lasts: 'continuously',
      },
      { words: 'in a burst', current: burst && scale(burst, share), rated: plug.burst, lasts: 'in bursts' },
    ]);
    if (!found) continue;
    yield found;
    // Two halves of one pair run equally hot: one message.
    return;
  }
}

interface PlugCurrent {
  readonly words: string;
  readonly current: Estimate | undefined;
  /** A; undefined where it is not stated. */
  readonly rated: number | undefined;
  readonly lasts: string;
}

function hot(
  plug: FittedPlug,
  part: Plugged['part'],
  place: Place,
  currents: readonly PlugCurrent[],
): Draft | undefined {
  for (const { words, current, rated, lasts } of currents) {
    if (!current || rated === undefined) continue;
    const severity = gradeAbove(relativeTo(current, rated), [{ past: average, severity: 'warning' }]);
    if (!severity) continue;
    const limit = formatExact(rated, 'A');
    const own = part.placeOf('plug');
    return {
      severity,
      question: `whether the ${plug.name} of ${part.name} stays within ${limit} ${words} (${formatEstimate(current, 'A')})`,
      message: `${upperFirst(words)} ${formatEstimate(current, 'A')} flow through the ${plug.name} of ${part.name}, ${percent(current.value / rated)} of the ${limit} it is rated for ${lasts}: its contacts lose their spring and melt.${larger(current.value)}`,
      names: [part],
      place,
      numbers: [number('current', current, 'A'), boundNumber('limit', rated, 'A')],
      related: own ? [{ message: `${plug.name}: ${plug.description}`, place: own }] : [],
    };
  }
  return undefined;
}

function larger(current: number): string {
  const [next] = Object.entries(PLUGS)
    .filter(([, { continuous }]) => continuous >= current)
    .sort(([, a], [, b]) => a.continuous - b.continuous);
  return next ? ` ${next[0]} is rated for it.` : '';
}
