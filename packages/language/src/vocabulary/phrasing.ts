/** How words become a piece of a sentence. */

/** For the beginning of a sentence. */
export const upperFirst = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);

/** A sentence that continues another one. */
export const lowerFirst = (sentence: string): string => sentence.charAt(0).toLowerCase() + sentence.slice(1);

/** `1 line`, `3 lines` */
export const plural = (count: number, noun: string): string => (count === 1 ? `1 ${noun}` : `${count} ${noun}s`);

/** `a` or `an` before a word. */
export const article = (word: string): string => (/^[aeiou]/i.test(word) ? 'an' : 'a');

export const withArticle = (word: string): string => `${article(word)} ${word}`;

/** `a`, `a and b`, `a, b and c`. No `Intl.ListFormat`: what it puts between depends on the language data of the runtime. */
export const listed = (words: readonly string[], joiner: 'and' | 'or' = 'and'): string =>
  words.length < 2 ? words.join() : `${words.slice(0, -1).join(', ')} ${joiner} ${words.at(-1)}`;

/** `a, b or c` */
export const either = (words: readonly string[]): string => listed(words, 'or');

/** `; did you mean a or b?`, behind what is wrong; nothing where nothing is near. */
export const didYouMean = (near: readonly string[]): string =>
  near.length > 0 ? `; did you mean ${either(near)}?` : '';

/** The first `most` words and how many are left out: `a, b and 3 more`; `a, b` where none is. */
export function firstFew(words: readonly string[], most: number): string {
  const left = words.length - most;
  return `${words.slice(0, most).join(', ')}${left > 0 ? ` and ${left} more` : ''}`;
}
