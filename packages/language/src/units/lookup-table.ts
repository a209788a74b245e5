/** The keys of a table that has no others than its type states. */
export const keysOf = <Key extends string>(table: Readonly<Partial<Record<Key, unknown>>>): Key[] =>
  Object.keys(table) as Key[];

/** A table that is looked into with words from a file: without a prototype, so that `constructor` is no entry of it. */
export const lookup = <T extends object>(entries: T): T => Object.assign(Object.create(null), entries);

/** The members of a value that came from elsewhere, of which nothing is known; none of what is no object. */
export const membersOf = (value: unknown): Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : {};
