/** Flies shorter than a requirement asks. */
import type { Check, Draft, OptionSubject } from './check.ts';
import { decidingWords, failure, judged, ownFindingOf, requirementDraft } from './requirements.ts';
import { number, say } from './say.ts';

export const shortFlight: Check = {
  id: 'short-flight',
  option: findShort,
  page: {
    title: 'It flies shorter than is asked',
    cause:
      'A requirement asks for minutes, and this pack does not give them down to the reserve. Who flies on eats the reserve, and lands where the pack gives up.',
    criterion: 'a `require` that asks for a least `hover_time` or `flight_time` fails: error; likely fails: warning.',
    standing: 'The build’s own requirement or its rules.',
    remedy: 'A larger or lighter pack, less weight, a shorter task, or a requirement that fits the craft.',
    fails: `build Brief like Healthy {
  require hover_time >= 40 min because "one long watch"
}`,
    passes: `build Lasting like Healthy {
  require hover_time >= 1 min
}`,
  },
};

function* findShort(subject: OptionSubject): Iterable<Draft> {
  const { option, assessment } = subject;
  for (const one of judged(subject)) {
    const severity = failure(one.verdict);
    if (ownFindingOf(one.requirement) !== 'short-flight' || !severity) continue;
    const verb = one.verdict.outcome === 'fails' ? 'It flies' : 'It likely flies';
    const gram = assessment.results.get('gram_cost_time')?.estimate;
    const cost = gram ? ` Each gram less gives ${say(gram, 's/g')}.` : '';
    const time = assessment.results.get('hover_time')?.estimate;
    yield {
      ...requirementDraft(
        subject,
        one,
        severity,
        `${verb} too short on ${option.name}: ${decidingWords(one.verdict)}.${cost}`,
      ),
      ...(time && { numbers: [number('hover_time', time, 'min')] }),
    };
  }
}
