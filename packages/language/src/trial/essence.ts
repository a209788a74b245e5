/**
 * All that a build is computed from, as text: without places, and with numbers in place of the ids of figures, so that two builds of one
 * essence have the same results. Figures of one id are one error: which of them are the same counts, not how they are called.
 */
import { ascending } from 'd3-array';
import type { PartNode } from '../grammar/generated/ast.ts';
import { readBench } from '../model/bench-rows.ts';
import type { Acceptance, Bench, Build, Figure, Flight, FlightLog, LoadUse, PackOption, Part } from '../model/build.ts';
import { isInlinePart, partKey } from '../model/identities.ts';
import { legsOf, type WrittenLeg } from '../model/leg-lines.ts';
import { readShortlist } from '../model/shortlists.ts';
import { isFigureProperty, type ShapedProperty, schemaOf } from '../vocabulary/properties.ts';

type KeysOf<T> = T extends T ? keyof T : never;

/** Where something is written, and what it is called by people. */
const ASIDE: ReadonlySet<string> = new Set<
  KeysOf<Acceptance | Bench | Build | Figure | Flight | FlightLog | LoadUse | PackOption>
>([
  'place',
  'fromPlace',
  'dutyPlace',
  'rowPlaces',
  'wholeLine',
  'uri',
  'blocks',
  'isMadeOf',
  'label',
  'whose',
  'because',
  'title',
  'recording',
]);

const IDENTITIES: ReadonlySet<string> = new Set(['id', 'craft']);

export function essenceOf(build: Build): string {
  return new Essence().of(build);
}

/** Of a flight, a test stand or a shortlist; undefined of anything else. */
export function essenceOfDecision(node: PartNode): string | undefined {
  if (node.kind === 'flight') return new Essence().ofAny(legsOf(node).map(({ leg }) => leg && withReleased(leg)));
  if (node.kind === 'bench') {
    const { part, columns, rows } = readBench(node);
    return new Essence().ofAny({ part, columns, rows });
  }
  if (node.kind !== 'shortlist') return undefined;
  const { build, vary, requirements, prefer } = readShortlist(node);
  return new Essence().ofAny({
    build: build?.name,
    // Each line tries something else: their order is one of reading.
    vary: vary.map(({ varied }) => JSON.stringify(varied, (key, value) => (key === 'node' ? undefined : value))).sort(),
    requirements,
    prefer: prefer.map(({ name }) => name),
  });
}

const withReleased = ({ release, ...leg }: WrittenLeg) => ({
  ...leg,
  released: release && `${release.count} ${release.part.name}`,
});

class Essence {
  readonly #numbers = new Map<unknown, number>();
  readonly #lines: string[] = [];
  readonly #builds = new Set<Build>();

  of(build: Build): string {
    this.#build('', build);
    for (const [index, { build: other, isBase }] of build.kin().entries()) {
      this.#lines.push(`kin ${index} ${isBase}`);
      this.#build(`kin ${index}`, other);
    }
    return this.#lines.join('\n');
  }

  ofAny(value: unknown): string {
    this.#write('', value);
    return this.#lines.join('\n');
  }

  #build(path: string, build: Build): void {
    if (this.#builds.has(build)) {
      this.#lines.push(`${path} again ${this.#numberOf(build)}`);
      return;
    }
    this.#builds.add(build);
    this.#numberOf(build);
    for (const [key, value] of Object.entries(build)) {
      // Each pack is judged alone: their order is one of reading.
      if (key === 'packs') {
        for (const option of build.packs.toSorted((one, other) => ascending(one.name, other.name)))
          this.#write(`${path}.pack ${option.name}`, option);
      } else if (key === 'weighed') {
        if (build.weighed) this.#build(`${path}.weighed`, build.weighed);
      } else if (key !== 'kin') this.#write(`${path}.${key}`, value, key);
    }
  }

  #numberOf(one: unknown): number {
    const number = this.#numbers.get(one) ?? this.#numbers.size;
    this.#numbers.set(one, number);
    return number;
  }

  #write(path: string, value: unknown, key = ''): void {
    if (ASIDE.has(key) || value === undefined) return;
    if (IDENTITIES.has(key)) this.#lines.push(`${path} ${this.#numberOf(value)}`);
    else if (typeof value === 'function') this.#lines.push(`${path} is computed`);
    else if (value instanceof Set) this.#lines.push(`${path} ${[...value].sort().join()}`);
    else if (Array.isArray(value)) for (const [index, one] of value.entries()) this.#write(`${path} ${index}`, one);
    else if (isPart(value)) this.#part(path, value);
    else if (typeof value === 'object' && value !== null)
      for (const [name, one] of Object.entries(value)) {
        if (name === 'id' && isExact(value)) continue;
        this.#write(`${path}.${name}`, one, name);
      }
    else this.#lines.push(`${path} ${String(value)}`);
  }

  /** Every property, as whoever computes may read it. */
  #part(path: string, part: Part): void {
    const key = partKey(part);
    const isKnown = this.#numbers.has(key);
    const own = `part ${this.#numberOf(key)}`;
    this.#lines.push(`${path} ${own}`);
    if (isKnown) return;
    this.#lines.push(`${own} ${part.kind} ${part.name} ${isInlinePart(part)}`);
    for (const property of Object.values(schemaOf(part.kind).properties)) {
      const path = `${own}.${property.name}`;
      if (isFigureProperty(property)) {
        this.#write(path, part.figure(property.name));
        this.#write(`${path} stated`, part.declared(property.name) !== undefined);
      } else {
        this.#write(path, readBy(part, property));
        this.#write(`${path} number`, part.firstNumber(property.name));
      }
    }
    this.#write(`${own}.rails`, part.rails);
    this.#write(`${own}.notes`, part.notes);
    this.#write(`${own}.holes`, part.holes);
  }
}

const isPart = (value: unknown): value is Part =>
  typeof value === 'object' && value !== null && 'figure' in value && 'declared' in value;

/** It has no error that another one could be. */
const isExact = (value: object): boolean =>
  'standardUncertainty' in value && value.standardUncertainty === 0 && !('estimate' in value && value.estimate);

/** Of a property that is no figure. */
function readBy(part: Part, property: ShapedProperty): unknown {
  switch (property.shape) {
    case 'range':
      return part.range(property.name);
    case 'word':
      return part.word(property.name);
    case 'date':
      return part.day(property.name);
    case 'size':
      return part.size(property.name);
    case 'pattern':
      return part.bolts(property.name);
    case 'cells':
      return part.cells(property.name);
    case 'part':
      return part.part(property.name) ?? part.word(property.name);
    default:
      return undefined;
  }
}
