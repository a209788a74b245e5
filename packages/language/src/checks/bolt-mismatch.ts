/** Bolt patterns of two parts that are screwed together differ. */
import type { BoltPattern, Part } from '../model/build.ts';
import type { Place } from '../model/place.ts';
import type { BuildSubject, Check, Draft } from './check.ts';
import { exactNumber, sayExact } from './say.ts';

/** Holes have play; patterns are quoted to a tenth of a millimetre. m. */
const PLAY = 0.3e-3;

export const boltMismatch: Check = {
  id: 'bolt-mismatch',
  build: findMismatch,
  page: {
    title: 'The bolt patterns do not match',
    cause: 'A motor or board that does not sit on its holes works loose, or hangs on half its screws.',
    criterion:
      'the patterns differ by more than 0.3 mm on a side, or in thread: error. Only with both declared; a board’s pattern against the frame’s `bolts`, a motor’s against its `motor_bolts`.',
    standing: 'Geometry; play of 0.3 mm: ours.',
    remedy: 'Another part, or an adapter plate with its mass in the build.',
    fails: `esc Wide like Board20 {
  bolts: 4 x M2 on 20 x 20 mm
}
build Misfit like Healthy {
  esc: Wide
}`,
    passes: `build Fitting like Healthy {
  esc: Board20
}`,
  },
};

function* findMismatch({ build }: BuildSubject): Iterable<Draft> {
  const airframe = build.airframe?.part;
  if (!airframe) return;
  const boards = build.escs.map(({ part, place }) => ({ part, place, seat: airframe.bolts('bolts') }));
  const motors = build.rotors.map(({ motor, place }) => ({ part: motor, place, seat: airframe.bolts('motor_bolts') }));
  for (const { part, place, seat } of [...boards, ...motors]) {
    const pattern = part.bolts('bolts');
    if (seat && pattern && !match(pattern, seat)) yield mismatch(airframe, part, place, pattern, seat);
  }
}

function mismatch(airframe: Part, part: Part, place: Place, pattern: BoltPattern, seat: BoltPattern): Draft {
  return {
    severity: 'error',
    message: `${part.name} is drilled ${describe(pattern)}, ${airframe.name} ${describe(seat)}: it does not screw down.`,
    place,
    numbers: [exactNumber('pattern', pattern.sides[0] ?? 0, 'mm'), exactNumber('seat', seat.sides[0] ?? 0, 'mm')],
    related: [
      { message: describe(pattern), place: pattern.place },
      { message: describe(seat), place: seat.place },
    ],
  };
}

const ordered = ({ sides }: BoltPattern): number[] => [...sides].sort((a, b) => a - b);

/** A pattern written with one side is square or a circle; it matches a square of that side. */
function match(a: BoltPattern, b: BoltPattern): boolean {
  const first = ordered(a);
  const second = ordered(b);
  const longer = Math.max(first.length, second.length);
  for (let i = 0; i < longer; i++) {
    if (Math.abs((first[i] ?? first[0] ?? 0) - (second[i] ?? second[0] ?? 0)) > PLAY) return false;
  }
  return a.thread === b.thread || a.thread === '' || b.thread === '';
}

const describe = ({ count, thread, sides }: BoltPattern): string =>
  `${count} x ${thread} on ${sides.map((side) => sayExact(side * 1000, '1')).join(' x ')} mm`;
