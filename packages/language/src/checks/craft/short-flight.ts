/** Flies shorter than a requirement states. */
import { scale } from '../../analysis/uncertainty/estimate.ts';
import { formatEstimate } from '../../analysis/uncertainty/print-estimate.ts';
import type { Check, Draft, OptionSubject } from '../check.ts';
import { number } from '../shared/finding-numbers.ts';
import { decidingRails, decidingWords, failedOf, requirementDraft } from '../shared/judged-requirements.ts';

export const shortFlight: Check = {
  id: 'short-flight',
  option: findShort,
  page: {
    title: 'It flies for less time than required',
    cause:
      'A requirement states a flight time that this pack does not reach before its reserve. Whoever flies on uses up the reserve, and lands where the pack is empty.',
    criterion: 'a `require` with a minimum `hover_time` or `flight_time` fails: error; likely fails: warning.',
    standing: 'The build’s own requirement or its rules.',
    remedy: 'A larger or lighter pack, less weight, a shorter task, or a requirement that fits the craft.',
    fixes: [],
    fails: `build Brief like Healthy {
  require hover_time >= 40 min because "one long watch"
}`,
    passes: `build Enduring like Healthy {
  require hover_time >= 1 min
}`,
  },
};

function* findShort(subject: OptionSubject): Iterable<Draft> {
  const { option, assessment } = subject;
  for (const one of failedOf(subject, 'short-flight')) {
    const verb = one.verdict.outcome === 'fails' ? 'It flies' : 'It likely flies';
    const gram = assessment.results.get('gram_cost_time')?.estimate;
    const cost = gram ? ` Each gram removed adds ${formatEstimate(scale(gram, 1e-3), 's')} of hover.` : '';
    const time = assessment.results.get('hover_time')?.estimate;
    yield {
      ...requirementDraft(subject, one, {
        severity: one.severity,
        message: `${verb} too short on ${option.name}: ${decidingWords(one.verdict)}.${cost}`,
        names: [option, ...decidingRails(subject, one.verdict)],
      }),
      ...(time && { numbers: [number('hover_time', time, 'min')] }),
    };
  }
}
