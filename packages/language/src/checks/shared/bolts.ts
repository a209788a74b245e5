/** What the two checks on bolt patterns have in common: whether a part fits its seat, and how to report that it does not. */
import type { Part } from '../../model/build.ts';
import type { BoltPattern } from '../../model/part-values.ts';
import type { Place } from '../../syntax/place.ts';
import type { Draft } from '../check.ts';
import { THRESHOLDS } from '../thresholds.ts';
import { exactNumber, formatExact } from './finding-numbers.ts';

const { play } = THRESHOLDS.boltMismatch;

/** A part at its place in the build, and the holes it is screwed to. */
export interface Seated {
  readonly part: Part;
  readonly place: Place;
  readonly seat: BoltPattern | undefined;
}

export function* mismatches(airframe: Part<'airframe'>, seated: readonly Seated[]): Iterable<Draft> {
  for (const { part, place, seat } of seated) {
    const pattern = part.bolts('bolts');
    if (seat && pattern && !match(pattern, seat)) yield boltDraft(airframe, part, place, pattern, seat);
  }
}

function boltDraft(
  airframe: Part<'airframe'>,
  part: Part,
  place: Place,
  pattern: BoltPattern,
  seat: BoltPattern,
): Draft {
  return {
    severity: 'error',
    message: `${part.name} is drilled ${describe(pattern)}, ${airframe.name} ${describe(seat)}: it does not screw down.`,
    names: [part, airframe],
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
    if (Math.abs((first[i] ?? first[0] ?? 0) - (second[i] ?? second[0] ?? 0)) > play) return false;
  }
  return a.thread === b.thread || a.thread === '' || b.thread === '';
}

const describe = ({ count, thread, sides }: BoltPattern): string =>
  `${count} x ${thread} on ${sides.map((side) => formatExact(side * 1000, '1')).join(' x ')} mm`;
