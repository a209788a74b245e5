/** A requirement likely holds, but the ± does not let it be told. */

import { worthMeasuring } from '../analysis/sensitivity.ts';
import type { Check, Draft, OptionSubject } from './check.ts';
import type { Judged } from './requirements.ts';
import { decidingWords, judged, likelyHolds, requirementDraft } from './requirements.ts';

export const requirementUnsure: Check = {
  id: 'requirement-unsure',
  option: findUnsure,
  page: {
    title: 'A requirement likely holds, but it cannot be told',
    cause: 'The value meets what is asked, the far end of its ± does not.',
    criterion: 'holds at the centre of the ±, fails at its far end: information.',
    standing: 'The build’s own requirement or its rules.',
    remedy: 'Measure the figure that the message names, or leave more room.',
    fails: `build Borderline like Healthy {
  require hover_time >= 4 min 30 s
}`,
    passes: `build Roomy like Healthy {
  require hover_time >= 1 min
}`,
  },
};

function* findUnsure(subject: OptionSubject): Iterable<Draft> {
  for (const one of judged(subject)) {
    if (!likelyHolds(one.verdict)) continue;
    const sentence = `On ${subject.option.name}: ${decidingWords(one.verdict)}. It likely holds, but the figures cannot tell.${advice(subject, one)}`;
    yield requirementDraft(subject, one, 'information', sentence);
  }
}

function advice({ assessment }: OptionSubject, { verdict }: Judged): string {
  const open = verdict.comparisons.find(({ outcome }) => outcome === 'unsure');
  const advised = open && worthMeasuring(open.difference, assessment.inputs);
  return advised ? ` Measure first: ${advised.how}.` : '';
}
