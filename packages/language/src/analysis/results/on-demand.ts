/** A map whose values are made when they are needed; iterating makes all of them. */
export class OnDemand<V> implements ReadonlyMap<string, V> {
  readonly #names: readonly string[];
  readonly #make: (name: string) => V | undefined;

  /** @param make remembers what it made; undefined for what the map does not have */
  constructor(names: readonly string[], make: (name: string) => V | undefined) {
    this.#names = names;
    this.#make = make;
  }

  /** The same, with each name that is read reported first. */
  watched(note: (name: string) => void): OnDemand<V> {
    return new OnDemand(this.#names, (name) => {
      note(name);
      return this.#make(name);
    });
  }

  get(name: string): V | undefined {
    return this.#make(name);
  }

  has(name: string): boolean {
    return this.#make(name) !== undefined;
  }

  get size(): number {
    return this.#all().size;
  }

  forEach(action: (value: V, key: string, map: ReadonlyMap<string, V>) => void): void {
    this.#all().forEach(action);
  }

  entries() {
    return this.#all().entries();
  }

  keys() {
    return this.#all().keys();
  }

  values() {
    return this.#all().values();
  }

  [Symbol.iterator]() {
    return this.entries();
  }

  #all(): ReadonlyMap<string, V> {
    return new Map(
      this.#names.flatMap((name) => {
        const value = this.#make(name);
        return value === undefined ? [] : [[name, value] as const];
      }),
    );
  }
}
