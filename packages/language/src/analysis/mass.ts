/** The mass ledger: what hangs on the craft, line by line, and what it comes to. */
import type { Build, Figure, Observation, PackOption, Part, Use } from '../model/build.ts';
import { MASS } from '../units/dimension.ts';
import type { MassLine } from './assessment.ts';
import { SMALL_THINGS } from './model-form.ts';
import type { Formula } from './template.ts';

interface Item {
  readonly label: string;
  /** Negative for what was taken out since the craft was weighed. */
  readonly count: number;
  readonly part: Part;
}

/** Everything a build names but its packs, by what it is for. */
function groupsOf(build: Build): Readonly<Record<'airframe' | 'rotors' | 'escs' | 'fittings', readonly Item[]>> {
  const item = ({ count, part }: Pick<Use, 'count' | 'part'>): Item => ({ label: part.name, count, part });
  const { airframe, rotors, escs, regulators, loads, items, leads, mounts } = build;
  return {
    airframe: airframe ? [item(airframe)] : [],
    rotors: rotors.flatMap(({ count: { value: count }, motor, propeller }) => [
      item({ count, part: motor }),
      item({ count, part: propeller }),
    ]),
    escs: escs.map(item),
    fittings: [regulators, loads, items, leads, mounts].flat().map(item),
  };
}

const itemsOf = (build: Build): readonly Item[] => Object.values(groupsOf(build)).flat();

/**
 * What came on and what came off since the craft was weighed. No craft flies without frame, motors and board: where the weighed
 * build names none, the scale felt what this one names.
 */
function changesSince(weighed: Build, build: Build): Item[] {
  const changes = new Map<string, Item>();
  const change = (sign: 1 | -1, { label, count, part }: Item) => {
    const key = `${part.place.uri}#${part.place.start}`;
    const before = changes.get(key)?.count ?? 0;
    changes.set(key, { label, part, count: before + sign * count });
  };
  const [before, after] = [groupsOf(weighed), groupsOf(build)];
  for (const group of ['airframe', 'rotors', 'escs', 'fittings'] as const) {
    if (group !== 'fittings' && before[group].length === 0) continue;
    for (const item of before[group]) change(-1, item);
    for (const item of after[group]) change(1, item);
  }
  return [...changes.values()].filter(({ count }) => count !== 0);
}

/** The dry mass as a formula, or why there is none. */
export type DryMass =
  | { readonly formula: Formula; readonly reason?: undefined }
  | { readonly formula?: undefined; readonly reason: string };

/** Whether small things stand in the build by mass and label (`item: 2.4 g "solder, tape"`): then nothing is added for them. */
function listsSmallThings(build: Build): boolean {
  return build.items.some(({ part, place }) => part.place.uri === place.uri && part.place.start === place.start);
}

/** Lines that name something with a mass, and the build that this one is like. */
const WEIGHING = [
  'like',
  'airframe',
  'motors',
  'upper_motors',
  'lower_motors',
  'esc',
  'regulator',
  'lead',
  'load',
  'item',
  'mount',
];

/** The pack that was on: named, or the only one. */
export const packObserved = ({ packs }: Build, { pack }: Observation): PackOption | undefined =>
  pack === undefined && packs.length === 1 ? packs[0] : packs.find(({ name }) => name === pack);

/** What the scale said of the craft ready to fly, and the pack that was on. */
interface ScaleReading {
  readonly ready: Figure;
  readonly pack: Figure;
  readonly option: PackOption;
}

/** With this pack, else with another: it counts where the build says no dry mass, before any sum of claims. */
function scaleReading(build: Build, option: PackOption): ScaleReading | undefined {
  if (build.dryMass) return undefined;
  const readings = build.observations.flatMap((observation): ScaleReading[] => {
    const ready = observation.part.declared('scale');
    const on = packObserved(build, observation);
    const pack = on?.part.figure('mass');
    return ready && on && pack && ready.value > on.count * pack.value ? [{ ready, pack, option: on }] : [];
  });
  return readings.find((reading) => reading.option === option) ?? readings[0];
}

/** Whether the dry mass comes from a scale that the craft stood on ready to fly. */
export const isReadOffScale = (build: Build, option: PackOption): boolean => scaleReading(build, option) !== undefined;

/**
 * Put on the scale where the build says so, or less its pack where an observation does; else the sum of the parts and, by
 * practice, 2 % for small things.
 */
export function dryMass(build: Build, option: PackOption): DryMass {
  const { dryMass: onScale, weighed } = build;
  const reading = scaleReading(build, option);
  if (reading) return { formula: (read) => read(reading.ready) - reading.option.count * read(reading.pack) };
  if (onScale && !weighed) return { formula: (read) => read(onScale) };
  // A sum without the part that was misspelt would be wrong, and tightly so.
  const unread = WEIGHING.find((word) => build.holes.has(word));
  if (unread) return { reason: `a line that says "${unread}" cannot be read yet` };
  return onScale && weighed ? sinceWeighed(build, weighed, onScale) : sumOfParts(build);
}

/** What the scale said, with what came on and off since. */
function sinceWeighed(build: Build, weighed: Build, onScale: Figure): DryMass {
  const changes = weighedItems(changesSince(weighed, build));
  if ('reason' in changes) return changes;
  const formula: Formula = (read) =>
    changes.masses.reduce((sum, { count, mass }) => sum + count * read(mass), read(onScale));
  return formula(({ value }) => value) > 0
    ? { formula }
    : { reason: `what is taken out weighs more than ${weighed.name} with all of it on` };
}

function sumOfParts(build: Build): DryMass {
  if (build.rotors.length === 0) return { reason: 'no motors are named' };
  const items = weighedItems(itemsOf(build));
  if ('reason' in items) return items;
  const { masses } = items;
  if (masses.length === 0) return { reason: 'no part is named' };
  const smallThingsListed = listsSmallThings(build);
  return {
    formula: (read) => {
      const listed = masses.reduce((sum, { count, mass }) => sum + count * read(mass), 0);
      return smallThingsListed ? listed : listed * (1 + read(SMALL_THINGS));
    },
  };
}

/** Each with its mass, or whose mass nobody knows. */
function weighedItems(
  items: readonly Item[],
): { readonly masses: readonly { readonly count: number; readonly mass: Figure }[] } | { readonly reason: string } {
  const masses: { readonly count: number; readonly mass: Figure }[] = [];
  for (const { part, count } of items) {
    const mass = part.figure('mass');
    if (!mass) return { reason: `the mass of ${part.name} is not known` };
    masses.push({ count, mass });
  }
  return { masses };
}

/** kg: what those parts that say their mass come to, as they were when weighed; a dry mass on the scale is no less. */
export const declaredMass = ({ weighed, ...build }: Build): number =>
  itemsOf(weighed ?? build).reduce((sum, { count, part }) => sum + count * (part.declared('mass')?.value ?? 0), 0);

/** The ledger's lines; they add up to the all-up weight where every mass is known. */
export function massLines(build: Build, option: PackOption): MassLine[] {
  const lines = [...dryLines(build, option)];
  const pack = option.part.figure('mass');
  return pack ? [...lines, lineOf({ label: option.part.name, count: option.count, part: option.part }, pack)] : lines;
}

function dryLines(build: Build, option: PackOption): Iterable<MassLine> {
  const reading = scaleReading(build, option);
  if (reading) return [readyLine(reading)];
  return build.dryMass ? scaleLines(build, build.dryMass) : partLines(build);
}

/** The pack's own ± is in both. */
function readyLine({ ready, pack, option: { name, count } }: ScaleReading): MassLine {
  const mass = {
    ...ready,
    label: `scale less ${name}`,
    value: ready.value - count * pack.value,
    standardUncertainty: Math.hypot(ready.standardUncertainty, count * pack.standardUncertainty),
  };
  return {
    label: `ready to fly on the scale, less ${name}`,
    count: 1,
    mass,
    ...(ready.place && { place: ready.place }),
  };
}

function* scaleLines(build: Build, onScale: Figure): Iterable<MassLine> {
  const { weighed } = build;
  const label = weighed ? `dry mass of ${weighed.name} on the scale` : 'dry mass on the scale';
  yield { label, count: 1, mass: onScale, ...(onScale.place && { place: onScale.place }) };
  if (!weighed) return;
  for (const { label: name, count, part } of changesSince(weighed, build)) {
    const mass = part.figure('mass');
    if (mass) yield lineOf({ label: name, count, part }, mass);
  }
}

function* partLines(build: Build): Iterable<MassLine> {
  const listed: MassLine[] = [];
  for (const item of itemsOf(build)) {
    const mass = item.part.figure('mass');
    if (mass) listed.push(lineOf(item, mass));
  }
  yield* listed;
  const sum = listed.reduce((total, { mass }) => total + mass.value, 0);
  if (sum > 0 && !listsSmallThings(build)) yield { label: 'small things', count: 1, mass: smallThings(sum) };
}

/** Several pieces of one part have one error: their masses add up with it. */
function lineOf({ label, count, part }: Item, mass: Figure): MassLine {
  const pieces = Math.abs(count);
  return {
    label: count < 0 ? `without ${label}` : label,
    count: pieces,
    place: mass.place ?? part.place,
    mass: { ...mass, value: count * mass.value, standardUncertainty: pieces * mass.standardUncertainty },
  };
}

function smallThings(listed: number): Figure {
  return {
    ...SMALL_THINGS,
    dimension: MASS,
    unit: 'g',
    value: listed * SMALL_THINGS.value,
    standardUncertainty: listed * SMALL_THINGS.standardUncertainty,
  };
}
