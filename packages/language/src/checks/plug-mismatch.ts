/** The pack's plug is of another type than the craft's. */
import type { BuildSubject, Check, Draft } from './check.ts';

export const plugMismatch: Check = {
  id: 'plug-mismatch',
  build: findMismatch,
  page: {
    title: 'The plugs do not fit each other',
    cause: 'The pack cannot be connected in the field, or only by an adapter that nobody weighed and that adds drop.',
    criterion: 'the `plug` of the pack is none of those on the build’s leads: error. Only with both declared.',
    standing: 'Geometry.',
    remedy: 'Solder one plug to suit the other, or add the adapter as a `lead`. Mind the polarity.',
    fails: `lead Tail {
  wire: 18 AWG
  length: 40 mm
  plug: Bullet35
  mass: 1.5 g
}
pack Pinned like Slim480_2S {
  plug: Bullet2
}
build Unplugged like Healthy {
  lead: Tail
  without: Slim480_2S
  pack: Pinned
}`,
    passes: `lead Tail {
  wire: 18 AWG
  length: 40 mm
  plug: Bullet2
  mass: 1.5 g
}
pack Pinned like Slim480_2S {
  plug: Bullet2
}
build Plugged like Healthy {
  lead: Tail
  without: Slim480_2S
  pack: Pinned
}`,
  },
};

function* findMismatch({ build }: BuildSubject): Iterable<Draft> {
  const ends = build.leads.flatMap(({ part }) => {
    const plug = part.word('plug');
    return plug === undefined ? [] : [{ part, plug }];
  });
  const [first] = ends;
  if (!first) return;
  for (const { part, name, place } of build.packs) {
    const plug = part.word('plug');
    if (plug === undefined || ends.some((end) => end.plug === plug)) continue;
    const own = part.placeOf('plug');
    const other = first.part.placeOf('plug');
    yield {
      severity: 'error',
      message: `${name} ends in ${plug}, ${first.part.name} in ${first.plug}: they do not connect.`,
      place,
      numbers: [],
      related: [
        ...(own ? [{ message: plug, place: own }] : []),
        ...(other ? [{ message: first.plug, place: other }] : []),
      ],
    };
  }
}
