/** A requirement likely holds, but the ± leaves it undecided; or what it requires cannot be computed. */

import { type Next, nextMeasurement } from '../../analysis/learn/next-measurement.ts';
import type { Margin } from '../../model/build.ts';
import { isImpossible } from '../../physics/craft.ts';
import { nameOfLimit } from '../../vocabulary/limits.ts';
import type { Check, Draft, OptionSubject } from '../check.ts';
import { percent } from '../shared/finding-numbers.ts';
import {
  decidingRails,
  decidingWords,
  type JudgedRequirement,
  judged,
  likelyHolds,
  requirementDraft,
  unjudgedMargins,
} from '../shared/judged-requirements.ts';

export const requirementUnsure: Check = {
  id: 'requirement-unsure',
  atMost: 'information',
  option: findUnsure,
  page: {
    title: 'The figures do not decide whether a requirement holds',
    cause:
      'The value meets the requirement, but the far end of its ± does not; or the requirement uses a result that cannot be computed from what the parts state.',
    criterion:
      'holds at the centre of the ±, fails at its far end: information. It requires a result that a complete build lacks, because an optional figure is not stated: information.',
    standing: 'The build’s own requirement or its rules.',
    remedy: 'Measure or state the figure that the message lists, or leave a larger margin.',
    fixes: [],
    fails: `build Borderline like Healthy {
  require hover_time >= 8 min
}`,
    passes: `build Roomy like Healthy {
  require hover_time >= 1 min
}`,
  },
};

function* findUnsure(subject: OptionSubject): Iterable<Draft> {
  for (const one of judged(subject)) {
    const { option } = subject;
    const on = `On ${option.name}`;
    if (likelyHolds(one.verdict)) {
      const advised = advice(subject, one);
      const first = advised ? ` Measure first: ${advised.what}.` : '';
      yield requirementDraft(subject, one, {
        severity: 'information',
        message: `${on}: ${decidingWords(one.verdict)}. It likely holds, but the figures do not decide it.${first}`,
        names: [option, ...decidingRails(subject, one.verdict), ...(advised?.names ?? [])],
      });
      continue;
    }
    const [lacking] = one.verdict.outcome === 'unknown' && isComplete(subject) ? one.verdict.missing : [];
    if (!lacking) continue;
    const draft = requirementDraft(subject, one, {
      severity: 'information',
      message: `${on} \`${one.requirement.text}\` cannot be judged. There is no ${lacking.name}: ${lacking.reason}.`,
      names: [option, ...(lacking.without ?? [])],
    });
    yield { ...draft, foldKey: lacking.name };
  }
  if (!isComplete(subject)) return;
  for (const margin of unjudgedMargins(subject))
    if (margin.place.uri === subject.build.uri) yield unjudged(subject, margin);
}

/** A margin applies wherever there is a rating: one that shared rules require of many craft is no news; one that the build itself requires is. */
function unjudged({ build, option }: OptionSubject, { limit, share, place }: Margin): Draft {
  return {
    severity: 'information',
    message: `On ${option.name} \`keep ${percent(share)} in reserve on ${nameOfLimit(limit)}\` cannot be judged: no ${limit.of} of ${build.name} states its ${limit.rating}.`,
    names: [option],
    place,
    numbers: [],
    related: [{ message: `on ${option.name}`, place: option.place }],
  };
}

/** Of a build that is half written, or that cannot fly as it is, the missing results are no news. */
function isComplete({ build, assessment: { points } }: OptionSubject): boolean {
  const flies = [points.hover, points.hoverAtReserve, points.full].every((point) => point && !isImpossible(point));
  return flies && build.holes.size === 0;
}

function advice({ assessment }: OptionSubject, { verdict }: JudgedRequirement): Next | undefined {
  const open = verdict.comparisons.find(({ outcome }) => outcome === 'unsure');
  return open && nextMeasurement(assessment, open.difference);
}
