/** A requirement, or a margin on a rating, fails. */
import type { Check, Draft, OptionSubject } from '../check.ts';
import {
  decidingRails,
  decidingWords,
  failedOf,
  keptMargins,
  requirementDraft,
} from '../shared/judged-requirements.ts';

export const requirementFails: Check = {
  id: 'requirement-fails',
  option: findFailing,
  page: {
    title: 'A requirement fails',
    cause:
      'The build or its rules require something (`require`, `keep … in reserve on …`) that this pack option does not meet.',
    criterion:
      'fails even at the near end of the ±: error. Fails at its centre, holds at its near end: warning, it likely fails.',
    standing: 'The build’s own requirement or its rules.',
    remedy: 'Change the build, leave the pack out, or change the requirement.',
    fixes: [],
    fails: `build Demanding like Healthy {
  require thrust_to_weight >= 12 because "it tows a line"
}`,
    passes: `build Content like Healthy {
  require thrust_to_weight >= 1.5
}`,
  },
};

function* findFailing(subject: OptionSubject): Iterable<Draft> {
  for (const one of failedOf(subject, 'requirement-fails')) {
    const verb = one.verdict.outcome === 'fails' ? 'It fails' : 'It likely fails';
    yield requirementDraft(subject, one, {
      severity: one.severity,
      message: `On ${subject.option.name}: ${decidingWords(one.verdict)}. ${verb}.`,
      names: [subject.option, ...decidingRails(subject, one.verdict)],
    });
  }
  yield* keptMargins(subject);
}
