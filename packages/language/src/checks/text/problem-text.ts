/** How the text's own checks word what they found. */
import type { Place } from '../../syntax/place.ts';
import type { Problem, ProblemFix } from '../../syntax/problem.ts';
import type { TextCheck } from './text-check.ts';

/** @param check the finding's own file: what is reported has a page, and a page is removed only with all that reports it */
export function problem(
  { id }: TextCheck,
  message: string,
  place: Place,
  fixes: readonly (ProblemFix | undefined)[] = [],
  related: Problem['related'] = [],
): Problem {
  const known = fixes.filter((fix) => fix !== undefined);
  return {
    id,
    message,
    place,
    ...(known.length > 0 ? { fixes: known } : {}),
    ...(related.length > 0 ? { related } : {}),
  };
}

export function replace(place: Place, newText: string, title = `change to ${newText}`): ProblemFix {
  return { title, edits: [{ place, newText }] };
}

/** The one way to write what was certainly meant: no word and no number becomes another one. */
export const rewrite = (place: Place, newText: string, title?: string): ProblemFix => ({
  ...replace(place, newText, title),
  isCertain: true,
});

/** `a, b or c`, `a, b and c` */
export function listed(words: readonly string[], joiner: 'and' | 'or'): string {
  if (words.length <= 1) return words[0] ?? '';
  return `${words.slice(0, -1).join(', ')} ${joiner} ${words.at(-1)}`;
}

export const either = (words: readonly string[]): string => listed(words, 'or');

/** `a` or `an` before a word. */
export function article(word: string): string {
  return /^[aeiou]/i.test(word) ? 'an' : 'a';
}

export const withArticle = (word: string): string => `${article(word)} ${word}`;

/** The first sentence of a description, to be used inside another one. */
export function described(description: string): string {
  const sentence = description.split(/[.:;] /)[0]?.replace(/[.:;]$/, '') ?? '';
  return sentence.charAt(0).toLowerCase() + sentence.slice(1);
}

/** What a check returns: nothing, one problem, or several. */
export type Found = Problem | undefined | readonly Problem[];

export function flatten(found: readonly Found[]): Problem[] {
  return found.flatMap((one) => one ?? []);
}
