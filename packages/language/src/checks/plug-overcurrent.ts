/** A plug that carries more than its contacts stand. */
import { scale } from '../analysis/estimate.ts';
import type { Part } from '../model/build.ts';
import type { Place } from '../model/place.ts';
import { PLUGS, plugOf } from '../vocabulary/plugs.ts';
import type { Check, Draft, OptionSubject } from './check.ts';
import { gradeAbove } from './grade.ts';
import { exactNumber, number, percent, relativeTo, say, sayExact } from './say.ts';
import { THRESHOLDS } from './thresholds.ts';

const { average } = THRESHOLDS.plugOvercurrent;

export const plugOvercurrent: Check = {
  id: 'plug-overcurrent',
  option: findOvercurrent,
  page: {
    title: 'The plug carries more than its contacts stand',
    cause:
      'Contacts that run hot lose their spring, resist more, run hotter and melt their shell. It happens over weeks, and ends in flight.',
    criterion:
      'average current of the flight as flown above what the plug’s contacts carry for minutes: warning. Only where the pack or a lead declares its `plug`.',
    standing: 'Ratings by type of contact: common practice, from memory.',
    remedy: 'The next larger plug, on pack and craft.',
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
build Lasting like Healthy {
  without: Mast900_4S
  pack: Free
}`,
  },
};

interface Plugged {
  readonly part: Part;
  readonly place: Place;
  readonly share: number;
}

function* findOvercurrent({ build, option, assessment }: OptionSubject): Iterable<Draft> {
  const whole = assessment.pack.mixCurrent;
  if (!whole) return;
  const packShare = option.arrangement === 'parallel' ? 1 / option.count : 1;
  const plugged: Plugged[] = [
    { part: option.part, place: option.place, share: packShare },
    ...build.leads.map(({ part, place, count }) => ({ part, place, share: 1 / count })),
  ];
  for (const { part, place, share } of plugged) {
    const type = part.word('plug');
    const plug = plugOf(type);
    if (!plug) continue;
    const current = scale(whole, share);
    const severity = gradeAbove(relativeTo(current, plug.continuous), [{ past: average, severity: 'warning' }]);
    if (!severity) continue;
    const limit = sayExact(plug.continuous, 'A');
    const own = part.placeOf('plug');
    yield {
      severity,
      question: `whether the ${type} of ${part.name} stays within ${limit} over the flight (${say(current, 'A')})`,
      message: `Over the flight as flown ${say(current, 'A')} go through the ${type} of ${part.name}, ${percent(current.value / plug.continuous)} of the ${limit} it carries for minutes: it loses its spring and melts.${larger(current.value)}`,
      place,
      numbers: [number('current', current, 'A'), exactNumber('limit', plug.continuous, 'A')],
      related: own ? [{ message: `${type}: ${plug.says}`, place: own }] : [],
    };
    // Two halves of one pair run equally hot: one message.
    return;
  }
}

function larger(current: number): string {
  const [next] = Object.entries(PLUGS)
    .filter(([, { continuous }]) => continuous >= current)
    .sort(([, a], [, b]) => a.continuous - b.continuous);
  return next ? ` ${next[0]} carries it.` : '';
}
