export const COMPARISON_SIGNS: ReadonlySet<string> = new Set(['<', '<=', '>', '>=']);

/** With the one that is no comparison of the language, and is understood as one. */
export const COMPARING_SIGNS: ReadonlySet<string> = new Set([...COMPARISON_SIGNS, '=']);
