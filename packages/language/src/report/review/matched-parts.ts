/**
 * Matches the parts of a build before and after a change: by name, or by role. A part that is equal except for limits and small differences is the same
 * part under another name; any other part was exchanged.
 */
import type { Build, Part } from '../../model/build.ts';
import { type SlotList, slotsOf } from '../../model/slots.ts';
import { equal } from '../../units/dimension.ts';
import { isFigureProperty, type PropertyName, propertyNames, schemaOf } from '../../vocabulary/properties.ts';
import { kindAndName } from '../present/report-words.ts';
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
  const [old, now] = [partsBySlot(before), partsBySlot(after)];
  const named = new Map([...old.values()].map((part) => [kindAndName(part), part]));
  const stay = new Set([...now.values()].map(kindAndName));
  const kept = new Map<string, MatchedPart>();
  for (const [slot, part] of now) {
    const isRail = part.kind === 'rail';
    const namesake = isRail ? (old.get(slot) ?? named.get(kindAndName(part))) : named.get(kindAndName(part));
    const partner = namesake ?? formerIn(slot, part, old, now, stay);
    if (!partner) continue;
    const as = namesake || isSameButLimits(partner, part) ? 'same' : isAlike(partner, part) ? 'alike' : 'exchanged';
    // A rail is matched with that of the board that has it.
    const name = isRail ? slot : kindAndName(part);
    if (!kept.has(name) || namesake) kept.set(name, { name, before: partner, now: part, as });
  }
  return [...kept.values()];
}

/** Of an added build: its parts that the old version declares as well. */
export function declaredBefore(after: Build, partBefore: (part: Part) => Part | undefined): MatchedPart[] {
  const kept = [...partsBySlot(after).values()].flatMap((now): [string, MatchedPart][] => {
    const before = now.kind === 'rail' ? undefined : partBefore(now);
    const rails = before && now.rails.flatMap((rail) => railsAlike(rail, before));
    return before
      ? [
          [kindAndName(now), { name: kindAndName(now), before, now, as: 'same' }],
          ...(rails ?? []).map((one): [string, MatchedPart] => [one.name, one]),
        ]
      : [];
  });
  return [...new Map(kept).values()];
}

const railsAlike = (now: Part, board: Part): MatchedPart[] =>
  board.rails
    .filter(({ name }) => name === now.name)
    .map((before) => ({ name: kindAndName(now), before, now, as: 'same' }));

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
  const gone = ofKind.filter((one) => !stay.has(kindAndName(one)));
  const rarer = ofKind.filter((one) => countOf(now, one) < countOf(old, one));
  return [...(gone.length > 0 ? gone : rarer)].sort((a, b) => distance(a, part) - distance(b, part))[0];
}

const countOf = (slots: ReadonlyMap<string, Part>, part: Part): number =>
  [...slots.values()].filter((one) => kindAndName(one) === kindAndName(part)).length;

/** By name: others of the list come and go. All else is counted. */
const NAMED: ReadonlySet<SlotList> = new Set(['regulators', 'loads', 'items', 'mounts']);

/** By its place in the build; each rotor has its own. */
function partsBySlot(build: Build): Map<string, Part> {
  const slots = new Map<string, Part>();
  const turns = new Map<string, number>();
  const next = (role: string): string => {
    const turn = turns.get(role) ?? 0;
    turns.set(role, turn + 1);
    return `${role} ${turn}`;
  };
  for (const { list, name, part, count } of slotsOf(build)) {
    const { kind } = part;
    if (NAMED.has(list)) slots.set(`${kind} ${name}`, part);
    else if (list === 'packs') slots.set(next(`${kind} ${name}`), part);
    else if (list === 'rotors')
      for (let i = 0; i < Math.min(MOST_ROTORS, Math.max(1, Math.round(count))); i++) slots.set(next(kind), part);
    else slots.set(next(kind), part);
  }
  for (const { name, part } of build.rails) if (part.kind === 'rail') slots.set(`rail ${name}`, part);
  for (const [slot, part] of [...slots]) {
    const plug = part.part('plug');
    if (plug?.kind === 'plug') slots.set(`plug of ${slot}`, plug);
  }
  return slots;
}

const MOST_ROTORS = 32;

/** What a part states of itself in addition to its limits and its price. */
export const factsOf = ({ kind }: Part): PropertyName[] => {
  const limits = limitsOfKind(kind);
  return propertyNames(kind).filter((name) => !(name in limits) && name !== 'price');
};

const isSameButLimits = (one: Part, other: Part): boolean =>
  one.kind === other.kind && factsOf(one).every((name) => statedOf(one, name) === statedOf(other, name));

const isAlike = (one: Part, other: Part): boolean =>
  one.kind === other.kind && (distance(one, other) <= TRIFLE || isCopyButOneFigure(one, other));

/** Figures by which the trade names a thing: where one of them differs, it is another thing. */
const NAMING: ReadonlySet<PropertyName> = new Set(['kv', 'capacity', 'diameter', 'pitch']);

/** So many stated facts are the same by more than chance; ours. */
const FEWEST_EQUAL = 3;

/** Another thing differs in more than one figure. */
function isCopyButOneFigure(one: Part, other: Part): boolean {
  const facts = factsOf(one).filter((name) => one.placeOf(name) !== undefined && other.placeOf(name) !== undefined);
  const off = factsOf(one).filter((name) => apart(one, other, name) > TRIFLE && !facts.includes(name));
  const odd = facts.filter((name) => apart(one, other, name) > TRIFLE);
  const [only] = odd;
  const isFigure = only !== undefined && one.firstNumber(only) !== undefined && !NAMING.has(only);
  return off.length === 0 && odd.length === 1 && isFigure && facts.length - 1 >= FEWEST_EQUAL;
}

/** The largest difference between two figures of them, stated or estimated, relative; 1 where they are of different sorts. */
function distance(one: Part, other: Part): number {
  return Math.max(0, ...factsOf(one).map((property) => apart(one, other, property)));
}

function apart(one: Part, other: Part, name: PropertyName): number {
  const property = schemaOf(one.kind).properties[name];
  switch (property?.shape) {
    case 'cells': {
      const [cells, others] = [one.cells(property.name), other.cells(property.name)];
      return cells && others && (cells.series !== others.series || cells.parallel !== others.parallel) ? 1 : 0;
    }
    case 'word':
    case 'part': {
      const [word, otherWord] = [one.word(property.name), other.word(property.name)];
      return word !== undefined && otherWord !== undefined && word !== otherWord ? 1 : 0;
    }
    case 'size': {
      const [size, otherSize] = [one.size(property.name)?.sides, other.size(property.name)?.sides];
      return size && otherSize ? Math.max(...size.map((side, i) => share(side, otherSize[i] ?? side))) : 0;
    }
    default: {
      if (!property || !isFigureProperty(property)) return 0;
      const [figure, otherFigure] = [one.figure(property.name), other.figure(property.name)];
      if (!figure || !otherFigure || !equal(figure.dimension, otherFigure.dimension)) return 0;
      return share(figure.value, otherFigure.value);
    }
  }
}

const share = (one: number, other: number): number =>
  one === other ? 0 : Math.abs(one - other) / Math.max(Math.abs(one), Math.abs(other));
