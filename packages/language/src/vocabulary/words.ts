/** Words of the language with a fixed meaning: choices, results, what every build has. */
import { PLUGS } from './plugs.ts';
import { BLOCK_KINDS, schemaOf } from './properties.ts';
import { FLIGHT_RESULTS, RAIL_RESULTS, RESULTS } from './results.ts';

/** Occasions a note may be for. */
export const OCCASIONS: Readonly<Record<string, string>> = {
  assembly: 'Shown on the list for putting it together.',
  preflight: 'Shown on the list before each flight.',
};

const MEANINGS: Readonly<Record<string, string>> = {
  pack: 'The pack itself, with nothing between; on a `vary:` line the packs that are tried.',
  motor: 'Behind `vary:` the motors that are tried.',
  propeller: 'Behind `vary:` the propellers that are tried.',
  airframe: 'Behind `vary:` the airframes that are tried.',
  esc: 'Behind `vary:` the speed controllers that are tried.',
  kv: 'Speed per volt of a motor: the same motor rewound.',
  pitch: 'Of a propeller.',
  diameter: 'Of a propeller.',
  none: 'Removes what the part it is `like` states.',
  hover: 'Thrust equal to the weight of the craft.',
  rail: 'Results of a rail: `rail.video.voltage`.',
  flight: 'Results of a flight in legs: `flight.TowerRound.charge_left`.',
  min: 'The smallest of several: `min(a, b)`.',
  max: 'The largest of several: `max(a, b)`.',
  reserve: 'A margin: `keep 20 % in reserve on esc.continuous` uses 80 % of the rating.',
  parallel: 'Packs in parallel add their capacity: `A with B in parallel`.',
  series: 'Packs in series add their voltage: `2 x A in series`.',
  capacity: 'Of the pack, as labelled.',
  lipo: 'Lithium polymer, 4.20 V full.',
  lihv: 'Lithium polymer for higher voltage, 4.35 V full.',
  liion: 'Lithium-ion round cells, 4.20 V full; heavy to discharge fast.',
  buck: 'Steps down; follows its input when that gets too low.',
  boost: 'Steps up.',
  buck_boost: 'Steps up or down as needed.',
  linear: 'Burns what is too much as heat.',
  pin: 'Plus is on the pin.',
  socket: 'Plus is on the socket.',
  left: 'Plus is on the left, looking into the contacts with the key up.',
  right: 'Plus is on the right, looking into the contacts with the key up.',
};

/** All built-in words with a sentence each. */
export const WORDS: ReadonlyMap<string, string> = new Map([
  ...Object.entries(MEANINGS),
  ...Object.entries(PLUGS).map(([name, plug]) => [name, `A plug with ${plug.description}.`] as const),
  ...[...RESULTS, ...RAIL_RESULTS, ...FLIGHT_RESULTS].map(({ name, description }) => [name, description] as const),
  ...Object.entries(OCCASIONS),
]);

export function isBuiltInWord(text: string): boolean {
  return WORDS.has(text);
}

/** Every word that some property offers as a choice. */
export function choices(): Set<string> {
  const properties = BLOCK_KINDS.flatMap((kind) => Object.values(schemaOf(kind).properties)).filter(
    // Its words are kinds and properties, which have their own pages.
    ({ shape }) => shape !== 'vary',
  );
  return new Set(
    properties.flatMap((property) => [
      ...(property.words ?? []),
      ...Object.values(property.clauses ?? {}).flatMap((rule) => rule?.words ?? []),
    ]),
  );
}
