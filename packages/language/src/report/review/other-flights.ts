/** Flights that a build is to make and that read otherwise than before: a shorter one, or one in less wind, requires less. */
import type { Build, Flight, Leg, Released, Use } from '../../model/build.ts';
import { takenFrom } from '../../model/flights.ts';
import type { Judgement, Loosening } from './relaxations.ts';

export function flightLoosenings(before: Judgement, after: Judgement): Loosening[] {
  return before.build.flights.flatMap((was): Loosening[] => {
    const is = after.build.flights.find(({ name }) => name === was.name);
    if (is && flownText(was) === flownText(is)) return [];
    return [
      {
        reported: {
          what: 'flight',
          how: is ? 'changed' : 'taken away',
          of: `flight ${was.name}`,
          ...(is
            ? { before: legsText(was), after: legsText(is), place: is.place }
            : { before: before.wordsAt(was.place), place: was.place }),
          failedOn: [],
        },
        isAlways: is === undefined,
        restore: (build) => ({
          ...build,
          flights: [
            ...build.flights.map((one) => (one.name === was.name ? { ...onBoard(was, build), place: one.place } : one)),
            ...(is ? [] : [onBoard(was, build)]),
          ],
        }),
      },
    ];
  });
}

const legsText = ({ legs }: Flight): string => legs.map(({ text }) => text).join('; ');

const flownText = ({ pack, legs }: Flight): string =>
  JSON.stringify([
    pack,
    legs.map(({ manner, time, distance, speed, wind, released }) => [
      manner,
      time,
      distance,
      speed,
      wind,
      released?.[0]?.use.name,
      released && countOf(released),
    ]),
  ]);

const countOf = (released: readonly Released[]): number => released.reduce((sum, { count }) => sum + count, 0);

/** What it releases is what the new craft has of that name. */
function onBoard(flight: Flight, { loads, items }: Build): Flight {
  const left = new Map<Use, number>();
  const legs = flight.legs.flatMap(({ released, ...leg }): Leg[] => {
    const [first] = released ?? [];
    if (!first) return [leg];
    const uses = [...loads, ...items].filter(({ name }) => name === first.use.name);
    const now = takenFrom(uses, countOf(released ?? []), left);
    return now ? [{ ...leg, released: now }] : [];
  });
  return { ...flight, legs };
}
