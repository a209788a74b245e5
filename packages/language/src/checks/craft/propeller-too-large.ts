/** The propeller does not fit into its guard. */
import type { BuildSubject, Check, Draft } from '../check.ts';
import { boundNumber, exactNumber, formatExact } from '../shared/finding-numbers.ts';

export const propellerTooLarge: Check = {
  id: 'propeller-too-large',
  build: findTooLarge,
  page: {
    title: 'The propeller does not fit into its guard',
    cause: 'Blades stretch and bend under load; one that touches the duct shatters, and the splinters fly.',
    criterion: 'propeller diameter at or above the guard’s inner diameter: error. Only with both declared.',
    standing: 'Geometry.',
    remedy: 'A smaller propeller, or a frame with larger guards.',
    fixes: [],
    fails: `propeller P4424x3 like P4024x3 {
  diameter: 112 mm
}
build Scraping like Healthy {
  motors: 4 x M1805 with P4424x3
}`,
    passes: `build Clear like Healthy {
  motors: 4 x M1805 with P4024x3
}`,
  },
};

function* findTooLarge({ build }: BuildSubject): Iterable<Draft> {
  const frame = build.airframe?.part;
  const guard = frame?.declared('guard_diameter');
  if (!frame || !guard) return;
  for (const { propeller, place } of build.rotors) {
    const diameter = propeller.declared('diameter');
    if (!diameter || diameter.value < guard.value) continue;
    yield {
      severity: 'error',
      message: `${propeller.name} is ${formatExact(diameter.value, 'mm')} across, the guard of ${frame.name} ${formatExact(guard.value, 'mm')} inside: blades hit the duct and shatter.`,
      names: [propeller, frame],
      place,
      numbers: [exactNumber('diameter', diameter.value, 'mm'), boundNumber('guard', guard.value, 'mm')],
      related: [
        ...(guard.place ? [{ message: `guard ${formatExact(guard.value, 'mm')}`, place: guard.place }] : []),
        ...(diameter.place
          ? [{ message: `diameter ${formatExact(diameter.value, 'mm')}`, place: diameter.place }]
          : []),
      ],
    };
  }
}
