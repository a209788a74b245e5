/** Limits that a part states otherwise than before, so that it is allowed more, and figures that are trusted more: nothing got better by it. */

import type { Build, Figure, Part } from '../../model/build.ts';
import { isSamePart } from '../../model/identities.ts';
import { partWith } from '../../model/made-parts.ts';
import { partNamedBy } from '../../model/named-part.ts';
import { slotsOf } from '../../model/slots.ts';
import type { Place } from '../../syntax/place.ts';
import { keysOf } from '../../units/lookup-table.ts';
import { type PropertyName, propertyNames } from '../../vocabulary/properties.ts';
import { kindAndName } from '../present/report-words.ts';
import { type Stated, together, withProperty } from './as-before.ts';
import type { MatchedPart } from './matched-parts.ts';
import type { Judgement, Loosening } from './relaxations.ts';
import { allowsMore, isStated, limitsOfKind, statedOf } from './stated-limits.ts';

/** The old version, as far as its lines are quoted. */
type Before = Pick<Judgement, 'wordsAt' | 'wrongLines'>;

export function limitLoosenings(parts: readonly MatchedPart[], before: Before, after: Judgement): Loosening[] {
  return parts.flatMap((kept) => {
    if (kept.as === 'exchanged') return [];
    // A line that has an error now is reported as such.
    const wrong = after.wrongLines(kept.now.place.uri).length - before.wrongLines(kept.before.place.uri).length;
    const taken = wrong > 0 ? [] : takenFrom(kept, before);
    return [...taken, ...raisedIn(kept, before, after)];
  });
}

/** A limit that goes is always reported, another line where it hides something. */
function takenFrom({ name, before, now, as }: MatchedPart, { wordsAt }: Before): Loosening[] {
  return propertiesOf(before).flatMap((property): Loosening[] => {
    const place = before.placeOf(property);
    if (!place || isStated(now, property) || !isRestorable(before, property)) return [];
    const isLimit = property in limitsOfKind(before.kind);
    return [
      {
        reported: {
          what: isLimit ? 'limit' : 'figure',
          how: 'taken away',
          of: name,
          before: wordsAt(place),
          place,
          failedOn: [],
        },
        isAlways: isLimit && as === 'same',
        restore: withProperty((part) => isSamePart(part, now), property, before),
      },
    ];
  });
}

function raisedIn({ name, before, now, as }: MatchedPart, { wordsAt }: Before, after: Judgement): Loosening[] {
  return keysOf(limitsOfKind(now.kind)).flatMap((property): Loosening[] => {
    const [old, place] = [before.placeOf(property), now.placeOf(property)];
    if (now.holes.has(property) || before.holes.has(property) || !isRestorable(before, property)) return [];
    const isOther = statedOf(before, property) !== statedOf(now, property);
    // What went without a replacement is reported as taken away.
    if (!isOther || (place === undefined && !isStated(now, property))) return [];
    const isRaised = allowsMore(before, now, property);
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
        isAlways: isRaised && as === 'same',
        restore: withProperty((part) => isSamePart(part, now), property, before),
      },
    ];
  });
}

/** Another thing in the same role that is allowed more: it may well be the remedy, so it is no more than named. */
export function exchanges(parts: readonly MatchedPart[], after: Judgement): Loosening[] {
  return parts.flatMap(({ before, now, as }): Loosening[] => {
    if (as !== 'exchanged') return [];
    const limits = limitsOfKind(now.kind);
    const higher = keysOf(limits).filter((property) => {
      const isTaken = before.placeOf(property) !== undefined && !isStated(now, property);
      return limits[property] !== 'fits' && (isTaken || allowsMore(before, now, property));
    });
    if (higher.length === 0) return [];
    const reported = {
      what: 'part',
      how: 'exchanged',
      before: kindAndName(before),
      after: kindAndName(now),
      place: placeIn(after.build, now),
      failedOn: [],
    } as const;
    const restores = higher.map((property) => withProperty((part) => isSamePart(part, now), property, before));
    return [{ reported, isAlways: false, restore: together(restores) }];
  });
}

/** Where the build fits it. */
const placeIn = (build: Build, part: Part): Place =>
  (slotsOf(build).find((slot) => isSamePart(slot.part, part)) ?? build).place;

const propertiesOf = ({ kind }: Part): PropertyName[] => propertyNames(kind).filter((property) => property !== 'price');

/** A part that another one names may be gone itself. */
const isRestorable = (before: Part, property: PropertyName): boolean => partNamedBy(before, property) === undefined;

/** Figures that are called measured with nothing measured behind them, and such whose ± is another one with the same origin. */
export const figureLoosenings = (parts: readonly MatchedPart[], before: Before, after: Judgement): Loosening[] =>
  parts
    .filter(({ as }) => as !== 'exchanged')
    .flatMap((kept) => propertiesOf(kept.now).flatMap((property) => trusted(kept, property, before, after)));

function trusted(
  { name, before: old, now, as }: MatchedPart,
  property: PropertyName,
  before: Before,
  after: Judgement,
): Loosening[] {
  const [was, is] = [old.firstNumber(property), now.firstNumber(property)];
  const [oldPlace, place] = [old.placeOf(property), now.placeOf(property)];
  if (!was || !is || !oldPlace || !place) return [];
  // A limit that is another one is reported as that.
  if (property in limitsOfKind(now.kind) && statedOf(old, property) !== statedOf(now, property)) return [];
  const isMeasured = is.origin === 'measured' && was.origin !== 'measured';
  if (!isMeasured && hasSameWidth(was, is)) return [];
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
      isAlways: as === 'same' && !(isMeasured && isBacked(now, property, after.build)),
      restore: withProperty(
        (part) => isSamePart(part, now),
        property,
        known({ ...is, origin: was.origin, standardUncertainty: wasKnown }, now),
      ),
    },
  ];
}

/** The new figure, known as well as the old one. */
const known = (figure: Figure, now: Part): Stated =>
  partWith(now, { figure: () => figure, declared: () => figure, firstNumber: () => figure });

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
function isBacked(part: Part, property: PropertyName, { observations, benches }: Build): boolean {
  const isOnStand = benches.some(({ part: stand }) =>
    (['motor', 'propeller', 'esc'] as const).some((word) => {
      const other = stand.part(word);
      return other !== undefined && isSamePart(other, part);
    }),
  );
  const isWeighed = observations.some((one) => one.part.declared('scale') !== undefined);
  const isFlown = observations.some((one) =>
    (['hover_voltage', 'put_back', 'airborne', 'rested'] as const).some(
      (word) => one.part.declared(word) !== undefined,
    ),
  );
  return property === 'mass' ? isWeighed : isOnStand || isFlown;
}
