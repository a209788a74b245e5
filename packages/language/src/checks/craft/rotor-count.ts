/** The number of motors is not the number of places for them, or not what the boards can drive. */
import type { BuildSubject, Check, Draft } from '../check.ts';
import { exactNumber } from '../shared/finding-numbers.ts';

export const rotorCount: Check = {
  id: 'rotor-count',
  build: findMismatch,
  page: {
    title: 'Motors, arms and ESC channels do not add up',
    cause: 'A motor too few does not fly; a channel too few leaves one undriven.',
    criterion:
      'a number of motors other than the airframe’s `rotors` (coaxial pairs may count an arm once): error. Fewer ESC channels than motors: error.',
    standing: 'Counting.',
    remedy: 'Correct the count in the `motors:` or `esc:` line.',
    fixes: [],
    fails: `build Lame like Healthy {
  motors: 3 x M1805 with P4024x3
}`,
    passes: `build Whole like Healthy {
  motors: 4 x M1805 with P4024x3
}`,
  },
};

/** While any of these is half typed, what is counted is not all. */
const COUNTED = ['motors', 'upper_motors', 'lower_motors', 'esc', '}'] as const;

function* findMismatch({ build }: BuildSubject): Iterable<Draft> {
  const [firstLine] = build.rotors;
  if (!firstLine || COUNTED.some((word) => build.holes.has(word))) return;
  const motors = build.rotors.reduce((sum, line) => sum + line.count.value, 0);
  const coaxial = build.rotors.some((line) => line.position !== 'single');

  const frame = build.airframe?.part;
  const arms = frame?.declared('rotors');
  if (frame && arms && motors !== arms.value && !(coaxial && motors === 2 * arms.value)) {
    yield {
      severity: 'error',
      message: `${frame.name} has ${arms.value} places for rotors, the build has ${motors} motors.`,
      names: [frame],
      place: firstLine.place,
      numbers: [exactNumber('motors', motors, '1'), exactNumber('rotors', arms.value, '1')],
      related: arms.place ? [{ message: `${arms.value} rotors`, place: arms.place }] : [],
    };
    return;
  }

  const [firstBoard] = build.escs;
  const channels = build.escs.map(({ part, count }) => {
    const declared = part.declared('channels');
    return declared && declared.value * count;
  });
  if (!firstBoard || channels.some((count) => count === undefined)) return;
  const driven = channels.reduce<number>((sum, count) => sum + (count ?? 0), 0);
  if (driven >= motors) return;
  yield {
    severity: 'error',
    message: `The boards drive ${driven} motors, the build has ${motors}: ${motors - driven} would stay undriven.`,
    names: [],
    place: firstBoard.place,
    numbers: [exactNumber('channels', driven, '1'), exactNumber('motors', motors, '1')],
  };
}
