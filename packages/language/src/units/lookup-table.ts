/** A table that is looked into with words from a file: without a prototype, so that `constructor` is no entry of it. */
export const lookup = <T extends object>(entries: T): T => Object.assign(Object.create(null), entries);
