/** Withstands less wind than a requirement states. */
import type { Check, Draft, OptionSubject } from '../check.ts';
import { number } from '../shared/finding-numbers.ts';
import { decidingRails, decidingWords, failedOf, requirementDraft } from '../shared/judged-requirements.ts';

export const weakInWind: Check = {
  id: 'weak-in-wind',
  option: findWeak,
  page: {
    title: 'It withstands less wind than required',
    cause:
      'A craft keeps its position by leaning into the wind. Where the tilt or the thrust at the reserve is not enough, it drifts off, and comes home late or not at all.',
    criterion:
      'a `require` with a minimum `wind_held` fails: error; likely fails: warning. Wind is computed only where the airframe declares its `drag_area`, or a leg of a flight needs it.',
    standing: 'The build’s own requirement or its rules.',
    remedy: 'Less drag area, more thrust or mass, more tilt (`tilt:`), or a calmer day.',
    fixes: [],
    fails: `airframe Sail like Guard196 {
  drag_area: 300 cm^2
}
build Drifting like Healthy {
  airframe: Sail
  require wind_held >= 25 m/s
}`,
    passes: `airframe Dart like Guard196 {
  drag_area: 60 cm^2
}
build Holding like Healthy {
  airframe: Dart
  require wind_held >= 2 m/s
}`,
  },
};

function* findWeak(subject: OptionSubject): Iterable<Draft> {
  const { option, assessment } = subject;
  for (const one of failedOf(subject, 'weak-in-wind')) {
    const verb = one.verdict.outcome === 'fails' ? 'It drifts off' : 'It likely drifts off';
    const wind = assessment.results.get('wind_held')?.estimate;
    yield {
      ...requirementDraft(subject, one, {
        severity: one.severity,
        message: `${verb} on ${option.name}: ${decidingWords(one.verdict)}.`,
        names: [option, ...decidingRails(subject, one.verdict)],
      }),
      ...(wind && { numbers: [number('wind_held', wind, 'm/s')] }),
    };
  }
}
