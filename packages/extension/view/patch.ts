/** What of a shown sheet stays, so that nothing else flickers. */

export interface Section {
  readonly id: string;
  readonly html: string;
}

export interface Patch {
  /** Sections to take out. */
  readonly gone: readonly string[];
  /** Sections to fill, for the first time or anew. */
  readonly filled: readonly Section[];
  /** Every section in its place. */
  readonly order: readonly string[];
}

/** @param shown by id what is there now */
export function patchOf(shown: ReadonlyMap<string, string>, wanted: readonly Section[]): Patch {
  const order = wanted.map(({ id }) => id);
  return {
    gone: [...shown.keys()].filter((id) => !order.includes(id)),
    filled: wanted.filter(({ id, html }) => shown.get(id) !== html),
    order,
  };
}
