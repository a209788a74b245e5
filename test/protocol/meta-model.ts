/** Checks messages against the protocol's own meta-model. */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const FILE = fileURLToPath(new URL('../reference/schemas/lsp-3.18-meta-model.json', import.meta.url));

type Type =
  | { kind: 'base' | 'reference'; name: string }
  | { kind: 'array'; element: Type }
  | { kind: 'or' | 'and' | 'tuple'; items: Type[] }
  | { kind: 'map'; key: Type; value: Type }
  | { kind: 'literal'; value: { properties: Property[] } }
  | { kind: 'stringLiteral' | 'integerLiteral' | 'booleanLiteral'; value: unknown };

interface Property {
  name: string;
  type: Type;
  optional?: boolean;
}

interface Structure {
  name: string;
  properties: Property[];
  extends?: Type[];
  mixins?: Type[];
}

interface Model {
  requests: { method: string; result: Type }[];
  notifications: { method: string; params?: Type }[];
  structures: Structure[];
  enumerations: { name: string; values: { value: unknown }[]; supportsCustomValues?: boolean }[];
  typeAliases: { name: string; type: Type }[];
}

export class MetaModel {
  readonly #model: Model;
  readonly #structures: Map<string, Structure>;

  private constructor(model: Model) {
    this.#model = model;
    this.#structures = new Map(model.structures.map((structure) => [structure.name, structure]));
  }

  static load(): MetaModel {
    return new MetaModel(JSON.parse(readFileSync(FILE, 'utf8')));
  }

  /** What is wrong with the answer to a request; nothing when it is as the protocol wants it. */
  problemsOfResult(method: string, result: unknown): string[] {
    const request = this.#model.requests.find((candidate) => candidate.method === method);
    return request === undefined ? [`no request ${method}`] : this.#check(result, request.result, method);
  }

  problemsOfNotification(method: string, params: unknown): string[] {
    const notification = this.#model.notifications.find((candidate) => candidate.method === method);
    return notification?.params === undefined ? [`no ${method}`] : this.#check(params, notification.params, method);
  }

  #check(value: unknown, type: Type, path: string): string[] {
    switch (type.kind) {
      case 'base':
        return isBase(value, type.name) ? [] : [`${path}: ${JSON.stringify(value)} is no ${type.name}`];
      case 'reference':
        return this.#checkNamed(value, type.name, path);
      case 'array':
        return Array.isArray(value)
          ? value.flatMap((element, index) => this.#check(element, type.element, `${path}[${index}]`))
          : [`${path}: no array`];
      case 'or': {
        const attempts = type.items.map((item) => this.#check(value, item, path));
        return attempts.toSorted((left, right) => left.length - right.length)[0] ?? [];
      }
      case 'and':
        return type.items.flatMap((item) => this.#check(value, item, path));
      case 'tuple':
        return Array.isArray(value) && value.length === type.items.length
          ? type.items.flatMap((item, index) => this.#check(value[index], item, `${path}[${index}]`))
          : [`${path}: no tuple of ${type.items.length}`];
      case 'map':
        return isObject(value)
          ? Object.entries(value).flatMap(([key, own]) => this.#check(own, type.value, `${path}.${key}`))
          : [`${path}: no map`];
      case 'literal':
        return this.#checkProperties(value, type.value.properties, path);
      default:
        return value === type.value ? [] : [`${path}: ${JSON.stringify(value)} is not ${JSON.stringify(type.value)}`];
    }
  }

  #checkNamed(value: unknown, name: string, path: string): string[] {
    if (name === 'LSPAny' || name === 'LSPObject') return [];
    const enumeration = this.#model.enumerations.find((candidate) => candidate.name === name);
    if (enumeration !== undefined) {
      const known = enumeration.supportsCustomValues || enumeration.values.some((entry) => entry.value === value);
      return known ? [] : [`${path}: ${JSON.stringify(value)} is no ${name}`];
    }
    const alias = this.#model.typeAliases.find((candidate) => candidate.name === name);
    if (alias !== undefined) return this.#check(value, alias.type, path);
    return this.#checkProperties(value, this.#propertiesOf(name), path);
  }

  #propertiesOf(name: string): Property[] {
    const structure = this.#structures.get(name);
    const parents = [...(structure?.extends ?? []), ...(structure?.mixins ?? [])];
    const inherited = parents.flatMap((parent) => ('name' in parent ? this.#propertiesOf(parent.name) : []));
    return [...inherited, ...(structure?.properties ?? [])];
  }

  #checkProperties(value: unknown, properties: readonly Property[], path: string): string[] {
    if (!isObject(value)) return [`${path}: ${JSON.stringify(value)} is no object`];
    // A property that is declared again by a structure replaces the inherited one.
    const byName = new Map(properties.map((property) => [property.name, property]));
    const unknown = Object.keys(value).filter((key) => !byName.has(key));
    return [
      ...unknown.map((key) => `${path}: the protocol has no ${key} here`),
      ...[...byName.values()].flatMap(({ name, type, optional }) => {
        const own = value[name];
        return own === undefined
          ? optional
            ? []
            : [`${path}: ${name} is missing`]
          : this.#check(own, type, `${path}.${name}`);
      }),
    ];
  }
}

function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function isBase(value: unknown, name: string): boolean {
  switch (name) {
    case 'null':
      return value === null;
    case 'boolean':
      return typeof value === 'boolean';
    case 'integer':
      return Number.isInteger(value);
    case 'uinteger':
      return Number.isInteger(value) && (value as number) >= 0;
    case 'decimal':
      return typeof value === 'number' && Number.isFinite(value);
    case 'DocumentUri':
    case 'URI':
      return typeof value === 'string' && URL.canParse(value);
    default:
      return typeof value === 'string';
  }
}
