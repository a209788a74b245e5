/** Flights that a build is to make and that read otherwise than before: a shorter one, or one in less wind, requires less. */
import type { Build, Flight, Leg, Use } from '../../model/build.ts';
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
    legs.map(({ manner, time, distance, speed, wind, release }) => [
      manner,
      time,
      distance,
      speed,
      wind,
      release?.use.name,
      release?.count,
    ]),
  ]);

/** What it releases is what the new craft has of that name. */
function onBoard(flight: Flight, { loads, items }: Build): Flight {
  const legs = flight.legs.flatMap(({ release, ...leg }): Leg[] => {
    if (!release) return [leg];
    const use: Use | undefined = [...loads, ...items].find(({ name }) => name === release.use.name);
    return use ? [{ ...leg, release: { ...release, use } }] : [];
  });
  return { ...flight, legs };
}
