/** Parts that are like themselves in the end, or like too many others in a row; rails that feed one another. */
import type { LangiumDocument } from 'langium';
import type { File, PartNode } from '../../grammar/generated/ast.ts';
import type { FeedLoop } from '../../model/feeds.ts';
import { MOST_BASES } from '../../syntax/chain.ts';
import { fileOf, namePlace, partNamed } from '../../syntax/nodes.ts';
import { isWithin, type Place } from '../../syntax/place.ts';
import type { Problem } from '../../syntax/problem.ts';
import { placeOf, placeOfFeature } from '../../syntax/source.ts';
import { problem } from './problem-words.ts';
import type { TextCheck } from './text-check.ts';

export const LIKE_CYCLE: TextCheck = {
  id: 'like-cycle',
  severity: 'error',
  findInNames: likeProblems,
  page: {
    title: 'Parts inherit from each other in a circle, or in too long a chain',
    cause:
      'A part that is `like` another inherits from it; in a circle there is no first one, and a chain of more than 32 cannot be followed by a reader.',
    criterion: 'Read from the text alone.',
    standing: 'The language.',
    remedy:
      'Break the circle: let one of them inherit from none. Shorten the chain: let parts be like one of its first.',
    fixes: [],
    fails: `item Hen like Egg { }
item Egg like Hen { }`,
    passes: `item Hen { mass: 2 g }
item Egg like Hen { }`,
  },
};

function likeProblems(document: LangiumDocument): Problem[] {
  const file = fileOf(document);
  return [...circles(file), ...file.parts.flatMap((part) => likeTooMany(part) ?? [])];
}

/** Those within a block; rails of a board that feed one another are the board's own problem. */
export const feedLoops = (loops: readonly FeedLoop[], block: PartNode): Problem[] =>
  loops
    .filter(({ place }) => isWithin(place, placeOf(block)))
    .map(({ names, place }) =>
      problem('like-cycle', `${names.join(' feeds ')} feeds ${names[0]}: nothing feeds them all`, place),
    );

/** Each way is walked once, however many parts lead into it. */
function circles({ parts }: File): Problem[] {
  const seen = new Set<PartNode>();
  return parts.flatMap((part) => {
    const way = new Set<PartNode>();
    let next: PartNode | undefined = part;
    for (; next && !seen.has(next); next = partNamed(next.base)) {
      seen.add(next);
      way.add(next);
    }
    if (!next || !way.has(next)) return [];
    const walked = [...way];
    return circleProblem(walked.slice(walked.indexOf(next)), parts) ?? [];
  });
}

/** Members of a circle that are named. */
const MOST_MEMBERS = 8;

/** One finding for a circle, at the part that comes first in it. */
function circleProblem(members: readonly PartNode[], own: readonly PartNode[]): Problem | undefined {
  const first = members.reduce((left, right) => (isBefore(namePlace(right), namePlace(left)) ? right : left));
  if (!own.includes(first)) return undefined;
  const start = members.indexOf(first);
  const circle = [...members.slice(start), ...members.slice(0, start)];
  const names = circle.map((member) => member.name ?? member.kind);
  const others = [...names.slice(1), names[0]];
  const shown = others.length > MOST_MEMBERS ? [...others.slice(0, MOST_MEMBERS - 1), '…', names[0]] : others;
  const way = shown.map((name) => `is like ${name}`).join(', which ');
  const related = circle
    .slice(1, MOST_MEMBERS + 1)
    .map((member) => ({ message: `${member.name} is part of the circle`, place: namePlace(member) }));
  const description = `${names[0]} ${way}: none of them declares its own figures`;
  return problem('like-cycle', description, placeOfFeature(first, 'base'), [], related);
}

/** Reported where the chain gets too long, not once more at each part behind it. */
function likeTooMany(part: PartNode): Problem | undefined {
  let bases = 0;
  for (let next = partNamed(part.base); next && bases <= MOST_BASES + 1; next = partNamed(next.base)) bases += 1;
  if (bases !== MOST_BASES + 1) return undefined;
  const description = `${part.name ?? part.kind} is like more than ${MOST_BASES} others in a row: its inheritance is not followed that far, and nothing that depends on it is judged. Let it be like one of the first of them`;
  return problem('like-cycle', description, placeOfFeature(part, 'base'));
}

function isBefore(left: Place, right: Place): boolean {
  return left.uri === right.uri ? left.start < right.start : left.uri < right.uri;
}
