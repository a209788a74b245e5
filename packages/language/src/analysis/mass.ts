/** The mass ledger: what hangs on the craft, line by line, and what it comes to. */
import type { Build, Figure, PackOption, Part } from '../model/build.ts';
import { MASS } from '../units/dimension.ts';
import type { MassLine } from './assessment.ts';
import { SMALL_THINGS } from './model-form.ts';
import type { Formula } from './template.ts';

interface Item {
  readonly label: string;
  readonly count: number;
  readonly part: Part;
}

/** Everything a build names but its packs. */
function itemsOf(build: Build): Item[] {
  const items: Item[] = [];
  const add = (count: number, part: Part) => items.push({ label: part.name, count, part });
  if (build.airframe) add(build.airframe.count, build.airframe.part);
  for (const { count, motor, propeller } of build.rotors) {
    add(count.value, motor);
    add(count.value, propeller);
  }
  const groups = [build.escs, build.regulators, build.loads, build.items, build.leads, build.mounts];
  for (const group of groups) for (const { count, part } of group) add(count, part);
  return items;
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

/** Put on the scale where the build says so; else the sum of the parts and, by practice, 2 % for small things. */
export function dryMass(build: Build): DryMass {
  const { dryMass: onScale } = build;
  if (onScale) return { formula: (read) => read(onScale) };
  // A sum without the part that was misspelt would be wrong, and tightly so.
  const unread = WEIGHING.find((word) => build.holes.has(word));
  if (unread) return { reason: `a line that says "${unread}" cannot be read yet` };
  if (build.rotors.length === 0) return { reason: 'no motors are named' };
  const items = itemsOf(build);
  const masses: { readonly count: number; readonly mass: Figure }[] = [];
  for (const { part, count } of items) {
    const mass = part.figure('mass');
    if (!mass) return { reason: `the mass of ${part.name} is not known` };
    masses.push({ count, mass });
  }
  if (masses.length === 0) return { reason: 'no part is named' };
  const smallThingsListed = listsSmallThings(build);
  return {
    formula: (read) => {
      const listed = masses.reduce((sum, { count, mass }) => sum + count * read(mass), 0);
      return smallThingsListed ? listed : listed * (1 + read(SMALL_THINGS));
    },
  };
}

/** kg: what those parts that say their mass come to; a dry mass on the scale is no less. */
export const declaredMass = (build: Build): number =>
  itemsOf(build).reduce((sum, { count, part }) => sum + count * (part.declared('mass')?.value ?? 0), 0);

/** The ledger's lines; they add up to the all-up weight where every mass is known. */
export function massLines(build: Build, option: PackOption): MassLine[] {
  const { dryMass: onScale } = build;
  const lines = onScale
    ? [{ label: 'dry mass on the scale', count: 1, mass: onScale, ...(onScale.place && { place: onScale.place }) }]
    : [...partLines(build)];
  const pack = option.part.figure('mass');
  return pack ? [...lines, lineOf({ label: option.part.name, count: option.count, part: option.part }, pack)] : lines;
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
  return {
    label,
    count,
    place: mass.place ?? part.place,
    mass: { ...mass, value: count * mass.value, standardUncertainty: count * mass.standardUncertainty },
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
