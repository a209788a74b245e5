/** A board's bolts are not where the frame has its holes. */

import type { BuildSubject, Check, Draft } from '../check.ts';
import { mismatches } from '../shared/bolts.ts';
import { THRESHOLDS } from '../thresholds.ts';

const { play } = THRESHOLDS.boltMismatch;

export const boardMismatch: Check = {
  id: 'board-mismatch',
  build: findMismatch,
  page: {
    title: 'The board does not fit the frame',
    cause: 'A board on two of its four screws bends and shakes, and the gyroscope on it with it.',
    criterion: `the board’s \`bolts\` and those of the frame differ by more than ${play * 1e3} mm on a side, or in thread: error. Only with both declared.`,
    standing: `Geometry; play of ${play * 1e3} mm: ours.`,
    remedy: 'Another board, or an adapter plate with its mass in the build.',
    fixes: [],
    fails: `esc Wide like Board28 {
  bolts: 4 x M2 on 20 x 20 mm
}
build Misfit like Healthy {
  esc: Wide
}`,
    passes: `build Fitting like Healthy {
  esc: Board28
}`,
  },
};

function* findMismatch({ build }: BuildSubject): Iterable<Draft> {
  const airframe = build.airframe?.part;
  if (!airframe) return;
  const seat = airframe.bolts('bolts');
  yield* mismatches(
    airframe,
    build.escs.map(({ part, place }) => ({ part, place, seat })),
  );
}
