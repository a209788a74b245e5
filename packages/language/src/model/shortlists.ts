import {
  type FigureNode,
  isFigureNode,
  isNamedNode,
  isPartNode,
  isPropertyNode,
  isText,
  type PartNode,
  type PropertyNode,
} from '../grammar/generated/ast.ts';
import { keyOf, placeOfPath } from '../resolve/keys.ts';
import { lookupOf } from '../resolve/linker.ts';
import { chainOf } from '../syntax/chain.ts';
import { conditionOf } from '../syntax/clauses.ts';
import { remembered } from '../syntax/memory.ts';
import { documentOf } from '../syntax/nodes.ts';
import type { Place } from '../syntax/place.ts';
import type { Problem } from '../syntax/problem.ts';
import { namedOf, nameText, partOfTarget, placeOf, placeOfFeature, targetOf, textOf } from '../syntax/source.ts';
import { equal, NONE } from '../units/dimension.ts';
import type { Dimension } from '../units/quantity.ts';
import { kindsWithFigure, VARIED_KINDS, type VariedKind, variedFigure } from '../vocabulary/kinds/shortlist-kind.ts';
import { withArticle } from '../vocabulary/phrasing.ts';
import { type FigureName, propertyInWords, propertyOf } from '../vocabulary/properties.ts';
import { type ResultKey, resultNamed } from '../vocabulary/results.ts';
import type { Kind } from '../vocabulary/schema.ts';
import { type Amount, readAmount } from './amounts.ts';
import { assemble } from './assemble-build.ts';
import type { Requirement } from './build.ts';
import { flightsIn } from './expressions.ts';
import { requirementsIn } from './rules.ts';

/** A figure of the parts of one kind. */
export interface VariedFigure {
  readonly kind: VariedKind;
  readonly property: FigureName;
}

interface VariedPart {
  readonly node: PartNode;
  /** As a build would write it: `2 x Mast1350_4S in parallel`, or its name. */
  readonly written: string;
}

/** What one line tries. */
export type Varied =
  | { readonly of: 'parts'; readonly kind: VariedKind; readonly parts: readonly VariedPart[] }
  | {
      readonly of: 'figure';
      readonly figure: VariedFigure | 'duty';
      /** In words, as the line states it: `kv`, `mass of propeller`, `duty`. */
      readonly words: string;
      /** The same with the words of the property: `no-load current`. */
      readonly label: string;
      readonly values: readonly number[];
      readonly unit: string;
    };

interface VaryLine {
  readonly line: PropertyNode;
  /** Undefined where something is wrong with it. */
  readonly varied?: Varied;
  /** What is wrong, and where. */
  readonly wrong?: Pick<Problem, 'id' | 'message' | 'place'>;
}

export interface Shortlist {
  readonly name: string;
  readonly title?: string;
  readonly uri: string;
  readonly place: Place;
  readonly build: PartNode | undefined;
  readonly vary: readonly VaryLine[];
  readonly requirements: readonly Requirement[];
  readonly prefer: readonly { readonly name: string; readonly of: ResultKey | undefined; readonly place: Place }[];
}

export const readShortlist: (node: PartNode) => Shortlist = remembered(read);

function read(node: PartNode): Shortlist {
  const lines = chainOf(node).parts.flatMap((part) => part.lines.filter(isPropertyNode));
  const named = lines.find(({ key }) => key === 'for');
  const build = named && partOfTarget(targetOf(namedOf(named)));
  return {
    name: node.name ?? '',
    ...(node.title !== undefined && { title: node.title }),
    uri: documentOf(node)?.uri.toString() ?? '',
    place: placeOfFeature(node, node.name === undefined ? 'kind' : 'name'),
    build: build?.kind === 'build' ? build : undefined,
    vary: lines.filter(({ key }) => key === 'vary').map((line) => readVary(line, node)),
    requirements: requirementsIn(node),
    prefer: lines
      .filter(({ key }) => key === 'prefer')
      .map(({ value }) => value)
      .filter(isNamedNode)
      .map((value) => ({ name: nameText(value), of: resultNamed(nameText(value)), place: placeOf(value) })),
  };
}

const outcomeOf = (found: Varied | Wrong | undefined): Pick<VaryLine, 'varied' | 'wrong'> => {
  if (!found) return {};
  return 'of' in found ? { varied: found } : { wrong: found };
};

type Wrong = NonNullable<VaryLine['wrong']>;

function readVary(line: PropertyNode, node: PartNode): VaryLine {
  const found = variedBy(line, node);
  return { line, ...outcomeOf(found) };
}

const wrong = (message: string, place: Place, id: Wrong['id'] = 'missing-value'): Wrong => ({ id, message, place });

/** Nothing where a name of it is not found, or where it lists several: that has its own message. */
function variedBy(line: PropertyNode, node: PartNode): Varied | Wrong | undefined {
  if (line.commas.length > 0) return undefined;
  const duty = conditionOf(line, 'duty');
  const isDuty = duty !== undefined && line.value === undefined;
  const named = namedOf(line);
  if (isDuty) {
    const range = isFigureNode(duty.value) ? duty.value : conditionOf(line, 'in')?.value;
    return rangeBy(line, DUTY, isFigureNode(range) ? range : undefined);
  }
  if (!named) {
    const description =
      'what is tried? a part by its name, `pack in "../parts"`, `propeller like P3018x2` or `duty 60 % .. 100 % step 5 %`';
    return wrong(description, placeOfFeature(line, 'key'));
  }
  const target = targetOf(named);
  const word = nameText(named);
  const part = partOfTarget(target);
  if (part) return onePart(line, part);
  const within = conditionOf(line, 'in')?.value;
  const kinds = kindsWithFigure(word);
  if (kinds.length > 0) {
    const figure = figureNamed(line, word, kinds);
    return !figure || 'message' in figure ? figure : rangeBy(line, figure, isFigureNode(within) ? within : undefined);
  }
  const kind = VARIED_KINDS.find((one) => one === word);
  if (!kind || !target) return undefined;
  if (isText(within)) return fromFolder(kind, within.text, node, placeOf(within));
  const like = conditionOf(line, 'like');
  if (like) return madeFrom(kind, like.value, node);
  const ways = `${kind} in "../parts"\` for all of a folder, or \`${kind} like NAME\` for all that are made from one`;
  return wrong(`which ${kind}? \`${ways}`, placeOf(named));
}

function onePart(line: PropertyNode, part: PartNode): Varied | Wrong {
  const kind = VARIED_KINDS.find((one) => one === part.kind);
  if (!kind) return wrong(`a shortlist does not exchange ${withArticle(part.kind)}`, placeOf(line));
  const key = propertyOf('shortlist', 'vary').name;
  const written = textOf(line).replace(new RegExp(`^${key}\\s*:\\s*`), '');
  return { of: 'parts', kind, parts: [{ node: part, written }] };
}

/** Lines with results of a flight that the build does not make, which no candidate would have. */
export function otherFlights({
  build,
  prefer,
  requirements,
}: Shortlist): { readonly message: string; readonly place: Place }[] {
  if (!build) return [];
  const { build: base } = assemble(build);
  if (base.holes.has('flight')) return [];
  const own = base.flights.map(({ name }) => name);
  const known = own.length > 0 ? `its flights are ${own.join(', ')}` : 'it makes none; `flight: NAME` in the build';
  const lines = [
    ...prefer.map(({ of, place }) => ({ flights: of?.of === 'flight' ? [of.owner] : [], place })),
    ...requirements.map(({ condition, place }) => ({ flights: [...flightsIn(condition)], place })),
  ];
  return lines.flatMap(({ flights, place }) => {
    const other = flights.find((name) => !own.includes(name));
    return other === undefined ? [] : [{ message: `${base.name} makes no flight ${other}: ${known}`, place }];
  });
}

/** Every part of that kind declared in a folder or a file. */
function fromFolder(kind: VariedKind, path: string, node: PartNode, place: Place): Varied | Wrong {
  const found = partsBelow(kind, path, node);
  if (found.length === 0)
    return wrong(`there is no ${kind} in "${path}": is it opened with use "${path}"?`, place, 'unknown-name');
  return { of: 'parts', kind, parts: found.map((one) => ({ node: one, written: one.name ?? '' })) };
}

function madeFrom(kind: VariedKind, base: unknown, node: PartNode): Varied | Wrong | undefined {
  const target = isNamedNode(base) ? partOfTarget(targetOf(base)) : undefined;
  if (!target) return undefined;
  const all = inScope(kind, node).filter((one) => chainOf(one).parts.includes(target));
  return { of: 'parts', kind, parts: all.map((one) => ({ node: one, written: one.name ?? '' })) };
}

/** In the order of their names; library parts are stand-ins for what one has not, and no choices. */
function inScope(kind: Kind, node: PartNode): PartNode[] {
  const document = documentOf(node);
  const lookup = document && lookupOf(document);
  if (!document || !lookup) return [];
  return [...lookup.partsInScope(document, [kind])]
    .flatMap(({ node: one }) => (one && isPartNode(one) ? [one] : []))
    .filter(
      (one) => documentOf(one)?.uri.scheme !== 'fettle-library' && documentOf(one)?.uri.scheme === document.uri.scheme,
    )
    .sort((a, b) => ((a.name ?? '') < (b.name ?? '') ? -1 : 1));
}

function partsBelow(kind: VariedKind, path: string, node: PartNode): PartNode[] {
  const document = documentOf(node);
  if (!document) return [];
  const wanted = keyOf(placeOfPath(document.uri, path));
  const isBelow = (one: PartNode) => {
    const home = documentOf(one)?.uri.toString() ?? '';
    return home === wanted || home === `${wanted}.fettle` || home.startsWith(`${wanted}/`);
  };
  return inScope(kind, node).filter(isBelow);
}

/** A thousand values of one figure are enough for anybody; more is a slip of the step. */
const MOST_VALUES = 10_000;

/** What a range is about, and how it is written. */
interface Ranged {
  readonly figure: VariedFigure | 'duty';
  readonly words: string;
  readonly label: string;
  readonly dimension: Dimension;
  readonly unit: string;
  readonly isCount: boolean;
  readonly example: string;
}

const DUTY: Ranged = {
  figure: 'duty',
  words: 'duty',
  label: 'duty',
  dimension: NONE,
  unit: '%',
  isCount: false,
  example: 'duty 60 % .. 100 % step 5 %',
};

/** `kv`, which motors alone have; `mass of propeller`, since every part has a mass. */
function figureNamed(line: PropertyNode, word: string, kinds: readonly VariedKind[]): Ranged | Wrong | undefined {
  const of = conditionOf(line, 'of');
  const named = isNamedNode(of?.value) ? nameText(of.value) : undefined;
  // What is no kind at all has its own message.
  if (named !== undefined && !VARIED_KINDS.some((kind) => kind === named)) return undefined;
  const [only] = kinds;
  const kind = named === undefined && kinds.length === 1 ? only : kinds.find((one) => one === named);
  const others = kinds.map((one) => `\`${word} of ${one}\``).join(', ');
  if (kind === undefined)
    return wrong(
      named === undefined ? `${word} of what? ${others}` : `\`${word} of ${named}\` cannot be tried; ${others} can`,
      placeOf(of ?? line.value ?? line),
    );
  const varied = variedFigure(kind, word);
  if (!varied) return undefined;
  const { name: property, dimension = NONE, unit = '', shape, plausible = [1, 10] } = varied;
  const inWords = (name: string) => (kinds.length === 1 ? name : `${name} of ${kind}`);
  const [words, label] = [inWords(property), inWords(propertyInWords(property))];
  const isCount = shape === 'count';
  const example = EXAMPLES[property] ?? exampleOf(words, unit, plausible, isCount);
  return { figure: { kind, property }, words, label, dimension, unit, isCount, example };
}

const EXAMPLES: Readonly<Partial<Record<FigureName, string>>> = {
  capacity: 'capacity in 600 mAh .. 1500 mAh step 50 mAh',
  kv: 'kv in 2500 rpm/V .. 3300 rpm/V step 100 rpm/V',
  pitch: 'pitch in 2 in .. 3 in step 0.2 in',
  diameter: 'diameter in 65 mm .. 80 mm step 5 mm',
};

/** In the middle of what is plausible, as it is spread over powers of ten. */
function exampleOf(words: string, unit: string, [least, most]: readonly [number, number], isCount: boolean): string {
  const middle = Math.sqrt(Math.max(least, 1e-3) * most);
  const [low, high] = [0.8, 1.2].map((share) => (isCount ? Math.max(1, Math.round(share * middle)) : share * middle));
  const written = (value = 1) => `${Number(value.toPrecision(1))}${unit && ` ${unit}`}`;
  return `${words} in ${written(low)} .. ${written(Math.max(high ?? 2, (low ?? 1) + (isCount ? 1 : 0)))}`;
}

/** `60 % .. 100 % step 5 %`: both ends are tried; without a step ten values between them, or every count. */
function rangeBy(line: PropertyNode, ranged: Ranged, range: FigureNode | undefined): Varied | Wrong {
  const { figure, words, label, dimension, unit, isCount, example } = ranged;
  if (!range?.range || !range.to)
    return wrong(`${words} is tried over a range: \`${example}\``, placeOf(range ?? line));
  const unitOfRange = range.to.unit ?? range.unit;
  const ends = [
    { number: range.number, unit: range.unit ?? unitOfRange, negative: range.negative },
    { number: range.to.number, unit: unitOfRange, negative: range.to.negative },
  ].map(({ number, unit: of, negative }) =>
    readAmount({ number, negative, ...(of !== undefined && { unit: of }) }, [], dimension),
  );
  const [low, high] = ends;
  const step = conditionOf(line, 'step');
  const by = step && isFigureNode(step.value) ? readAmount(step.value, step.value.more, dimension) : undefined;
  const fits = (amount: Amount | undefined) =>
    amount !== undefined && equal(amount.dimension, dimension) && (unit !== '%' || amount.unit === '%');
  const asWritten = unit === '' ? 'without a unit' : `in ${unit}`;
  if (!fits(low) || !fits(high) || !low || !high)
    return wrong(`${words} is given ${asWritten}: \`${example}\``, placeOf(range), 'wrong-dimension');
  if (step && (!fits(by) || !by || by.value <= 0))
    return wrong(
      `the step of ${words} is more than nothing, ${asWritten}: \`${example}\``,
      placeOf(step),
      'wrong-dimension',
    );
  if (!(high.value > low.value) || low.value <= 0)
    return wrong(`the range begins above nothing and ends higher than it begins: \`${example}\``, placeOf(range));
  if (figure === 'duty' && high.value > 1) return wrong('duty is at most 100 %', placeOf(range));
  if (isCount && [low, high, by].some((one) => one !== undefined && !Number.isInteger(one.value)))
    return wrong(`${words} is counted in whole numbers: \`${example}\``, placeOf(range));
  const size = by?.value ?? (isCount ? 1 : (high.value - low.value) / 10);
  const count = Math.floor((high.value - low.value) / size + 1e-9);
  if (count > MOST_VALUES) return wrong(`more than ${MOST_VALUES} values: take a wider step`, placeOf(step ?? line));
  const values = Array.from({ length: count + 1 }, (_, i) => low.value + i * size);
  const last = values.at(-1) ?? low.value;
  if (high.value - last > 1e-9 * high.value) values.push(high.value);
  return { of: 'figure', figure, words, label, values, unit: low.unit || unit };
}
