/** A map whose values are made when they are needed; iterating makes all of them. */
export class OnDemand<K, V> implements ReadonlyMap<K, V> {
  readonly #names: readonly K[];
  readonly #make: (name: K) => V | undefined;
  readonly #note: ((name: K) => void) | undefined;
  #made: ReadonlyMap<K, V> | undefined;

  /**
   * @param make remembers what it made; undefined for what the map does not have
   * @param note learns of each name that is read, before it is
   */
  constructor(names: readonly K[], make: (name: K) => V | undefined, note?: (name: K) => void) {
    this.#names = names;
    this.#make = make;
    this.#note = note;
  }

  /** The same, with each name that is read reported first. */
  watched(note: (name: K) => void): OnDemand<K, V> {
    return new OnDemand(this.#names, this.#make, note);
  }

  get(name: K): V | undefined {
    this.#note?.(name);
    return this.#make(name);
  }

  has(name: K): boolean {
    return this.get(name) !== undefined;
  }

  get size(): number {
    return this.#all().size;
  }

  forEach(action: (value: V, key: K, map: ReadonlyMap<K, V>) => void): void {
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

  #all(): ReadonlyMap<K, V> {
    if (this.#note) this.#names.forEach(this.#note);
    this.#made ??= new Map(
      this.#names.flatMap((name) => {
        const value = this.#make(name);
        return value === undefined ? [] : [[name, value] as const];
      }),
    );
    return this.#made;
  }
}
