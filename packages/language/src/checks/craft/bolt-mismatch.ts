/** A motor's bolts are not where the frame has its holes. */

import type { BuildSubject, Check, Draft } from '../check.ts';
import { mismatches } from '../shared/bolts.ts';
import { THRESHOLDS } from '../thresholds.ts';

const { play } = THRESHOLDS.boltMismatch;

export const boltMismatch: Check = {
  id: 'bolt-mismatch',
  build: findMismatch,
  page: {
    title: 'The motor’s bolts do not match the frame',
    cause: 'A motor fastened by half its screws works loose, and its propeller hits the frame.',
    criterion: `the motor’s \`bolts\` and the frame’s \`motor_bolts\` differ by more than ${play * 1e3} mm on a side, or in thread: error. Only with both declared.`,
    standing: `Geometry; play of ${play * 1e3} mm: ours.`,
    remedy: 'Another motor, or an adapter plate with its mass in the build.',
    fixes: [],
    fails: `airframe Drilled like Guard196 {
  motor_bolts: 4 x M2 on 12 x 12 mm
}
motor Wide like M1805 {
  bolts: 4 x M2 on 9 x 9 mm
}
build Misfit like Healthy {
  airframe: Drilled
  motors: 4 x Wide with P4024x3
}`,
    passes: `airframe Drilled like Guard196 {
  motor_bolts: 4 x M2 on 12 x 12 mm
}
motor Right like M1805 {
  bolts: 4 x M2 on 12 x 12 mm
}
build Fitting like Healthy {
  airframe: Drilled
  motors: 4 x Right with P4024x3
}`,
  },
};

function* findMismatch({ build }: BuildSubject): Iterable<Draft> {
  const airframe = build.airframe?.part;
  if (!airframe) return;
  const seat = airframe.bolts('motor_bolts');
  yield* mismatches(
    airframe,
    build.rotors.map(({ motor, place }) => ({ part: motor, place, seat })),
  );
}
