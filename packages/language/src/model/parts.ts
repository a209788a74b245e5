/** Parts as plain objects, `like` resolved; figures are read on demand. */
import {
  isFigureNode,
  isNamedNode,
  isNoteNode,
  isPropertyNode,
  isRailNode,
  isUnknownNode,
  type Line,
  type NoteNode,
  type ObservedNode,
  type PartNode,
  type PropertyNode,
} from '../grammar/generated/ast.ts';
import { chainOf } from '../syntax/chain.ts';
import { conditionOf, isUnset, nameBehind } from '../syntax/clauses.ts';
import { remembered } from '../syntax/memory.ts';
import type { Place } from '../syntax/place.ts';
import { namedOf, nameText, partOfTarget, placeOf, placeOfFeature, targetOf, uriOf } from '../syntax/source.ts';
import { extraOf, isCount, numberOf } from '../syntax/written-number.ts';
import { keysOf } from '../units/lookup-table.ts';
import { estimateOf } from '../vocabulary/estimators.ts';
import {
  type CellsName,
  type DateName,
  type FigureName,
  type KindSchema,
  type PartName,
  type PatternName,
  type PropertyName,
  propertyInWords,
  type RangeName,
  type ShapedProperty,
  type SizeName,
  schemaOf,
  type WordName,
} from '../vocabulary/properties.ts';
import type { BlockKind, BlockSchema, Origin, Property } from '../vocabulary/schema.ts';
import type { Figure, Note, Part } from './build.ts';
import { readDay } from './days.ts';
import { estimatedFigure } from './estimated-figure.ts';
import { behindWord, boundsOf, type Identity, readCells, readFigure } from './figures.ts';
import { declaredId } from './identities.ts';
import { isInline } from './inline.ts';
import { intendedProperty } from './intent.ts';
import type { BoltPattern, Cells, Range, Size } from './part-values.ts';
import { readRange, readSides } from './range-values.ts';
import { readOnce } from './read-once.ts';

/** What one block of the chain states; the block's own layer comes first. */
interface Layer {
  /** Begins the ids of the figures declared here. */
  readonly id: string;
  /** The declaring part in words. */
  readonly label: string;
  /** Its name, empty where it has none. */
  readonly part: string;
  readonly lines: readonly Line[];
  /** The first line of each property. */
  readonly properties: ReadonlyMap<string, PropertyNode>;
}

function layerOf(id: string, label: string, lines: readonly Line[], part = label): Layer {
  const properties = new Map<string, PropertyNode>();
  for (const line of lines) if (isPropertyNode(line) && !properties.has(line.key)) properties.set(line.key, line);
  return { id, label, part, lines, properties };
}

interface LineOfLayer {
  readonly line: PropertyNode;
  readonly layer: Layer;
}

export const partOf: (node: PartNode) => Part = remembered((node: PartNode) => new LayeredPart(blockOfPart(node)));

/** An `observed` block: what is in it was measured. */
export function observedPart(node: ObservedNode, id: string): Part<'observed'> {
  const title = node.title ?? 'observed';
  return new LayeredPart({
    kind: 'observed',
    name: title,
    place: placeOfFeature(node, 'title'),
    layers: [layerOf(id, `“${title}”`, node.lines, title)],
    complete: true,
    usual: 'measured',
    rails: [],
  });
}

export const identityOf = (node: PartNode): string => declaredId(uriOf(node), node.kind, node.name);

export function readNote(line: NoteNode): Note | undefined {
  if (!line.text) return undefined;
  const occasion = nameBehind(line, 'for');
  return { text: line.text, ...(occasion === undefined ? {} : { occasion }), place: placeOf(line) };
}

interface Block<Kind extends BlockKind = BlockKind> {
  readonly kind: Kind;
  readonly name: string;
  readonly title?: string;
  readonly place: Place;
  readonly layers: readonly Layer[];
  /** All ancestors are known. */
  readonly complete: boolean;
  /** Origin of a figure without an origin word. */
  readonly usual: Origin;
  readonly rails: readonly Part<'rail'>[];
}

function blockOfPart(node: PartNode): Block {
  const chain = chainOf(node);
  return {
    kind: node.kind,
    name: node.name ?? '',
    // A base's title names the base.
    ...(node.title === undefined ? {} : { title: node.title }),
    place: node.name === undefined ? placeOfFeature(node, 'kind') : placeOfFeature(node, 'name'),
    layers: chain.parts.map((part) => layerOf(identityOf(part), part.name ?? part.kind, part.lines, part.name ?? '')),
    complete: !chain.broken,
    usual: node.kind === 'bench' ? 'measured' : 'stated',
    rails: railsOf(chain.parts, !chain.broken),
  };
}

/** Rails of one name are one rail; what the variant states of it comes first. */
function railsOf(chain: readonly PartNode[], complete: boolean): Part<'rail'>[] {
  const layersByName = new Map<string, { place: Place; layers: Layer[] }>();
  for (const part of chain) {
    for (const rail of part.lines.filter(isRailNode)) {
      if (rail.name === undefined) continue;
      const entry = layersByName.get(rail.name) ?? { place: placeOfFeature(rail, 'name'), layers: [] };
      const label = `${part.name ?? part.kind}.${rail.name}`;
      entry.layers.push(layerOf(`${identityOf(part)}.${rail.name}`, label, rail.lines));
      layersByName.set(rail.name, entry);
    }
  }
  return [...layersByName].map(
    ([name, { place, layers }]) =>
      new LayeredPart({ kind: 'rail', name, place, layers, complete, usual: 'stated', rails: [] }),
  );
}

class LayeredPart<Kind extends BlockKind> implements Part<Kind> {
  readonly kind: Kind;
  readonly name: string;
  readonly title?: string;
  readonly place: Place;
  readonly rails: readonly Part<'rail'>[];
  readonly notes: readonly Note[];
  readonly holes: ReadonlySet<PropertyName<Kind>>;
  readonly #block: Block<Kind>;
  readonly #schema: KindSchema<Kind>;
  /** For each layer. */
  readonly #misspelt: readonly ReadonlySet<PropertyName<Kind>>[];
  readonly #lines = new Map<PropertyName<Kind>, LineOfLayer | undefined>();
  readonly #numbers = new Map<PropertyName<Kind>, Figure | undefined>();
  readonly #estimated = new Map<FigureName<Kind>, Figure | undefined>();
  readonly #usual = new Map<FigureName<Kind>, Figure | undefined>();
  readonly #ranges = new Map<RangeName<Kind>, Range | undefined>();
  readonly #words = new Map<WordName<Kind>, string | undefined>();
  readonly #sizes = new Map<SizeName<Kind>, Size | undefined>();
  readonly #cells = new Map<CellsName<Kind>, Cells | undefined>();
  /** Properties whose estimate is being made: an estimate may not rest on itself. */
  readonly #estimating = new Set<FigureName<Kind>>();

  constructor(block: Block<Kind>) {
    this.kind = block.kind;
    this.name = block.name;
    if (block.title !== undefined) this.title = block.title;
    this.place = block.place;
    this.rails = block.rails;
    this.#block = block;
    this.#schema = schemaOf(block.kind);
    this.#misspelt = block.layers.map((layer) => misspeltIn(layer, this.#schema));
    this.notes = block.layers
      .flatMap((layer) => layer.lines.filter(isNoteNode))
      .map(readNote)
      .filter((note) => note !== undefined);
    this.holes = this.#findHoles();
  }

  figure(property: FigureName<Kind>): Figure | undefined {
    const declared = this.declared(property);
    if (declared || this.holes.has(property)) return declared;
    if (this.#estimated.has(property)) return this.#estimated.get(property);
    if (this.#estimating.has(property)) return undefined;
    this.#estimating.add(property);
    const estimated = this.#estimate(property);
    this.#estimating.delete(property);
    this.#estimated.set(property, estimated);
    return estimated;
  }

  declared(property: FigureName<Kind>): Figure | undefined {
    return this.firstNumber(property);
  }

  firstNumber(property: PropertyName<Kind>): Figure | undefined {
    if (!this.#numbers.has(property)) this.#numbers.set(property, this.#readNumber(property));
    return this.#numbers.get(property);
  }

  usual(property: FigureName<Kind>): Figure | undefined {
    return readOnce(this.#usual, property, () => this.#estimate(property));
  }

  range(property: RangeName<Kind>): Range | undefined {
    return readOnce(this.#ranges, property, () => {
      const { value, schema } = this.#stated(property);
      if (!schema || !isFigureNode(value)) return undefined;
      return readRange(value, boundsOf(schema));
    });
  }

  word(property: WordName<Kind>): string | undefined {
    return readOnce(this.#words, property, () => {
      const { value } = this.#stated(property);
      return isNamedNode(value) ? nameText(value) : undefined;
    });
  }

  day(property: DateName<Kind>): string | undefined {
    const { value } = this.#stated(property);
    return value && readDay(value);
  }

  size(property: SizeName<Kind>): Size | undefined {
    return readOnce(this.#sizes, property, () => this.#readSize(property));
  }

  #readSize(property: SizeName<Kind>): Size | undefined {
    const { value, schema } = this.#stated(property);
    const sides = isFigureNode(value) && schema ? readSides(value, boundsOf(schema)) : undefined;
    if (!value || !sides) return undefined;
    const names = schema?.sides ?? [];
    const named = Object.fromEntries(names.map((name, i) => [name, sides[i] ?? 0]).slice(0, sides.length));
    // Its height written first: the text's own check reports it, and nothing is computed with it.
    if ((named.height ?? 0) > (named.diameter ?? Number.POSITIVE_INFINITY)) return undefined;
    return {
      sides,
      named,
      place: placeOf(value),
    };
  }

  bolts(property: PatternName<Kind>): BoltPattern | undefined {
    const { value, line, schema } = this.#stated(property);
    if (!line || !isFigureNode(value)) return undefined;
    const [thread, ...others] = value.of;
    if (!thread || others.length > 0 || value.times.length > 1 || value.unit !== undefined) return undefined;
    const spacing = conditionOf(line, 'on')?.value;
    const rule = schema?.clauses?.on;
    const sides = isFigureNode(spacing) && rule ? readSides(spacing, boundsOf(rule)) : undefined;
    if (!sides || !isCount(value) || extraOf(value, 'pattern') !== undefined) return undefined;
    return { count: numberOf(value), thread: nameText(thread), sides, place: placeOf(line) };
  }

  cells(property: CellsName<Kind>): Cells | undefined {
    return readOnce(this.#cells, property, () => {
      const { value, schema } = this.#stated(property);
      return schema && isFigureNode(value) ? readCells(value, boundsOf(schema)) : undefined;
    });
  }

  part(property: PartName<Kind>): Part | undefined {
    const { line } = this.#stated(property);
    const node = line && partOfTarget(targetOf(namedOf(line)));
    return node && partOf(node);
  }

  placeOf(property: PropertyName<Kind>): Place | undefined {
    const { line } = this.#stated(property);
    return line && placeOf(line);
  }

  /** The line that counts, its value, and what the vocabulary states of it; nothing when it is unset by `none`. */
  #stated(property: PropertyName<Kind>): { line?: PropertyNode; value?: PropertyNode['value']; schema?: Property } {
    const found = this.#find(property);
    if (!found || isUnset(found.line)) return {};
    const schema = this.#schema.properties[property];
    return { line: found.line, value: found.line.value, ...(schema ? { schema } : {}) };
  }

  #find(property: PropertyName<Kind>): LineOfLayer | undefined {
    if (!this.#lines.has(property)) this.#lines.set(property, this.#search(property));
    return this.#lines.get(property);
  }

  #search(property: PropertyName<Kind>): LineOfLayer | undefined {
    for (const [index, layer] of this.#block.layers.entries()) {
      // The nearest block states it, but not so that it can be read.
      if (this.#misspelt[index]?.has(property)) return undefined;
      const line = layer.properties.get(property);
      if (line) return { line, layer };
    }
    return undefined;
  }

  /** The line's figure; a length of wire without its gauge gets the estimated one. */
  #readNumber(property: PropertyName<Kind>): Figure | undefined {
    const figure = this.#readWritten(property);
    return figure && { ...figure, conditions: this.#estimatedConditions(property, figure.conditions) };
  }

  #readWritten(property: PropertyName<Kind>): Figure | undefined {
    const found = this.#find(property);
    const schema = this.#schema.properties[property];
    if (!found || !schema || isUnset(found.line)) return undefined;
    return readFigure(found.line, schema, this.#identity(property, found.layer), this.#block.usual);
  }

  #estimate(property: FigureName<Kind>): Figure | undefined {
    const schema = this.#schema.properties[property];
    const estimator = estimateOf(this.kind, property);
    if (!estimator || !schema?.dimension) return undefined;
    const printed = { dimension: schema.dimension, unit: schema.unit ?? '' };
    const figure = estimatedFigure(estimator, printed, this.#identity(property), this);
    return figure && { ...figure, conditions: this.#estimatedConditions(property, {}) };
  }

  /** `lead.of`: what comes after a word, when the vocabulary can estimate it. */
  #estimatedConditions(property: PropertyName<Kind>, written: Figure['conditions']): Figure['conditions'] {
    const conditions = { ...written };
    const clauses = this.#schema.properties[property]?.clauses ?? {};
    for (const word of keysOf(clauses)) {
      const rule = clauses[word];
      const estimator = estimateOf(this.kind, `${property}.${word}`);
      if (!estimator || !rule?.dimension || written[word]) continue;
      const printed = { dimension: rule.dimension, unit: rule.unit ?? '' };
      const figure = estimatedFigure(estimator, printed, behindWord(this.#identity(property), word), this);
      if (figure) conditions[word] = figure;
    }
    return conditions;
  }

  #identity(property: PropertyName<Kind>, layer = this.#block.layers[0]): Identity {
    const { kind, name } = this;
    return {
      id: `${layer?.id}.${property}`,
      label: labelOf(property, layer?.label ?? name),
      whose: { sort: 'property', kind, part: layer?.part ?? name, property },
    };
  }

  #findHoles(): Set<PropertyName<Kind>> {
    const holes = new Set(this.#misspelt.flatMap((words) => [...words]).filter((word) => !this.#find(word)));
    for (const schema of Object.values(this.#schema.properties)) {
      const { name } = schema;
      const line = this.#find(name)?.line;
      const hole = line ? !isUnset(line) && !this.#isReadable(schema, line) : !this.#block.complete;
      if (hole) holes.add(name);
    }
    return holes;
  }

  #isReadable(property: ShapedProperty<Kind>, line: PropertyNode): boolean {
    switch (property.shape) {
      case 'word':
        return this.word(property.name) !== undefined;
      case 'date':
        return this.day(property.name) !== undefined;
      case 'part':
        return namedOf(line) !== undefined || isInline(line);
      case 'size':
        return this.size(property.name) !== undefined;
      case 'pattern':
        return this.bolts(property.name) !== undefined;
      case 'cells':
        return this.cells(property.name) !== undefined;
      case 'range':
        return this.range(property.name) !== undefined;
      default:
        // As written: what comes after it may be estimated, from figures of a part that is not read yet.
        return this.#readWritten(property.name) !== undefined;
    }
  }
}

/** Properties that lines with a wrong word or without a colon are likely about. */
function misspeltIn<Name extends string>({ lines }: Layer, schema: BlockSchema<Name>): ReadonlySet<Name> {
  const meant = lines
    .filter((line) => isUnknownNode(line) || (isPropertyNode(line) && !Object.hasOwn(schema.properties, line.key)))
    .map((line) => intendedProperty(line, schema));
  return new Set(meant.filter((property) => property !== undefined));
}

function labelOf(property: PropertyName, owner: string): string {
  return `${propertyInWords(property)} of ${owner}`;
}
