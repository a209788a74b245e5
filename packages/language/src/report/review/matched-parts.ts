/**
 * Matches the parts of a build before and after a change: by name, or by role. A part that is equal except for limits and small differences is the same
 * part under another name; any other part was exchanged.
 */
import type { Build, Part } from '../../model/build.ts';
import { equal } from '../../units/dimension.ts';
import { schemaOf } from '../../vocabulary/properties.ts';
import { limitsOfKind, statedOf } from './stated-limits.ts';

/** One part in both versions. */
export interface MatchedPart {
  /** Its name in the new version of the build: `motor M1606`. */
  readonly name: string;
  readonly before: Part;
  readonly now: Part;
  /**
   * `same`: of one name, or equal but for its limits; `alike`: under another name nearly the same; `exchanged`: another part in the same role.
   */
  readonly as: 'same' | 'alike' | 'exchanged';
}

/** Largest relative difference of a figure between two parts that count as alike; ours. */
const TRIFLE = 0.1;

export function matchedParts(before: Build, after: Build): MatchedPart[] {
  const [old, now] = [slotsOf(before), slotsOf(after)];
  const named = new Map([...old.values()].map((part) => [nameOf(part), part]));
  const stay = new Set([...now.values()].map(nameOf));
  const kept = new Map<string, MatchedPart>();
  for (const [slot, part] of now) {
    const namesake = slot.startsWith(RAIL) ? (old.get(slot) ?? named.get(nameOf(part))) : named.get(nameOf(part));
    const partner = namesake ?? formerIn(slot, part, old, now, stay);
    if (!partner) continue;
    const as = namesake || isSameButLimits(partner, part) ? 'same' : isAlike(partner, part) ? 'alike' : 'exchanged';
    // A rail is matched with that of the board that has it.
    const name = slot.startsWith(RAIL) ? slot : nameOf(part);
    if (!kept.has(name) || namesake) kept.set(name, { name, before: partner, now: part, as });
  }
  return [...kept.values()];
}

/** Of an added build: its parts that the old version declares as well. */
export function declaredBefore(after: Build, partBefore: (part: Part) => Part | undefined): MatchedPart[] {
  const kept = [...slotsOf(after)].flatMap(([slot, now]): [string, MatchedPart][] => {
    const before = slot.startsWith(RAIL) ? undefined : partBefore(now);
    const rails = before && now.rails.flatMap((rail) => railsAlike(rail, before));
    return before
      ? [
          [nameOf(now), { name: nameOf(now), before, now, as: 'same' }],
          ...(rails ?? []).map((one) => [one.name, one] as [string, MatchedPart]),
        ]
      : [];
  });
  return [...new Map(kept).values()];
}

const railsAlike = (now: Part, board: Part): MatchedPart[] =>
  board.rails
    .filter(({ name }) => name === now.name)
    .map((before) => ({ name: `${RAIL}${now.name}`, before, now, as: 'same' }));

const RAIL = 'rail ';

export const nameOf = ({ kind, name }: Pick<Part, 'kind' | 'name'>): string => `${kind} ${name}`;

/** The part that was in its place, else the most similar of those that were removed, else the most similar that is fitted less often now. */
function formerIn(
  slot: string,
  part: Part,
  old: ReadonlyMap<string, Part>,
  now: ReadonlyMap<string, Part>,
  stay: ReadonlySet<string>,
): Part | undefined {
  const inSlot = old.get(slot);
  if (inSlot?.kind === part.kind) return inSlot;
  const ofKind = [...new Set([...old.values()].filter(({ kind }) => kind === part.kind))];
  const gone = ofKind.filter((one) => !stay.has(nameOf(one)));
  const rarer = ofKind.filter((one) => countOf(now, one) < countOf(old, one));
  return [...(gone.length > 0 ? gone : rarer)].sort((a, b) => distance(a, part) - distance(b, part))[0];
}

const countOf = (slots: ReadonlyMap<string, Part>, part: Part): number =>
  [...slots.values()].filter((one) => nameOf(one) === nameOf(part)).length;

/** By its place in the build; each rotor has its own. */
function slotsOf(build: Build): Map<string, Part> {
  const { airframe, rotors, escs, regulators, rails, loads, items, leads, mounts, packs } = build;
  const each = (count: number) => Array.from({ length: Math.min(MOST_ROTORS, Math.max(1, Math.round(count))) });
  const motors = rotors.flatMap((line) => each(line.count.value).map(() => line));
  const slots = new Map<string, Part>([
    ...(airframe ? [['airframe', airframe.part] as const] : []),
    ...motors.flatMap(({ motor, propeller }, i) => [
      [`motor ${i}`, motor] as const,
      [`propeller ${i}`, propeller] as const,
    ]),
    ...[escs, leads].flatMap((uses) => uses.map(({ part }, i) => [`${part.kind} ${i}`, part] as const)),
    ...[regulators, loads, items, mounts].flatMap((uses) =>
      uses.map(({ name, part }) => [`${part.kind} ${name}`, part] as const),
    ),
    ...rails.filter(({ part }) => part.kind === 'rail').map(({ name, part }) => [`${RAIL}${name}`, part] as const),
    ...packs.flatMap(({ name, part, beside = [] }) => [
      ...(beside.length > 0 ? [] : [[`pack ${name}`, part] as const]),
      ...beside.map((one, i) => [`pack ${name} ${i}`, one.part] as const),
    ]),
  ]);
  for (const [slot, part] of [...slots]) {
    const plug = part.part('plug');
    if (plug?.kind === 'plug') slots.set(`plug of ${slot}`, plug);
  }
  return slots;
}

const MOST_ROTORS = 32;

/** What a part states of itself beside its limits and its price. */
export const factsOf = ({ kind }: Part): string[] => {
  const limits = limitsOfKind(kind);
  return Object.keys(schemaOf(kind).properties).filter((name) => !(name in limits) && name !== 'price');
};

const isSameButLimits = (one: Part, other: Part): boolean =>
  one.kind === other.kind && factsOf(one).every((name) => statedOf(one, name) === statedOf(other, name));

const isAlike = (one: Part, other: Part): boolean =>
  one.kind === other.kind && (distance(one, other) <= TRIFLE || isCopyButOneFigure(one, other));

/** Figures by which the trade names a thing: where one of them differs, it is another thing. */
const NAMING: ReadonlySet<string> = new Set(['kv', 'capacity', 'diameter', 'pitch']);

/** So many stated facts are the same by more than chance; ours. */
const FEWEST_EQUAL = 3;

/** Another thing differs in more than one figure. */
function isCopyButOneFigure(one: Part, other: Part): boolean {
  const facts = factsOf(one).filter((name) => one.placeOf(name) !== undefined && other.placeOf(name) !== undefined);
  const off = factsOf(one).filter((name) => apart(one, other, name) > TRIFLE && !facts.includes(name));
  const odd = facts.filter((name) => apart(one, other, name) > TRIFLE);
  const [only = ''] = odd;
  const isFigure = one.declared(only) !== undefined && !NAMING.has(only);
  return off.length === 0 && odd.length === 1 && isFigure && facts.length - 1 >= FEWEST_EQUAL;
}

/** The largest difference between two figures of them, stated or estimated, relative; 1 where they are of different sorts. */
function distance(one: Part, other: Part): number {
  return Math.max(0, ...factsOf(one).map((property) => apart(one, other, property)));
}

function apart(one: Part, other: Part, property: string): number {
  const [cells, others] = [one.cells(property), other.cells(property)];
  if (cells && others) return cells.series === others.series && cells.parallel === others.parallel ? 0 : 1;
  const [word, otherWord] = [one.word(property), other.word(property)];
  if (word !== undefined && otherWord !== undefined) return word === otherWord ? 0 : 1;
  const [size, otherSize] = [one.size(property)?.sides, other.size(property)?.sides];
  if (size && otherSize) return Math.max(...size.map((side, i) => share(side, otherSize[i] ?? side)));
  const [figure, otherFigure] = [one.figure(property), other.figure(property)];
  if (!figure || !otherFigure || !equal(figure.dimension, otherFigure.dimension)) return 0;
  return share(figure.value, otherFigure.value);
}

const share = (one: number, other: number): number =>
  one === other ? 0 : Math.abs(one - other) / Math.max(Math.abs(one), Math.abs(other));
