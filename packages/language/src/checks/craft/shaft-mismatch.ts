/** The propeller's bore is not the motor's shaft. */
import type { BuildSubject, Check, Draft } from '../check.ts';
import { exactNumber, formatExact } from '../shared/finding-numbers.ts';
import { THRESHOLDS } from '../thresholds.ts';

const { play } = THRESHOLDS.shaftMismatch;

export const shaftMismatch: Check = {
  id: 'shaft-mismatch',
  build: findMismatch,
  page: {
    title: 'The propeller does not fit the shaft',
    cause:
      'A bore too narrow does not go on without splitting the hub; one too wide sits off centre, shakes the camera and works loose.',
    criterion: `bore narrower than the shaft: error; wider by more than ${play * 1e3} mm: warning. Only with both declared.`,
    standing: 'Geometry; the play: ours.',
    remedy: 'A propeller for this shaft, or a reducing ring that belongs to it. Never drill a hub out by hand.',
    fixes: [],
    fails: `motor Slim like M1805 {
  shaft: 1.5 mm
}
propeller Wide like P4024x3 {
  bore: 2 mm
}
build Wobbling like Healthy {
  motors: 4 x Slim with Wide
}`,
    passes: `motor Slim like M1805 {
  shaft: 1.5 mm
}
propeller Close like P4024x3 {
  bore: 1.5 mm
}
build True like Healthy {
  motors: 4 x Slim with Close
}`,
  },
};

/** Two figures of the same number differ by rounding only. */
const ROUNDING = 1e-6;

function* findMismatch({ build }: BuildSubject): Iterable<Draft> {
  for (const { motor, propeller, place } of build.rotors) {
    const shaft = motor.declared('shaft');
    const bore = propeller.declared('bore');
    if (!shaft || !bore) continue;
    const narrow = bore.value < shaft.value - ROUNDING;
    const wide = bore.value > shaft.value + play + ROUNDING;
    if (!narrow && !wide) continue;
    const sizes = `${propeller.name} has a bore of ${formatExact(bore.value, 'mm')}, ${motor.name} a shaft of ${formatExact(shaft.value, 'mm')}`;
    yield {
      severity: narrow ? 'error' : 'warning',
      message: `${sizes}: ${narrow ? 'it does not go on.' : 'it sits off centre and works loose without a reducing ring.'}`,
      names: [propeller, motor],
      place,
      numbers: [exactNumber('bore', bore.value, 'mm'), exactNumber('shaft', shaft.value, 'mm')],
      related: [
        ...(bore.place ? [{ message: `bore ${formatExact(bore.value, 'mm')}`, place: bore.place }] : []),
        ...(shaft.place ? [{ message: `shaft ${formatExact(shaft.value, 'mm')}`, place: shaft.place }] : []),
      ],
    };
  }
}
