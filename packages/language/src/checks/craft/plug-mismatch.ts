/** The pack's plug is of another type than the craft's, or wired the other way round. */

import type { Part } from '../../model/build.ts';
import type { Nameable } from '../../model/named.ts';
import type { Place } from '../../syntax/place.ts';
import { lookup } from '../../units/lookup-table.ts';
import type { BuildSubject, Check, Draft } from '../check.ts';
import { connects, type FittedPlug, plugAt } from '../shared/fitted-plugs.ts';

export const plugMismatch: Check = {
  id: 'plug-mismatch',
  build: findMismatch,
  page: {
    title: 'The plugs do not fit each other',
    cause:
      'The pack cannot be connected in the field, or only with an adapter that adds mass and voltage drop and is missing from the list. Plugs of one type wired the other way round do connect, and burn the board.',
    criterion:
      'the `plug` of the pack connects to none of those on the build’s leads: error (a type connects to itself, a declared `plug` to what it `mates`); so is plus at the same contact of both halves (`plus`), where no other lead fits. Only with both declared.',
    standing: 'Geometry.',
    remedy:
      'Solder one plug to suit the other, or add the adapter as a `lead`. Of a pack wired the other way round, change the plug, one contact at a time.',
    fixes: [],
    fails: `lead Tail {
  wire: 18 AWG
  length: 40 mm
  plug: Bullet35
  mass: 1.5 g
}
pack Pinned like Mast900_4S {
  plug: Bullet2
}
build Unplugged like Healthy {
  lead: Tail
  without: Mast900_4S
  pack: Pinned
}`,
    passes: `plug Shop2 {
  mates: Bullet2
  continuous: 12 A
}
lead Tail {
  wire: 18 AWG
  length: 40 mm
  plug: Shop2
  mass: 1.5 g
}
pack Pinned like Mast900_4S {
  plug: Bullet2
}
build Plugged like Healthy {
  lead: Tail
  without: Mast900_4S
  pack: Pinned
}`,
  },
};

interface End {
  readonly part: Part<'pack' | 'lead'>;
  readonly plug: FittedPlug;
}

/** A pack at its line, alone or as one of several. */
interface Plugged {
  readonly part: Part<'pack'>;
  readonly named: Nameable;
  readonly place: Place;
}

function* findMismatch({ build }: BuildSubject): Iterable<Draft> {
  const ends = build.leads.flatMap(({ part }): End[] => {
    const plug = plugAt(part);
    return plug ? [{ part, plug }] : [];
  });
  const [first] = ends;
  if (!first) return;
  const packs = build.packs.flatMap((option): Plugged[] => {
    const { part, beside, place } = option;
    return beside?.map((one) => ({ part: one.part, named: one.part, place })) ?? [{ part, named: option, place }];
  });
  const reported = new Map<string, Draft>();
  for (const { part, named, place } of packs) {
    const { name } = named;
    const plug = plugAt(part);
    if (plug === undefined) continue;
    const alike = ends.filter((end) => connects(end.plug, plug)).map((end) => end.part);
    const [reversed] = alike;
    if (!reversed) {
      const message = `${name} ends in ${plug.name}, ${first.part.name} in ${first.plug.name}: they do not connect.`;
      // Packs with one plug are one mistake, most likely at the lead.
      const before = reported.get(plug.identity);
      const related = [...(before?.related ?? [...stated(part, 'plug'), ...stated(first.part, 'plug')])];
      if (before) related.push({ message: `nor does ${name}`, place });
      reported.set(
        plug.identity,
        before
          ? { ...before, related }
          : { severity: 'error', message, names: [named, first.part], place, numbers: [], related },
      );
    } else if (alike.every((end) => isReversed(part, end))) {
      const message = `${name} and ${reversed.name} connect the wrong way round: plus is ${WHERE[part.word('plus') ?? '']} of both. That burns the board at once.`;
      yield {
        severity: 'error',
        message,
        names: [named, reversed],
        place,
        numbers: [],
        related: [...stated(part, 'plus'), ...stated(reversed, 'plus')],
      };
    }
  }
  yield* reported.values();
}

const WHERE: Readonly<Record<string, string>> = lookup({
  pin: 'on the pin',
  socket: 'on the socket',
  left: 'on the left',
  right: 'on the right',
});

/** A pin goes into a socket, and halves that face each other are mirrored: plus on the same contact of both cannot be. */
function isReversed(one: End['part'], other: End['part']): boolean {
  const plus = one.word('plus');
  return plus !== undefined && plus === other.word('plus');
}

function stated(part: End['part'], property: 'plug' | 'plus'): { message: string; place: Place }[] {
  const place = part.placeOf(property);
  return place ? [{ message: `${property} ${part.word(property)}`, place }] : [];
}
