/** A leg as its line states it: what is flown, in which wind, what is released; or what keeps the line from being read. */
import {
  type Condition,
  type FigureNode,
  isFigureNode,
  isNamedNode,
  isPropertyNode,
  type PartNode,
  type PropertyNode,
} from '../grammar/generated/ast.ts';
import { LEG_WORDS } from '../grammar/reserved-words.ts';
import { chainOf } from '../syntax/chain.ts';
import { conditionOf } from '../syntax/clauses.ts';
import { partAmong } from '../syntax/entries.ts';
import { remembered } from '../syntax/memory.ts';
import type { Place } from '../syntax/place.ts';
import type { Problem } from '../syntax/problem.ts';
import { placeOf, placeOfFeature, span, textOf } from '../syntax/source.ts';
import { isCount, numberOf } from '../syntax/written-number.ts';
import { equal, LENGTH, SPEED, TIME } from '../units/dimension.ts';
import type { Dimension } from '../units/quantity.ts';
import { propertyOf } from '../vocabulary/properties.ts';
import { readAmount } from './amounts.ts';
import type { Leg } from './build.ts';
import { boundsOf, conditionAmount } from './figures.ts';
import { isPlausible } from './plausible.ts';

/** A leg as its line states it; what it releases is not looked for in a craft yet. */
export type WrittenLeg = Omit<Leg, 'released'> & {
  readonly release?: { readonly part: PartNode; readonly count: number };
};

/** What is wrong with a line, and what to write in its place. */
interface WrongLeg extends Pick<Problem, 'id' | 'message' | 'place'> {
  readonly instead?: { readonly place: Place; readonly text: string };
}

/** Neither `leg` nor `wrong` where a name or a unit is unknown: that has its own message. */
export interface ReadLeg {
  readonly place: Place;
  readonly leg?: WrittenLeg;
  readonly wrong?: WrongLeg;
}

/** The legs of a flight: its own, or else those of the flight that it is like. */
export const legsOf = remembered((flight: PartNode): readonly ReadLeg[] => {
  const lines = chainOf(flight).parts.map((part) =>
    part.lines.filter(isPropertyNode).filter(({ key }) => key === 'leg'),
  );
  return (lines.find((own) => own.length > 0) ?? []).map(readLeg);
});

export function readLeg(line: PropertyNode): ReadLeg {
  const read = legBy(line);
  const place = placeOf(line);
  if (!read) return { place };
  return 'message' in read ? { place, wrong: read } : { place, leg: read };
}

const EXAMPLES =
  '`2 min hover`, `300 m at 9 m/s against 5 m/s`, `40 s climb at 3 m/s`, `release Crate` or `home at 9 m/s`';

type Manner = Exclude<Leg['manner'], 'cruise'>;

function legBy(line: PropertyNode): WrittenLeg | WrongLeg | undefined {
  if (line.commas.length > 0) return undefined;
  const manners = line.clauses.filter(
    (clause): clause is Condition & { readonly word: Manner } =>
      'word' in clause && clause.word !== 'against' && LEG_WORDS.has(clause.word),
  );
  const [manner, second] = manners;
  if (second) return wrong('clause', `one leg is one thing: a line of its own for ${second.word}`, placeOf(second));
  const word = manner?.word;
  const turned = manner && word !== 'release' && turnedAround(line, manner);
  if (turned) return turned;
  if (line.value === undefined && !word && !conditionOf(line, 'at'))
    return wrong('missing-value', `what is flown? ${EXAMPLES}`, placeOfFeature(line, 'key'));
  if (manner?.word === 'release') return released(line, manner);
  const [wind, windWrong] = windOf(line);
  if (windWrong) return windWrong;
  const [length, lengthWrong] = lengthOf(line, manner);
  if (lengthWrong) return lengthWrong;
  const at = conditionOf(line, 'at');
  const speed = at && conditionAmount(at, SPEED);
  if (word === 'hover' && at)
    return wrong('clause', 'hovering has no speed; what blows meanwhile is written as against 5 m/s', placeOf(at));
  const blowing = conditionOf(line, 'against') ?? conditionOf(line, 'with');
  if (word === 'home' && blowing)
    return wrong(
      'clause',
      'the way home meets the wind of the way out from the other side: none of its own',
      placeOf(blowing),
    );
  if (word !== 'hover' && !at) return withoutSpeed(line, manner);
  if (wind === undefined || length === undefined || (at && (!speed || !isPossible(speed.value, 'at'))))
    return undefined;
  const leg: WrittenLeg = {
    manner: word ?? 'cruise',
    ...length,
    ...(speed && { speed: speed.value }),
    wind,
    text: writtenAs(line),
    place: placeOf(line),
  };
  const isStuck = leg.manner === 'cruise' && wind >= (speed?.value ?? 0);
  return isStuck ? noWay(conditionOf(line, 'against') ?? line) : leg;
}

const wrong = (id: WrongLeg['id'], message: string, place: Place, instead?: WrongLeg['instead']): WrongLeg => ({
  id,
  message,
  place,
  ...(instead && { instead }),
});

const writtenAs = (line: PropertyNode): string =>
  textOf(line)
    .replace(/^leg\s*:\s*/, '')
    .replace(/\s+/g, ' ');

const noWay = (where: Condition | PropertyNode): WrongLeg =>
  wrong('implausible-value', 'against a wind as fast as it flies it makes no way over the ground', placeOf(where));

/** `hover 2 min` */
function turnedAround(line: PropertyNode, manner: Condition): WrongLeg | undefined {
  const { value, word } = manner;
  if (!isFigureNode(value) || line.value !== undefined) return undefined;
  const place = placeOf(manner);
  const text = `${textOf(value).trim()} ${word}`;
  return wrong('clause', `how long comes first: ${text}`, place, { place, text });
}

function withoutSpeed(line: PropertyNode, manner: Condition | undefined): WrongLeg {
  const place = line.value ? placeOf(line.value) : placeOf(line);
  const written = line.value ? textOf(line.value).trim() : '';
  if (!manner) {
    const isTime = isFigureNode(line.value) && isOf(line.value, TIME);
    const hover = isTime ? `${written} hover, or ` : '';
    return wrong('missing-value', `how is it flown? ${hover}${written} at 9 m/s`, place);
  }
  const { word } = manner;
  const whole = `${[written, word].filter(Boolean).join(' ')} at ${word === 'home' ? 9 : word === 'climb' ? 3 : 2} m/s`;
  return wrong('missing-value', `how fast? ${whole}`, placeOf(manner));
}

const isOf = (figure: FigureNode, dimension: Dimension): boolean => {
  const amount = readAmount(figure, figure.more);
  return amount !== undefined && equal(amount.dimension, dimension);
};

type Length = Pick<Leg, 'time' | 'distance'>;

/** In SI: longer ones are slips, of a unit or of a digit (ours). */
const LONGEST = { time: { value: 86_400, text: '24 h' }, distance: { value: 1_000_000, text: '1000 km' } };

/** How long or how far; of `home` nothing, since the legs before determine it. */
function lengthOf(line: PropertyNode, manner: Condition | undefined): [Length | undefined, WrongLeg?] {
  const { value } = line;
  const word = manner?.word;
  const need = word === 'hover' ? 'a time' : 'a time or a distance';
  const example = word === 'hover' ? '2 min hover' : `40 s ${word ?? ''} at 3 m/s`.replace('  ', ' ');
  if (word === 'home') {
    if (value === undefined) return [{}];
    return [
      undefined,
      wrong('clause', 'home is the way back of the legs before: no length of its own', placeOf(value)),
    ];
  }
  if (value === undefined)
    return [
      undefined,
      wrong('missing-value', `how long? ${example}`, manner ? placeOf(manner) : placeOfFeature(line, 'key')),
    ];
  if (!isFigureNode(value) || value.times.length > 0 || value.range || value.label !== undefined)
    return [undefined, wrong('wrong-dimension', `a leg begins with ${need}: ${example}`, placeOf(value))];
  const amount = readAmount(value, value.more);
  if (!amount || value.unit === undefined || amount.value < 0) return [undefined];
  const longest = equal(amount.dimension, TIME) ? LONGEST.time : LONGEST.distance;
  if (amount.value > longest.value)
    return [undefined, wrong('implausible-value', `a leg is not longer than ${longest.text}`, placeOf(value))];
  if (equal(amount.dimension, TIME)) return [{ time: amount.value }];
  if (equal(amount.dimension, LENGTH) && word !== 'hover') return [{ distance: amount.value }];
  return [undefined, wrong('wrong-dimension', `a leg begins with ${need}: ${example}`, placeOf(value))];
}

/** What is no speed of a craft or of a wind has its own message; nothing is computed with it. */
function isPossible(speed: number, word: 'at' | 'against'): boolean {
  const rule = propertyOf('flight', 'leg').clauses?.[word];
  return rule !== undefined && isPlausible(speed, SPEED, boundsOf(rule));
}

/** m/s from ahead; below zero from behind. */
function windOf(line: PropertyNode): [number | undefined, WrongLeg?] {
  const [ahead, behind] = [conditionOf(line, 'against'), conditionOf(line, 'with')];
  if (ahead && behind) {
    const [one, other] = [placeOf(ahead), placeOf(behind)];
    const place = one.start < other.start ? span(one, other) : span(other, one);
    return [undefined, wrong('clause', 'the wind blows from one side: against it or with it', place)];
  }
  const clause = ahead ?? behind;
  if (!clause) return [0];
  const amount = conditionAmount(clause, SPEED);
  if (!amount || !isPossible(amount.value, 'against')) return [undefined];
  return [ahead ? amount.value : 0 - amount.value];
}

function released(line: PropertyNode, manner: Condition): WrittenLeg | WrongLeg | undefined {
  const { value } = manner;
  if (line.value !== undefined)
    return wrong('clause', 'what is released comes after release: release Crate', placeOf(line.value));
  const other = line.clauses.find((clause) => 'word' in clause && clause.word !== 'release');
  if (other) return wrong('clause', 'release takes no time: a line of its own for what is flown', placeOf(other));
  if (!value)
    return wrong('missing-value', 'what is released? release and the name of a load or an item', placeOf(manner));
  const named = isNamedNode(value) ? value : isFigureNode(value) ? value.of[0] : undefined;
  const count = isFigureNode(value) ? numberOf(value) : 1;
  const isHowMany = !isFigureNode(value) || (value.unit === undefined && value.times.length === 1 && isCount(value));
  if (!named || !isHowMany)
    return wrong(
      'implausible-value',
      'one is released by its name, several by how many: release 2 x Crate',
      placeOf(value),
    );
  const part = partAmong(named, propertyOf('flight', 'leg').clauses?.release?.parts);
  if (!part) return undefined;
  return { manner: 'release', wind: 0, text: writtenAs(line), place: placeOf(line), release: { part, count } };
}
