/** How the text's own checks word what they found. */
import type { Place } from '../../syntax/place.ts';
import type { Problem, ProblemFix } from '../../syntax/problem.ts';
import type { TextId } from '../../vocabulary/findings.ts';
import { lowerFirst } from '../../vocabulary/phrasing.ts';

export function problem(
  id: TextId,
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

/** The first sentence of a description, to be used inside another one. */
export function described(description: string): string {
  return lowerFirst(description.split(/[.:;] /)[0]?.replace(/[.:;]$/, '') ?? '');
}

/** What a check returns: nothing, one problem, or several. */
export type AnyProblems = Problem | undefined | readonly Problem[];

export function flatten(found: readonly AnyProblems[]): Problem[] {
  return found.flatMap((one) => one ?? []);
}
