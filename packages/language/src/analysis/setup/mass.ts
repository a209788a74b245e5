/** The mass ledger: what the craft consists of, line by line. */
import type { Build, Figure, Hole, Observation, PackOption, Part, Reading } from '../../model/build.ts';
import { isInlinePart, partKey } from '../../model/identities.ts';
import { fittedSlots, type PartSlot, type SlotList, slotsOf } from '../../model/slots.ts';
import { startKey } from '../../syntax/place.ts';
import { MASS } from '../../units/dimension.ts';
import { type PropertyName, schemaOf } from '../../vocabulary/properties.ts';
import type { Property } from '../../vocabulary/schema.ts';
import type { MassLine } from '../assessment.ts';
import { SMALL_THINGS } from '../uncertainty/model-form.ts';
import { asItStands, type Formula } from './template.ts';

interface Item {
  /** Negative for what was taken out since the craft was weighed. */
  readonly count: number;
  readonly part: Part;
}

/** What no craft flies without. */
const ESSENTIAL: readonly SlotList[] = ['airframe', 'rotors', 'escs'];

/** Everything a build names but its packs, as the ledger lists it: what is essential, list by list, and then the fittings. */
function groupsOf(build: Build): PartSlot[][] {
  const fittings = fittedSlots(build).filter(({ list }) => !ESSENTIAL.includes(list));
  return [...ESSENTIAL.map((list) => slotsOf(build, [list])), fittings];
}

const itemsOf = (build: Build): readonly Item[] => groupsOf(build).flat();

/**
 * What came on and what came off since the craft was weighed. No craft flies without frame, motors and board: where the weighed
 * build names none, the scale felt what this one names.
 */
function changesSince(weighed: Build, build: Build): Item[] {
  const changes = new Map<string, Item>();
  const change = (sign: 1 | -1, { count, part }: Item) => {
    // Of another weight it came in place of the one that was weighed.
    const stated = part.placeOf('mass');
    const key = `${partKey(part)} ${stated ? startKey(stated) : ''}`;
    const before = changes.get(key)?.count ?? 0;
    changes.set(key, { part, count: before + sign * count });
  };
  const after = groupsOf(build);
  for (const [i, before] of groupsOf(weighed).entries()) {
    if (i < ESSENTIAL.length && before.length === 0) continue;
    for (const slot of before) change(-1, slot);
    for (const slot of after[i] ?? []) change(1, slot);
  }
  return [...changes.values()].filter(({ count }) => count !== 0);
}

/** The dry mass as a formula, or why there is none. */
export type DryMass =
  | { readonly formula: Formula; readonly reason?: undefined }
  | { readonly formula?: undefined; readonly reason: string };

/** Whether small things are in the build by mass and label (`item: 2.4 g "solder, tape"`): then nothing is added for them. */
function listsSmallThings(build: Build): boolean {
  return build.items.some(({ part }) => isInlinePart(part));
}

/** What a craft does not take along, what is another mass, and what is taken out of it: lines that are not in the sum. */
const NOT_SUMMED: ReadonlySet<string> = new Set<PropertyName<'build'>>(['spare', 'pack', 'without']);

const namesMass = ({ name, parts = [] }: Property): boolean =>
  !NOT_SUMMED.has(name) && parts.some((kind) => schemaOf(kind).properties.mass !== undefined);

/** Lines that name something with a mass, and the build that this one is like. */
const WEIGHING: readonly Hole[] = [
  'like',
  ...Object.values(schemaOf('build').properties)
    .filter(namesMass)
    .map(({ name }) => name),
];

/** The pack that was on: named, or the only one. */
export const packObserved = ({ packs }: Build, { pack }: Observation): PackOption | undefined =>
  pack === undefined && packs.length === 1 ? packs[0] : packs.find(({ name }) => name === pack);

/** The scale's reading of the craft ready to fly, and the pack that was on. */
interface ScaleReading {
  readonly ready: Figure;
  readonly pack: Figure;
  readonly option: PackOption;
}

/**
 * With this pack, else with another: it replaces a sum of parts that cannot be made, since a part has no mass, or that the scale
 * shows to lack something. Else the scale's reading is one of the lines that the fit takes together.
 */
function scaleReading(build: Build, option: PackOption): ScaleReading | undefined {
  if (build.dryMass) return undefined;
  const readings = build.observations.flatMap((observation): ScaleReading[] => {
    const ready = observation.part.declared('scale');
    const on = packObserved(build, observation);
    const pack = on?.part.figure('mass');
    return ready && on && pack && isCraft(build, ready, on.count * pack.value) ? [{ ready, pack, option: on }] : [];
  });
  const reading = readings.find((one) => one.option === option) ?? readings[0];
  return reading && !explains(build, reading) ? reading : undefined;
}

/** No list forgets as much as the craft weighs: by such a factor a reading is a slip, which is set aside (see `learn/set-aside.ts`). */
const SLIP = 2;

/** Whether a scale can have read that of a craft with so heavy a pack. */
function isCraft(build: Build, { value }: Figure, pack: number): boolean {
  if (value <= pack) return false;
  const { formula } = sumOfParts(build);
  const listed = formula && formula(asItStands) + pack;
  return listed === undefined || Math.abs(Math.log(value / listed)) < Math.log(SLIP);
}

/** Farther off, in standard deviations, something flies that no line names: packs and parts weigh what they state. */
const UNEXPLAINED = 3;

/** Whether the parts' masses can explain the scale's reading. */
function explains(build: Build, { ready, pack, option: { count } }: ScaleReading): boolean {
  const { formula } = sumOfParts(build);
  if (!formula) return false;
  const listed = formula(asItStands);
  const parts = itemsOf(build).map((item) => item.count * (item.part.figure('mass')?.standardUncertainty ?? 0));
  const smallThings = listsSmallThings(build) ? 0 : listed * SMALL_THINGS.standardUncertainty;
  const spread = Math.hypot(...parts, smallThings, ready.standardUncertainty, count * pack.standardUncertainty);
  return Math.abs(ready.value - count * pack.value - listed) <= UNEXPLAINED * spread;
}

/** Whether the dry mass comes from a scale on which the craft was weighed ready to fly. */
export const isReadOffScale = (build: Build, option: PackOption): boolean => scaleReading(build, option) !== undefined;

/**
 * Put on the scale where the build states it; else the sum of the parts and, by practice, 2 % for small things; where that cannot be made, what an
 * observation's scale reading less the pack that was on.
 */
export function dryMassOf(build: Build, option: PackOption): DryMass {
  const { dryMass: onScale, weighed } = build;
  const reading = scaleReading(build, option);
  if (reading) return { formula: (read) => read(reading.ready) - reading.option.count * read(reading.pack) };
  if (onScale && !weighed) return { formula: (read) => read(onScale) };
  if (!onScale || !weighed) return sumOfParts(build);
  return unreadable(build) ?? sinceWeighed(build, weighed, onScale);
}

/** A sum without the part that was misspelt would be wrong, and tightly so. */
function unreadable({ holes }: Build): { readonly reason: string } | undefined {
  const unread = WEIGHING.find((word) => holes.has(word));
  return unread === undefined ? undefined : { reason: `a line "${unread}" cannot be read yet` };
}

/** Ready to fly, kg; undefined where it is not known. */
export function massOf(build: Build, option: PackOption): Formula | undefined {
  const { formula } = dryMassOf(build, option);
  const pack = option.part.figure('mass');
  return formula && pack && ((read) => formula(read) + option.count * read(pack));
}

/** The scale's reading, with what came on and off since. */
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
  const unread = unreadable(build);
  if (unread) return unread;
  if (build.rotors.length === 0) return { reason: 'the build has no motors' };
  const items = weighedItems(itemsOf(build));
  if ('reason' in items) return items;
  const { masses } = items;
  if (masses.length === 0) return { reason: 'the line names no part' };
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

/** kg: what those parts that state their mass add up to, as they were when weighed; a dry mass on the scale is no less. */
export const declaredMass = ({ weighed, ...build }: Build): number =>
  itemsOf(weighed ?? build).reduce((sum, { count, part }) => sum + count * (part.declared('mass')?.value ?? 0), 0);

/**
 * The ledger's lines; they add up to the all-up weight where every mass is known.
 * @param read of figures, as they were learnt
 */
export function massLines(build: Build, option: PackOption, read: Reading = asItStands): MassLine[] {
  const lines = [...dryLines(build, option, read)];
  const pack = option.part.figure('mass');
  return pack ? [...lines, lineOf(option, pack, read)] : lines;
}

function dryLines(build: Build, option: PackOption, read: Reading): Iterable<MassLine> {
  const reading = scaleReading(build, option);
  if (reading) return [readyLine(reading, read)];
  return build.dryMass ? scaleLines(build, build.dryMass, read) : partLines(build, read);
}

/** The pack's own ± is in both. */
function readyLine({ ready, pack, option }: ScaleReading, read: Reading): MassLine {
  const { name, count } = option;
  const mass = {
    ...ready,
    label: `scale less ${name}`,
    value: read(ready) - count * read(pack),
    standardUncertainty: Math.hypot(ready.standardUncertainty, count * pack.standardUncertainty),
  };
  return {
    label: `ready to fly on the scale, less ${name}`,
    of: option,
    count: 1,
    mass,
    ...(ready.place && { place: ready.place }),
  };
}

function* scaleLines(build: Build, onScale: Figure, read: Reading): Iterable<MassLine> {
  const { weighed } = build;
  const label = weighed ? `dry mass of ${weighed.name}, weighed` : 'weighed dry mass';
  yield { label, count: 1, mass: { ...onScale, value: read(onScale) }, ...(onScale.place && { place: onScale.place }) };
  if (!weighed) return;
  for (const item of changesSince(weighed, build)) {
    const mass = item.part.figure('mass');
    if (mass) yield lineOf(item, mass, read);
  }
}

function* partLines(build: Build, read: Reading): Iterable<MassLine> {
  const listed: MassLine[] = [];
  for (const item of itemsOf(build)) {
    const mass = item.part.figure('mass');
    if (mass) listed.push(lineOf(item, mass, read));
  }
  yield* listed;
  const sum = listed.reduce((total, { mass }) => total + mass.value, 0);
  if (sum > 0 && !listsSmallThings(build)) yield { label: 'small things', count: 1, mass: smallThings(sum, read) };
}

/** Several pieces of one part have one error: their masses add up with it. */
function lineOf({ count, part }: Item, mass: Figure, read: Reading): MassLine {
  const pieces = Math.abs(count);
  return {
    label: count < 0 ? `without ${part.name}` : part.name,
    of: part,
    count: pieces,
    place: mass.place ?? part.place,
    mass: { ...mass, value: count * read(mass), standardUncertainty: pieces * mass.standardUncertainty },
  };
}

function smallThings(listed: number, read: Reading): Figure {
  return {
    ...SMALL_THINGS,
    id: `${SMALL_THINGS.id}.mass`,
    dimension: MASS,
    unit: 'g',
    value: listed * read(SMALL_THINGS),
    standardUncertainty: listed * SMALL_THINGS.standardUncertainty,
  };
}
