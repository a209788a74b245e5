/** Limits that a part states otherwise than before, so that it is allowed more: nothing got better by it. */

import type { Build, Figure, Part } from '../../model/build.ts';
import { equal } from '../../units/dimension.ts';
import { schemaOf } from '../../vocabulary/properties.ts';
import type { BlockKind } from '../../vocabulary/schema.ts';
import { type Said, withProperty } from './as-before.ts';
import type { FindingChange } from './finding-changes.ts';
import type { Judgement, Loosening } from './relaxations.ts';

/** To which side a limit allows more; `higher`: of a range only its upper end bounds; `fits`: it has to suit another one. */
type Side = 'more' | 'less' | 'wider' | 'higher' | 'fits';

const SUPPLY = { supply: 'wider' } as const;
const RATINGS = { continuous: 'more', burst: 'more', max: 'more' } as const;
const HEAT = { thermal_resistance: 'less', max_temperature: 'more' } as const;
const CONVERTER = { ...SUPPLY, ...RATINGS, ...HEAT } as const;

/** By kind: properties that a check judges by. */
const LIMITS: Partial<Record<BlockKind, Readonly<Record<string, Side>>>> = {
  motor: { rated: 'higher', ...RATINGS, power: 'more', ...HEAT, bolts: 'fits', screw_depth: 'more', shaft: 'fits' },
  propeller: { max_speed: 'more', bore: 'fits' },
  esc: { cells: 'wider', ...SUPPLY, ...RATINGS, ...HEAT, bolts: 'fits' },
  rail: CONVERTER,
  regulator: CONVERTER,
  load: { ...SUPPLY, bolts: 'fits' },
  pack: { discharge: 'more', burst: 'more', plug: 'fits', plus: 'fits' },
  lead: { plug: 'fits', plus: 'fits' },
  airframe: {
    rotors: 'fits',
    wheelbase: 'more',
    guard_diameter: 'more',
    bay: 'more',
    bolts: 'fits',
    motor_bolts: 'fits',
  },
};

/** What else bounds the same. */
const STANDS_IN: Readonly<Record<string, readonly string[]>> = {
  continuous: ['max'],
  burst: ['max'],
  max: ['burst'],
  cells: ['supply'],
  supply: ['cells'],
};

/** One part in both versions. */
interface Kept {
  /** As the new version of the build calls it: `motor M1606`. */
  readonly name: string;
  readonly before: Part;
  readonly now: Part;
}

export function limitLoosenings(before: Judgement, after: Judgement): Loosening[] {
  return keptParts(before.build, after.build).flatMap((kept) => {
    // A line that has an error now is reported as such.
    const wrong = after.wrongLines(kept.now.place.uri).length - before.wrongLines(kept.before.place.uri).length;
    const taken = wrong > 0 ? [] : takenFrom(kept, before);
    return [...taken, ...raisedIn(kept, before, after)];
  });
}

function takenFrom({ name, before, now }: Kept, { wordsAt }: Judgement): Loosening[] {
  return Object.keys(LIMITS[before.kind] ?? {}).flatMap((property): Loosening[] => {
    const place = before.placeOf(property);
    const isStated = [property, ...(STANDS_IN[property] ?? [])].some(
      (one) => now.placeOf(one) !== undefined || now.holes.has(one),
    );
    if (!place || isStated) return [];
    return [
      {
        reported: { what: 'limit', how: 'taken away', of: name, before: wordsAt(place), place, failedOn: [] },
        isAlways: true,
        restore: withProperty((part) => isSamePart(part, now), property, before),
      },
    ];
  });
}

function raisedIn({ name, before, now }: Kept, { wordsAt }: Judgement, after: Judgement): Loosening[] {
  return Object.entries(LIMITS[now.kind] ?? {}).flatMap(([property, side]): Loosening[] => {
    const [old, place] = [before.placeOf(property), now.placeOf(property)];
    if (side === 'fits' || now.holes.has(property) || before.holes.has(property)) return [];
    const isOther = statedOf(before, property) !== statedOf(now, property);
    // What went without a replacement is reported as taken away.
    const isGone = place === undefined && !(STANDS_IN[property] ?? []).some((one) => now.placeOf(one) !== undefined);
    if (!isOther || isGone) return [];
    const isRaised = allowsMore(before, now, property, side);
    return [
      {
        reported: {
          what: 'limit',
          how: isRaised ? 'raised' : 'changed',
          of: name,
          ...(old && { before: wordsAt(old) }),
          ...(place && { after: after.wordsAt(place) }),
          place: place ?? old ?? now.place,
          failedOn: [],
        },
        isAlways: isRaised,
        restore: withProperty((part) => isSamePart(part, now), property, before),
      },
    ];
  });
}

function allowsMore(before: Part, now: Part, property: string, side: Exclude<Side, 'fits'>): boolean {
  if (side === 'wider' || side === 'higher') {
    const [old, range] = [before.range(property), now.range(property)];
    if (!old || !range) return false;
    return range.high > old.high || (side === 'wider' && range.low < old.low);
  }
  const [old, size] = [before.size(property)?.sides, now.size(property)?.sides];
  if (old && size) return size.some((one, i) => one > (old[i] ?? one));
  // Where nothing was stated, what was estimated counted.
  const [was, is] = [before.figure(property), now.declared(property)];
  if (!was || !is || !equal(was.dimension, is.dimension)) return false;
  return side === 'less' ? is.value < was.value : is.value > was.value;
}

/** The same wherever the value is the same, in whatever unit. */
function statedOf(part: Part, property: string): string {
  // Of a range a figure is one end only.
  const figure = part.range(property)?.text.includes('..') ? undefined : part.declared(property);
  if (figure) return `${number(figure.value)} ${Object.values(figure.dimension).join()}`;
  const range = part.range(property);
  if (range) return `${number(range.low)} .. ${number(range.high)}`;
  const cells = part.cells(property);
  if (cells) return `${cells.series} ${cells.parallel}`;
  const sides = part.size(property)?.sides ?? part.bolts(property)?.sides;
  if (sides) return `${part.bolts(property)?.count} ${part.bolts(property)?.thread} ${sides.map(number).join(' x ')}`;
  return part.word(property) ?? part.text(property) ?? part.day(property) ?? part.part(property)?.name ?? '';
}

const number = (value: number): string => String(Number(value.toPrecision(12)));

const isSamePart = (one: Part, other: Part): boolean =>
  one.kind === other.kind && one.place.uri === other.place.uri && one.place.start === other.place.start;

/** Parts of one name, and parts in one place that are equal but for their limits: the same thing under another name. */
function keptParts(before: Build, after: Build): Kept[] {
  const [old, now] = [slotsOf(before), slotsOf(after)];
  const named = new Map([...old.values()].map((part) => [nameOf(part), part]));
  const stay = new Set([...now.values()].map(nameOf));
  const kept = new Map<string, Kept>();
  for (const [slot, part] of now) {
    const inSlot = old.get(slot);
    const isCopy = inSlot && !stay.has(nameOf(inSlot)) && isSameButLimits(inSlot, part);
    const partner = named.get(nameOf(part)) ?? (isCopy ? inSlot : undefined);
    // A rail goes by the board that has it.
    if (partner)
      kept.set(slot.startsWith('rail ') ? slot : nameOf(part), {
        name: nameIn(slot, part),
        before: partner,
        now: part,
      });
  }
  return [...kept.values()];
}

const nameOf = ({ kind, name }: Part): string => `${kind} ${name}`;

const nameIn = (slot: string, part: Part): string => (slot.startsWith('rail ') ? slot : nameOf(part));

/** By where in the build it is fitted. */
function slotsOf({ airframe, rotors, escs, regulators, rails, loads, leads, packs }: Build): Map<string, Part> {
  return new Map<string, Part>([
    ...(airframe ? [['airframe', airframe.part] as const] : []),
    ...rotors.flatMap(({ motor, propeller }, i) => [
      [`motor ${i}`, motor] as const,
      [`propeller ${i}`, propeller] as const,
    ]),
    ...[escs, leads].flatMap((uses) => uses.map(({ part }, i) => [`${part.kind} ${i}`, part] as const)),
    ...[regulators, loads].flatMap((uses) => uses.map(({ name, part }) => [`${part.kind} ${name}`, part] as const)),
    ...rails.filter(({ part }) => part.kind === 'rail').map(({ name, part }) => [`rail ${name}`, part] as const),
    ...packs.map(({ name, part }) => [`pack ${name}`, part] as const),
  ]);
}

function isSameButLimits(one: Part, other: Part): boolean {
  const limits = LIMITS[one.kind] ?? {};
  const facts = Object.keys(schemaOf(one.kind).properties).filter((name) => !(name in limits) && name !== 'price');
  return one.kind === other.kind && facts.every((name) => statedOf(one, name) === statedOf(other, name));
}

/** Figures that are called measured with nothing measured behind them, and such whose ± is another one beside the same origin. */
export function figureLoosenings(before: Judgement, after: Judgement): Loosening[] {
  return keptParts(before.build, after.build).flatMap((kept) =>
    Object.keys(schemaOf(kept.now.kind).properties).flatMap((property) => trusted(kept, property, before, after)),
  );
}

function trusted({ name, before: old, now }: Kept, property: string, before: Judgement, after: Judgement): Loosening[] {
  const [was, is] = [old.declared(property), now.declared(property)];
  const [oldPlace, place] = [old.placeOf(property), now.placeOf(property)];
  if (!was || !is || !oldPlace || !place || property === 'price') return [];
  // A limit that is another one is reported as that.
  if (property in (LIMITS[now.kind] ?? {}) && statedOf(old, property) !== statedOf(now, property)) return [];
  const isMeasured = is.origin === 'measured' && was.origin !== 'measured';
  if (isMeasured ? isBacked(now, property, after.build) : hasSameWidth(was, is)) return [];
  const wasKnown = widthAt(was, is.value);
  return [
    {
      reported: {
        what: 'figure',
        how: isMeasured ? 'called measured' : is.standardUncertainty > wasKnown ? 'widened' : 'narrowed',
        of: name,
        before: before.wordsAt(oldPlace),
        after: after.wordsAt(place),
        place,
        failedOn: [],
      },
      isAlways: true,
      restore: withProperty(
        (part) => isSamePart(part, now),
        property,
        known({ ...is, origin: was.origin, standardUncertainty: wasKnown }, now),
      ),
    },
  ];
}

/** The new figure, known as well as the old one. */
const known = (figure: Figure, now: Part): Said => ({
  figure: () => figure,
  declared: () => figure,
  range: (property) => now.range(property),
  size: (property) => now.size(property),
});

/** Its ± as a share of it, kept. */
const widthAt = ({ value, standardUncertainty }: Figure, now: number): number =>
  value === 0 ? standardUncertainty : (standardUncertainty / Math.abs(value)) * Math.abs(now);

function hasSameWidth(one: Figure, other: Figure): boolean {
  const isNear = (a: number, b: number) => Math.abs(a - b) <= 1e-9 * Math.max(a, b);
  return (
    isNear(one.standardUncertainty, other.standardUncertainty) ||
    isNear(widthAt(one, other.value), other.standardUncertainty)
  );
}

/** Rows of a stand about the part; of a mass the scale, of anything else a flight that was observed. */
function isBacked(part: Part, property: string, { observations, benches }: Build): boolean {
  const isOnStand = benches.some(({ part: stand }) =>
    ['motor', 'propeller', 'esc'].some((word) => {
      const other = stand.part(word);
      return other !== undefined && isSamePart(other, part);
    }),
  );
  const isWeighed = observations.some((one) => one.part.declared('scale') !== undefined);
  const isFlown = observations.some((one) =>
    ['hover_voltage', 'put_back', 'airborne', 'rested'].some((word) => one.part.declared(word) !== undefined),
  );
  return property === 'mass' ? isWeighed : isOnStand || isFlown;
}

/** Of the old version only. */
export const isGone = ({ status }: Pick<FindingChange, 'status'>): boolean =>
  status === 'resolved' || status === 'hidden';
