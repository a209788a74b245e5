/** Parts as plain objects, `like` resolved; figures are read on demand. */
import {
  isFigure,
  isNamed,
  isNote,
  isProperty,
  isRail,
  isText,
  isUnknown,
  type Line,
  type Note as NoteNode,
  type Observed,
  type Part as PartNode,
  type Property as PropertyLine,
} from '../grammar/generated/ast.ts';
import { chainOf } from '../syntax/chain.ts';
import { conditionOf, isUnset, nameBehind } from '../syntax/clauses.ts';
import { remember } from '../syntax/memory.ts';
import type { Place } from '../syntax/place.ts';
import { namedOf, nameText, partOfTarget, placeOf, placeOfFeature, targetOf, uriOf } from '../syntax/source.ts';
import { estimateOf } from '../vocabulary/estimators.ts';
import { propertyInWords, schemaOf } from '../vocabulary/properties.ts';
import type { BlockKind, BlockSchema, Origin, Property } from '../vocabulary/schema.ts';
import type { BoltPattern, Cells, Figure, Note, Part, Range, Size } from './build.ts';
import { readDay } from './days.ts';
import { estimatedFigure } from './estimated.ts';
import { behindWord, boundsOf, type Identity, readCells, readFigure } from './figures.ts';
import { isInline } from './inline.ts';
import { intendedProperty } from './intent.ts';
import { readRange, readSides } from './range-values.ts';
import { once } from './read-once.ts';

/** What one block of the chain states; the block's own layer comes first. */
interface Layer {
  /** Begins the ids of the figures declared here. */
  readonly id: string;
  /** The declaring part in words. */
  readonly label: string;
  readonly lines: readonly Line[];
  /** The first line of each property. */
  readonly properties: ReadonlyMap<string, PropertyLine>;
}

function layerOf(id: string, label: string, lines: readonly Line[]): Layer {
  const properties = new Map<string, PropertyLine>();
  for (const line of lines) if (isProperty(line) && !properties.has(line.key)) properties.set(line.key, line);
  return { id, label, lines, properties };
}

interface Found {
  readonly line: PropertyLine;
  readonly layer: Layer;
}

export function partOf(node: PartNode): Part {
  return remember(node, partOf, () => new LayeredPart(blockOfPart(node)));
}

/** An `observed` block: what is in it was measured. */
export function observedPart(node: Observed, id: string): Part {
  const title = node.title ?? 'observed';
  return new LayeredPart({
    kind: 'observed',
    name: title,
    place: placeOfFeature(node, 'title'),
    layers: [layerOf(id, `“${title}”`, node.lines)],
    complete: true,
    usual: 'measured',
    rails: [],
  });
}

/** File and name: two parts of one name in two folders are two parts. */
export function identityOf(node: PartNode): string {
  return `${uriOf(node)}#${node.kind} ${node.name ?? '?'}`;
}

export function readNote(line: NoteNode): Note | undefined {
  if (!line.text) return undefined;
  const occasion = nameBehind(line, 'for');
  return { text: line.text, ...(occasion === undefined ? {} : { occasion }), place: placeOf(line) };
}

interface Block {
  readonly kind: BlockKind;
  readonly name: string;
  readonly title?: string;
  readonly place: Place;
  readonly layers: readonly Layer[];
  /** All ancestors are known. */
  readonly complete: boolean;
  /** Origin of a figure without an origin word. */
  readonly usual: Origin;
  readonly rails: readonly Part[];
}

function blockOfPart(node: PartNode): Block {
  const chain = chainOf(node);
  return {
    kind: node.kind,
    name: node.name ?? '',
    // A base's title names the base.
    ...(node.title === undefined ? {} : { title: node.title }),
    place: node.name === undefined ? placeOfFeature(node, 'kind') : placeOfFeature(node, 'name'),
    layers: chain.parts.map((part) => layerOf(identityOf(part), part.name ?? part.kind, part.lines)),
    complete: !chain.broken,
    usual: node.kind === 'bench' ? 'measured' : 'stated',
    rails: railsOf(chain.parts, !chain.broken),
  };
}

/** Rails of one name are one rail; what the variant states of it comes first. */
function railsOf(chain: readonly PartNode[], complete: boolean): Part[] {
  const layersByName = new Map<string, { place: Place; layers: Layer[] }>();
  for (const part of chain) {
    for (const rail of part.lines.filter(isRail)) {
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

class LayeredPart implements Part {
  readonly kind: BlockKind;
  readonly name: string;
  readonly title?: string;
  readonly place: Place;
  readonly rails: readonly Part[];
  readonly notes: readonly Note[];
  readonly holes: ReadonlySet<string>;
  readonly #block: Block;
  readonly #schema: BlockSchema;
  /** For each layer. */
  readonly #misspelt: readonly ReadonlySet<string>[];
  readonly #lines = new Map<string, Found | undefined>();
  readonly #declared = new Map<string, Figure | undefined>();
  readonly #estimated = new Map<string, Figure | undefined>();
  readonly #usual = new Map<string, Figure | undefined>();
  readonly #ranges = new Map<string, Range | undefined>();
  readonly #words = new Map<string, string | undefined>();
  readonly #sizes = new Map<string, Size | undefined>();
  readonly #cells = new Map<string, Cells | undefined>();
  /** Properties whose estimate is being made: an estimate may not rest on itself. */
  readonly #estimating = new Set<string>();

  constructor(block: Block) {
    this.kind = block.kind;
    this.name = block.name;
    if (block.title !== undefined) this.title = block.title;
    this.place = block.place;
    this.rails = block.rails;
    this.#block = block;
    this.#schema = schemaOf(block.kind);
    this.#misspelt = block.layers.map((layer) => misspeltIn(layer, this.#schema));
    this.notes = block.layers
      .flatMap((layer) => layer.lines.filter(isNote))
      .map(readNote)
      .filter((note) => note !== undefined);
    this.holes = this.#findHoles();
  }

  figure(property: string): Figure | undefined {
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

  declared(property: string): Figure | undefined {
    if (!this.#declared.has(property)) this.#declared.set(property, this.#readDeclared(property));
    return this.#declared.get(property);
  }

  usual(property: string): Figure | undefined {
    return once(this.#usual, property, () => this.#estimate(property));
  }

  range(property: string): Range | undefined {
    return once(this.#ranges, property, () => {
      const { value, schema } = this.#stated(property);
      if (!schema || !isFigure(value)) return undefined;
      return readRange(value, boundsOf(schema));
    });
  }

  word(property: string): string | undefined {
    return once(this.#words, property, () => {
      const { value } = this.#stated(property);
      return isNamed(value) ? nameText(value) : undefined;
    });
  }

  text(property: string): string | undefined {
    const { value } = this.#stated(property);
    return isText(value) ? value.text : undefined;
  }

  day(property: string): string | undefined {
    const { value } = this.#stated(property);
    return value && readDay(value);
  }

  size(property: string): Size | undefined {
    return once(this.#sizes, property, () => this.#readSize(property));
  }

  #readSize(property: string): Size | undefined {
    const { value, schema } = this.#stated(property);
    const sides = isFigure(value) ? readSides(value, schema && boundsOf(schema)) : undefined;
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

  bolts(property: string): BoltPattern | undefined {
    const { value, line } = this.#stated(property);
    if (!line || !isFigure(value) || !value.of[0]) return undefined;
    const spacing = conditionOf(line, 'on')?.value;
    const sides = isFigure(spacing) ? readSides(spacing) : undefined;
    const count = Number(value.number);
    if (!sides || !Number.isInteger(count)) return undefined;
    return { count, thread: nameText(value.of[0]), sides, place: placeOf(line) };
  }

  cells(property: string): Cells | undefined {
    return once(this.#cells, property, () => {
      const { value, schema } = this.#stated(property);
      return schema && isFigure(value) ? readCells(value, boundsOf(schema)) : undefined;
    });
  }

  part(property: string): Part | undefined {
    const { line } = this.#stated(property);
    const node = line && partOfTarget(targetOf(namedOf(line)));
    return node && partOf(node);
  }

  placeOf(property: string): Place | undefined {
    const { line } = this.#stated(property);
    return line && placeOf(line);
  }

  /** The line that counts, its value, and what the vocabulary states of it; nothing when it is unset by `none`. */
  #stated(property: string): { line?: PropertyLine; value?: PropertyLine['value']; schema?: Property } {
    const found = this.#find(property);
    if (!found || isUnset(found.line)) return {};
    const schema = this.#schema.properties[property];
    return { line: found.line, value: found.line.value, ...(schema ? { schema } : {}) };
  }

  #find(property: string): Found | undefined {
    if (!this.#lines.has(property)) this.#lines.set(property, this.#search(property));
    return this.#lines.get(property);
  }

  #search(property: string): Found | undefined {
    for (const [index, layer] of this.#block.layers.entries()) {
      // The nearest block states it, but not so that it can be read.
      if (this.#misspelt[index]?.has(property)) return undefined;
      const line = layer.properties.get(property);
      if (line) return { line, layer };
    }
    return undefined;
  }

  /** The line's figure; a length of wire without its gauge gets the estimated one. */
  #readDeclared(property: string): Figure | undefined {
    const figure = this.#readWritten(property);
    return figure && { ...figure, conditions: this.#estimatedConditions(property, figure.conditions) };
  }

  #readWritten(property: string): Figure | undefined {
    const found = this.#find(property);
    const schema = this.#schema.properties[property];
    if (!found || !schema || isUnset(found.line)) return undefined;
    const identity = { id: `${found.layer.id}.${property}`, label: labelOf(property, found.layer.label) };
    return readFigure(found.line, schema, identity, this.#block.usual);
  }

  #estimate(property: string): Figure | undefined {
    const schema = this.#schema.properties[property];
    const estimator = estimateOf(this.kind, property);
    if (!estimator || !schema?.dimension) return undefined;
    const printed = { dimension: schema.dimension, unit: schema.unit ?? '' };
    const figure = estimatedFigure(estimator, printed, this.#identity(property), this);
    return figure && { ...figure, conditions: this.#estimatedConditions(property, {}) };
  }

  /** `lead.of`: what comes after a word, when the vocabulary can estimate it. */
  #estimatedConditions(property: string, written: Figure['conditions']): Figure['conditions'] {
    const conditions: Record<string, Figure> = { ...written };
    for (const [word, rule] of Object.entries(this.#schema.properties[property]?.clauses ?? {})) {
      const estimator = estimateOf(this.kind, `${property}.${word}`);
      if (!estimator || !rule?.dimension || written[word]) continue;
      const printed = { dimension: rule.dimension, unit: rule.unit ?? '' };
      const figure = estimatedFigure(estimator, printed, behindWord(this.#identity(property), word), this);
      if (figure) conditions[word] = figure;
    }
    return conditions;
  }

  #identity(property: string): Identity {
    const own = this.#block.layers[0];
    return { id: `${own?.id}.${property}`, label: labelOf(property, own?.label ?? this.name) };
  }

  #findHoles(): Set<string> {
    const holes = new Set(this.#misspelt.flatMap((words) => [...words]).filter((word) => !this.#find(word)));
    for (const [name, schema] of Object.entries(this.#schema.properties)) {
      const line = this.#find(name)?.line;
      const hole = line ? !isUnset(line) && !this.#isReadable(name, schema, line) : !this.#block.complete;
      if (hole) holes.add(name);
    }
    return holes;
  }

  #isReadable(name: string, schema: Property, line: PropertyLine): boolean {
    switch (schema.shape) {
      case 'word':
        return this.word(name) !== undefined;
      case 'text':
        return this.text(name) !== undefined;
      case 'date':
        return this.day(name) !== undefined;
      case 'part':
        return namedOf(line) !== undefined || isInline(line);
      case 'size':
        return this.size(name) !== undefined;
      case 'pattern':
        return this.bolts(name) !== undefined;
      case 'cells':
        return this.cells(name) !== undefined;
      case 'range':
        return this.range(name) !== undefined;
      default:
        // As written: what comes after it may be estimated, from figures of a part that is not read yet.
        return this.#readWritten(name) !== undefined;
    }
  }
}

/** Properties that lines with a wrong word or without a colon are likely about. */
function misspeltIn({ lines }: Layer, schema: BlockSchema): ReadonlySet<string> {
  const meant = lines
    .filter((line) => isUnknown(line) || (isProperty(line) && !Object.hasOwn(schema.properties, line.key)))
    .map((line) => intendedProperty(line, schema));
  return new Set(meant.filter((property) => property !== undefined));
}

function labelOf(property: string, owner: string): string {
  return `${propertyInWords(property)} of ${owner}`;
}
